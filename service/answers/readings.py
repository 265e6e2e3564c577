"""The reading of a published spec, as answers carry it: over HTTP and from the command line."""

from __future__ import annotations

from typing import Any

from service.sheets.format.writing import document_to_yaml
from service.sheets.prose.drafts import Draft, Passage, Reading, ReadValue


def reading_answer(reading: Reading) -> dict[str, Any]:
    """`draft`, `draft_yaml` and `values` are those of the first of `drafts`: what the text says of everything."""
    drafts = [_draft(one) for one in reading.drafts]
    first = drafts[0]
    return {
        "draft": first["draft"],
        "draft_yaml": first["draft_yaml"],
        "values": first["values"],
        "drafts": drafts,
        "not_understood": [_words(one) for one in reading.not_understood],
        "questions": [
            {
                "about": one.about, "question": one.question, "quote": one.quote, "start": one.start, "end": one.end,
                "value": _in_json(one.value),
            }
            for one in reading.questions
        ],
        "asks_nothing": [_words(one) for one in reading.asks_nothing],
        "text": reading.text,
    }


def _draft(one: Draft) -> dict[str, Any]:
    return {
        "product": one.product,
        "draft": dict(one.document),
        "draft_yaml": document_to_yaml(one.document) if one.document else "",
        "values": [_value(value) for value in one.values],
        "own": [_pointer(path) for path in one.own],
    }


def _value(one: ReadValue) -> dict[str, Any]:
    return {"pointer": _pointer(one.path), "value": _in_json(one.value), "quote": one.quote, "start": one.start, "end": one.end}


def _in_json(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def _pointer(path: str) -> str:
    """The name of a rule has a dot of its own."""
    block, _, rule = path.partition(".")
    return f"/{block}/{rule}" if block == "levels" and rule else "/" + path.replace(".", "/")


def _words(one: Passage) -> dict[str, Any]:
    return {"quote": one.quote, "start": one.start, "end": one.end}
