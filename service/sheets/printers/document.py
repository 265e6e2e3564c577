"""The catalogue of one printer as it is written, and the sheets that it stands for.

    id: copperbeck-press
    title: Copperbeck Press
    defaults: {bleed: {minimum: 5 mm}, color: {ink_limit: 280 %}}
    sheets:
      - business-card-85x55              # a sheet that can be named by its id, at its newest revision
      - halyard-card@2                   # or at an older one
      - {id: wide-flyer, title: …}       # a sheet of the catalogue's own

* `defaults` are laid over every sheet as a sheet is over what it extends; null takes a key out where a sheet has it.
* All of it is laid together once, when the catalogue is written: a sheet that changes later changes nothing that was agreed
  before, and one revision of a catalogue always asks the same.
* A sheet of a catalogue has the id 'copperbeck-press/halyard-card' and the catalogue's revision.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from service.language.first_words import begun_after_colon
from service.language.spoken import say
from service.sheets.catalogue import laid_over_its_base
from service.sheets.extending import NEVER_INHERITED, laid_over_all
from service.sheets.format.refusals import Path, SheetRefused, nearest, refusal
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import digest_of_document, sheet_to_document

KEYS = ("id", "revision", "title", "defaults", "sheets")
MOST_SHEETS = 10_000
LONGEST_ID = 64
_LONGEST_TITLE = 200
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_NOT_SHARED = (*NEVER_INHERITED, "title", "product", "summary")
"""What every sheet says for itself."""
_MOST_MISTAKES = 100

Named = Callable[[str, int | None], tuple[Mapping[str, Any], str]]
"""A sheet that can be named by its id, at a revision or its newest one: complete, and as 'id' or 'id@revision' where it is
from. Raises `SheetRefused`.
"""


@dataclass(frozen=True)
class Entry:
    """A sheet of a catalogue."""

    sheet_id: str
    revision: int | None = None
    """The one that is named; None: the newest."""
    document: Mapping[str, Any] | None = None
    """Of a sheet of the catalogue's own, as it was sent."""


@dataclass(frozen=True)
class LaidSheet:
    """One sheet as it judges."""

    sheet_id: str
    """Within the catalogue."""
    taken_from: str | None
    """'business-card-85x55', 'halyard-card@2'; None: the catalogue's own."""
    complete: Mapping[str, Any]
    digest: str


@dataclass(frozen=True)
class WrittenCatalogue:
    """One revision."""

    sent: Mapping[str, Any]
    """`id` and `revision` as they were settled."""
    sheets: tuple[LaidSheet, ...]


def read_catalogue(
    document: object, named: Named, *, catalogue_id: str | None, revision: int, known_rules: Collection[str] | None = None
) -> WrittenCatalogue:
    """A revision to be kept. `catalogue_id`: what the address says; None where the document has to say it.

    Raises `SheetRefused` with the mistakes of all its sheets.
    """
    if not isinstance(document, Mapping):
        raise refusal([((), say("must be a block of keys such as id, title and sheets."))])
    mistakes = list(_mistakes(document, catalogue_id))
    if mistakes:
        raise refusal(mistakes)
    defaults = document.get("defaults") or {}
    sent = {
        "id": document.get("id", catalogue_id),
        "revision": revision,
        "title": document["title"],
        "defaults": defaults,
        "sheets": list(document["sheets"]),
    }
    laid: list[LaidSheet] = []
    errors: list[tuple[str, str]] = []
    for index, entry in enumerate(entries(document)):
        try:
            complete, taken_from = _whole(entry, named)
            laid.append(_laid(sent["id"], revision, entry.sheet_id, complete, taken_from, defaults, known_rules))
        except SheetRefused as refused:
            errors += [(f"/sheets/{index}{place}", _of_sheet(entry.sheet_id, says)) for place, says in refused.errors]
            if len(errors) >= _MOST_MISTAKES:
                break
    if errors:
        raise SheetRefused(errors[:_MOST_MISTAKES])
    return WrittenCatalogue(sent, tuple(laid))


def entries(document: Mapping[str, Any]) -> Iterator[Entry]:
    """Of a document that was looked over."""
    for one in document["sheets"]:
        if isinstance(one, str):
            sheet_id, _, number = one.partition("@")
            yield Entry(sheet_id, int(number) if number else None)
        else:
            yield Entry(one["id"], document=one)


def with_all_sheets(sent: Mapping[str, Any], own: Callable[[Entry], Mapping[str, Any] | None]) -> dict[str, Any]:
    """The catalogue as one file for elsewhere: `own` gives the document of a sheet that only this service has."""
    sheets = [entry.document or own(entry) or text for text, entry in zip(sent["sheets"], entries(sent), strict=True)]
    return {**sent, "sheets": sheets}


def _whole(entry: Entry, named: Named) -> tuple[Mapping[str, Any], str | None]:
    if entry.document is None:
        return named(entry.sheet_id, entry.revision)
    complete = laid_over_its_base({**entry.document, "revision": 1})
    assert isinstance(complete, Mapping), "a block of keys stays one"
    return complete, None


def _laid(
    catalogue_id: str,
    revision: int,
    sheet_id: str,
    complete: Mapping[str, Any],
    taken_from: str | None,
    defaults: Mapping[str, Any],
    known_rules: Collection[str] | None,
) -> LaidSheet:
    identity = {"id": f"{catalogue_id}/{sheet_id}", "revision": revision}
    document = {**laid_over_all(complete, defaults), **identity}
    document.pop("aliases", None)
    written = sheet_to_document(read_sheet(document, stored=True, known_rules=known_rules))
    return LaidSheet(sheet_id, taken_from, written, digest_of_document(written))


def _of_sheet(sheet_id: str, says: str) -> str:
    return say("Sheet '{id}': {mistake}", id=sheet_id, mistake=begun_after_colon(says))


# --- What is wrong with the catalogue itself --------------------------------------------------------------------------


def _mistakes(document: Mapping[Any, Any], catalogue_id: str | None) -> Iterator[tuple[Path, str]]:
    for key in document:
        if key not in KEYS:
            near = nearest(str(key), KEYS)
            if near:
                yield (str(key)[:100],), say("is not a key of a catalogue; did you mean '{near}'?", near=near)
            else:
                yield (str(key)[:100],), say("is not a key of a catalogue: those are id, title, defaults and sheets.")
    yield from _identity(document, catalogue_id)
    yield from _of_defaults(document.get("defaults"))
    sheets = document.get("sheets")
    if not isinstance(sheets, Sequence) or isinstance(sheets, str) or not sheets:
        yield ("sheets",), say("must be a list of sheets: ids such as business-card-85x55, or whole sheets.")
    elif len(sheets) > MOST_SHEETS:
        yield ("sheets",), say("has more than {most} sheets: make several catalogues of it.", most=MOST_SHEETS)
    else:
        yield from _of_sheets(sheets)


def _identity(document: Mapping[Any, Any], catalogue_id: str | None) -> Iterator[tuple[Path, str]]:
    named = document.get("id", catalogue_id)
    if named is None:
        yield ("id",), say("is missing: a catalogue needs it.")
    elif not _is_name(named):
        yield ("id",), _no_name()
    elif catalogue_id is not None and named != catalogue_id:
        yield ("id",), say("must be '{id}', as in the address, or be left out.", id=catalogue_id)
    title = document.get("title")
    if not isinstance(title, str) or not title.strip() or len(title) > _LONGEST_TITLE:
        says = say("must be the printer's name or that of the catalogue, {most} characters at most.", most=_LONGEST_TITLE)
        yield ("title",), says


def _of_defaults(defaults: object) -> Iterator[tuple[Path, str]]:
    if defaults is None:
        return
    if not isinstance(defaults, Mapping):
        yield ("defaults",), say("must be a block of keys such as bleed or color.")
        return
    for key in defaults:
        if key in _NOT_SHARED:
            yield ("defaults", key), say("is what each sheet says for itself: leave it out here.")


def _of_sheets(sheets: Sequence[object]) -> Iterator[tuple[Path, str]]:
    seen: set[str] = set()
    for index, one in enumerate(sheets):
        place = ("sheets", index)
        named: object = one.partition("@")[0] if isinstance(one, str) else one.get("id") if isinstance(one, Mapping) else None
        if not isinstance(one, str | Mapping):
            yield place, say("must be the id of a sheet, such as business-card-85x55, or a whole sheet.")
        elif not _is_name(named):
            yield (place if isinstance(one, str) else (*place, "id")), _no_name()
        elif isinstance(one, str) and not _is_revision(one):
            yield place, say("has after '@' something that is no number of a revision, as in {example}.", example=f"{named}@3")
        elif str(named) in seen:
            yield place, say("is a sheet '{id}' once more: keep one of them.", id=str(named))
        seen.add(str(named))


def _is_revision(text: str) -> bool:
    _, at, number = text.partition("@")
    return not at or (number.isascii() and number.isdecimal() and len(number) < 10)


def _is_name(text: object) -> bool:
    return isinstance(text, str) and len(text) <= LONGEST_ID and bool(_NAME.fullmatch(text))


def _no_name() -> str:
    return say("must be lowercase words and digits joined by dashes, {most} characters at most.", most=LONGEST_ID)
