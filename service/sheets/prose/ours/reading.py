"""Lines that this service wrote, read back: a text of at least three of them is taken at its word, every other is not ours."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.prose.drafts import Draft, OpenQuestion, Passage, Reading, ReadValue
from service.sheets.prose.ours.lines import put, read_line
from service.sheets.prose.ours.places import Place

LEAST_LINES = 3
"""Of those that name a block and a key of it; nobody writes as many by chance."""
_MAYBE = re.compile(r"[^:\n]{2,80} – [^:\n]{2,200}[:\u00a0\u202f ]+\S")


@dataclass(frozen=True)
class _Line:
    passage: Passage
    place: Place = ()
    value: Any = None


def read_ours(text: str) -> Reading | None:
    """None: the text is none of ours."""
    lines = list(_passages(text))
    maybe = [one for one in lines if " – " in one.quote and _MAYBE.search(one.quote)]
    if len(maybe) < LEAST_LINES or sum(1 for one in maybe if len(_read(one).place) > 1) < LEAST_LINES:
        return None
    read = [_read(one) for one in lines]
    document, taken, left = _document(read)
    refused = _refused(document)
    if refused:
        wrong = dict(refused)
        kept = [one for one in taken if _wrong(one, wrong) is None]
        questions = [_question(one, says) for one in taken if (says := _wrong(one, wrong)) is not None]
        document, taken, more = _document(kept)
        if _refused(document):
            return None
        left = [*left, *more]
    else:
        questions = []
    values = tuple(ReadValue(_path(one.place), one.value, *_words(one)) for one in taken)
    return Reading(
        text, (Draft(None, document, values, ()),), not_understood=tuple(one.passage for one in left), questions=tuple(questions)
    )


def _passages(text: str) -> Iterator[Passage]:
    for found in re.finditer(r"\S[^\r\n]*", text):
        quote = found[0].rstrip()
        yield Passage(quote, found.start(), found.start() + len(quote))


def _read(passage: Passage) -> _Line:
    found = read_line(passage.quote)
    return _Line(passage, *found) if found else _Line(passage)


def _document(lines: Sequence[_Line]) -> tuple[dict[str, Any], list[_Line], list[_Line]]:
    """The document, the lines that it is made of, and those that say nothing, or once more or otherwise what was said."""
    document: dict[str, Any] = {}
    taken: list[_Line] = []
    left: list[_Line] = []
    for one in lines:
        (taken if one.place and put(document, one.place, one.value) else left).append(one)
    return document, taken, left


def _refused(document: dict[str, Any]) -> Sequence[tuple[str, str]]:
    try:
        read_sheet(document)
    except SheetRefused as refused:
        return refused.errors
    return ()


def _wrong(line: _Line, wrong: dict[str, str]) -> str | None:
    pointer = "".join(f"/{one}" for one in line.place)
    return next((says for place, says in wrong.items() if place and (pointer + "/").startswith(place + "/")), None)


def _question(line: _Line, says: str) -> OpenQuestion:
    return OpenQuestion(_path(line.place), says, *_words(line))


def _words(line: _Line) -> tuple[str, int, int]:
    return line.passage.quote, line.passage.start, line.passage.end


def _path(place: Place) -> str:
    """A rule's name has a dot of its own: its level is told as one of the block."""
    return "levels" if place[0] == "levels" else ".".join(map(str, place))
