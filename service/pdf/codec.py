"""Measurements, and the question that led to them, as JSON text and back, exactly (`service.pdf.exact_records`).

An unknown value is `{"unmeasured": reason}`, `{"beyond_limits": reason}` or `{"not_asked": reason}`. This is the form in which
measurements are stored and passed between processes, not the form of the answers. Whoever changes a record raises
`service.store.checks.STORED_AS`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin

import cattrs

from service.language.sentence_codec import sentence_from_data, sentence_to_data
from service.language.sentences import Sentence
from service.pdf.exact_records import Read, data_of, exact_converter, from_data, read_literal, text_of, to_text
from service.pdf.facts.document import Document, Profile
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.parts import DocumentPart, PagePart
from service.pdf.facts.unknown import BeyondLimits, Failure, FailureKind, NotAsked, Unmeasured
from service.pdf.question import Question


def measurements_to_json(measurements: Measurements) -> str:
    return to_text(_CONVERTER, measurements)


def measurements_from_json(text: str) -> Measurements:
    """Raises RecordRefused where the text is not the JSON of measurements."""
    return from_data(_CONVERTER, data_of(text), Measurements)


def pages_apart(text: str) -> list[str] | Unmeasured:
    """Each page of the JSON of measurements as a text of its own, unread (`page_from_json`). Raises RecordRefused."""
    data = data_of(text)
    pages = data.get("pages") if type(data) is dict else None
    if type(pages) is list:
        return [text_of(page) for page in pages]
    found = from_data(_CONVERTER, data, Measurements).pages
    assert isinstance(found, Unmeasured), "pages are a list"
    return found


@dataclass(frozen=True)
class WrittenPage:
    """A page as it was read, and the text that it was read from: whoever keeps the page need not write it again."""

    part: PagePart
    text: str


@dataclass(frozen=True)
class _Beside:
    """What a part says beside its page."""

    slips: tuple[Sentence, ...]
    profiles: tuple[Profile, ...] | Unmeasured


_BETWEEN = "\t"
"""Between a page and what stands beside it: no JSON of ours has a tab."""


def part_to_text(part: DocumentPart | PagePart) -> str:
    """One line."""
    if isinstance(part, DocumentPart):
        return to_text(_CONVERTER, part)
    return page_to_json(part) + _BETWEEN + to_text(_CONVERTER, _Beside(part.slips, part.profiles))


def page_to_json(part: PagePart) -> str:
    return to_text(_CONVERTER, part.page)


def page_from_json(text: str) -> Page:
    """Raises RecordRefused."""
    return from_data(_CONVERTER, data_of(text), Page)


def document_to_json(document: Document) -> str:
    return to_text(_CONVERTER, document)


def document_from_json(text: str) -> Document:
    """Raises RecordRefused."""
    return from_data(_CONVERTER, data_of(text), Document)


def put_together_in_json(document: Document, pages: Iterable[str]) -> str:
    """The JSON of measurements: of pages that are written already, in order."""
    return f'{{"document":{document_to_json(document)},"pages":[{",".join(pages)}]}}'


def document_part_from_text(text: str) -> DocumentPart:
    """Raises RecordRefused."""
    return from_data(_CONVERTER, data_of(text), DocumentPart)


def page_from_text(text: str) -> WrittenPage:
    """Raises RecordRefused."""
    written, _, rest = text.partition(_BETWEEN)
    page = page_from_json(written)
    beside = from_data(_CONVERTER, data_of(rest), _Beside)
    return WrittenPage(PagePart(page, beside.slips, beside.profiles), written)


def question_to_json(question: Question) -> str:
    return to_text(_CONVERTER, question)


def question_from_json(text: str) -> Question:
    """Raises RecordRefused."""
    return from_data(_CONVERTER, data_of(text), Question)


def _named(name: str, why: Unmeasured) -> dict[str, Any]:
    return {name: sentence_to_data(why)}


def _failure(value: Any, _: Any) -> Failure:
    if type(value) is not dict or value.keys() != {"kind", "why"}:
        raise ValueError("a failure is missing")
    why = sentence_from_data(value["why"])
    return Failure(_FAILURE_KIND(value["kind"], FailureKind), why.text, why.values)


_UNKNOWN = {"unmeasured": Unmeasured, "beyond_limits": BeyondLimits, "not_asked": NotAsked}
_FAILURE_KIND = read_literal(FailureKind)


def _may_be_unmeasured(kind: Any) -> bool:
    return get_origin(kind) in (Union, UnionType) and Unmeasured in get_args(kind)


def _read_known(kind: Any, converter: cattrs.BaseConverter) -> Read:
    """`X | Unmeasured` and `X | Unmeasured | None`: one real type among them."""
    parts = get_args(kind)
    (real,) = (one for one in parts if one not in (NoneType, Unmeasured))
    read_real = converter.get_structure_hook(real)

    def read(value: Any, _: Any) -> Any:
        if value is None and NoneType in parts:
            return None
        if type(value) is dict and len(value) == 1:
            for name, unknown in _UNKNOWN.items():
                if name in value:
                    why = sentence_from_data(value[name])
                    return unknown(why.text, why.values)
        return read_real(value, real)

    return read


def _converter() -> cattrs.Converter:
    converter = exact_converter()
    converter.register_structure_hook(Failure, _failure)
    converter.register_structure_hook_factory(_may_be_unmeasured, _read_known)
    for name, unknown in _UNKNOWN.items():
        converter.register_unstructure_hook(unknown, partial(_named, name))
    converter.register_unstructure_hook(Failure, lambda one: {"kind": one.kind, "why": sentence_to_data(one.reason)})
    return converter


_CONVERTER = _converter()
