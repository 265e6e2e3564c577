"""The reading of a published spec, as answers carry it: over HTTP and from the command line."""

from __future__ import annotations

from typing import Any

from service.sheets.format.writing import document_to_yaml
from service.sheets.prose.reading import Reading


def reading_answer(reading: Reading) -> dict[str, Any]:
    return {
        "draft": dict(reading.draft),
        "draft_yaml": document_to_yaml(reading.draft) if reading.draft else "",
        "values": [
            {
                "pointer": "/" + one.path.replace(".", "/"),
                "value": list(one.value) if isinstance(one.value, tuple) else one.value,
                "quote": one.quote,
                "start": one.start,
                "end": one.end,
            }
            for one in reading.values
        ],
        "not_understood": [{"quote": one.quote, "start": one.start, "end": one.end} for one in reading.not_understood],
        "questions": [
            {"about": one.about, "question": one.question, "quote": one.quote, "start": one.start, "end": one.end}
            for one in reading.questions
        ],
        "text": reading.text,
    }
