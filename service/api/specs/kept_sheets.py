"""The sheets that can be named by id: those that came with the service, one's own and those of catalogues, found as one.

A sheet of a catalogue is named 'copperbeck-press/halyard-card', in one word, so that whatever takes the id of a sheet takes it.
"""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, Literal

from service.api.catalogues.found import find_sheet
from service.api.http.blueprint import parts
from service.api.http.callers.access import owner
from service.api.http.problems import OnPage, Problem
from service.language.spoken import say, translated
from service.language.wording import listed_or, quoted
from service.rules.catalogue import RULES
from service.sheets import catalogue
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import digest, digest_of_document, sheet_to_document
from service.sheets.model import SpecSheet
from service.sheets.revisions import OwnSheet
from service.sheets.searching import found
from service.store.catalogues.rows import CatalogueSheetRow
from service.store.models import SheetRevisionRow

Origin = Literal["stored", "own", "catalogue"]


@dataclass(frozen=True)
class Kept:
    """One revision of a sheet, whoever it is from."""

    origin: Origin
    own: OwnSheet
    taken_from: str | None = None
    """The sheet that one of a catalogue was made of."""

    @property
    def digest(self) -> str:
        return self.own.digest

    @property
    def extends(self) -> str | None:
        return self.own.extends if self.origin == "own" else self.taken_from

    def document(self) -> dict[str, Any]:
        """Complete; one's own to be sent again as it is."""
        return self.own.document() if self.origin == "own" else dict(self.own.complete)


@cache
def kept_stored(spec_id: str) -> Kept:
    """Stored sheets never change while the service runs."""
    written, sheet = catalogue.base_document(spec_id), catalogue.find(spec_id)
    assert written is not None, "only stored sheets are asked for"
    assert sheet is not None, "only stored sheets are asked for"
    return Kept("stored", OwnSheet(written, sheet_to_document(sheet), digest(sheet)))


def read_stored_sheets() -> None:
    """So that whoever first asks for one, or for a list, need not wait until all are read."""
    for spec_id in catalogue.stored_sheets():
        kept_stored(spec_id)


def kept_own(row: SheetRevisionRow) -> Kept:
    return Kept("own", OwnSheet(json.loads(row.sent), json.loads(row.complete), row.digest))


def kept_of_catalogue(row: CatalogueSheetRow) -> Kept:
    complete = json.loads(row.complete)
    return Kept("catalogue", OwnSheet(complete, complete, row.digest), row.taken_from)


def find_kept(spec_id: str, revision: int | None = None) -> Kept:
    """The newest revision, or the one that is asked for, of a deleted sheet too. Raises `Problem`."""
    if "/" in spec_id:
        return kept_of_catalogue(find_sheet(spec_id, revision))
    stored = catalogue.find(spec_id)
    if stored is not None:
        if revision not in (None, stored.revision):
            says = say(
                "The sheet '{id}' has the revision {has}, not {revision}.",
                id=str(stored.id), has=str(stored.revision), revision=str(revision),
            )
            raise Problem("spec-not-found", says)
        return kept_stored(spec_id)
    return kept_own(find_own(spec_id, revision))


def find_own(spec_id: str, revision: int | None = None) -> SheetRevisionRow:
    """Raises `Problem`, as for what exists and is nobody's own."""
    head = parts().sheets.head(owner(), spec_id)
    if head is None:
        missing = say("There is no sheet '{id}'.", id=spec_id[:100])
        on_page = OnPage(detail=f"{missing} {_nearest_titles(spec_id)}".rstrip())
        raise Problem("spec-not-found", f"{missing} {nearest_ids(spec_id)}", on_page=on_page)
    if revision is None and head.deleted_at is not None:
        raise Problem(
            "spec-deleted",
            say(
                "The sheet '{id}' was deleted on {date}. Its last revision is {query}.",
                id=spec_id, date=f"{head.deleted_at:%Y-%m-%d}", query=f"?revision={head.revision}",
            ),
        )
    row = parts().sheets.revision(owner(), spec_id, head.revision if revision is None else revision)
    if row is None:
        newest = say(
            "The sheet '{id}' has no revision {revision}; its newest is {newest}.",
            id=spec_id, revision=str(revision), newest=str(head.revision),
        )
        raise Problem("spec-not-found", newest)
    return row


def sheet_at_revision(name: str) -> SpecSheet:
    """The sheet that a check names: 'id' for its newest revision, 'id@3' for the third. Raises `Problem`."""
    spec_id, at, number = name.partition("@")
    if at and not (number.isascii() and number.isdecimal() and len(number) < 10):
        says = say("After '@' stands the number of a revision, as in {example}.", example=f"{spec_id[:60]}@3")
        raise Problem("spec-not-found", says)
    kept = find_kept(spec_id, int(number) if at else None)
    return sheet_of(kept.own.complete)


def sheet_of(complete: Mapping[str, Any]) -> SpecSheet:
    """Raises `Problem` where a sheet of one's own was written under a format that this version no longer takes."""
    try:
        return _read(json.dumps(complete))
    except SheetRefused as refused:
        detail = say(
            "The sheet '{id}' is not one that this version can judge by: {reason} Send it anew with PUT.",
            id=str(complete.get("id")), reason=str(refused),
        )
        raise Problem("invalid-sheet", detail, errors=refused.errors) from refused


@lru_cache(maxsize=4096)
def _read(text: str) -> SpecSheet:
    return read_sheet(json.loads(text), known_rules=RULES)


def written(sheet: SpecSheet) -> tuple[str, str]:
    """Its JSON and its digest. What checks name by id is the same object each time (`sheet_of`), and is written once."""
    known = _WRITTEN.get(id(sheet))
    if known and known[0] is sheet:
        return known[1:]
    document = sheet_to_document(sheet)
    text, its_digest = json.dumps(document), digest_of_document(document)
    if len(text) <= _LONGEST_REMEMBERED:
        if len(_WRITTEN) >= _MOST_REMEMBERED:
            _WRITTEN.clear()
        _WRITTEN[id(sheet)] = sheet, text, its_digest
    return text, its_digest


_WRITTEN: dict[int, tuple[SpecSheet, str, str]] = {}
_MOST_REMEMBERED, _LONGEST_REMEMBERED = 64, 20_000
"""Sheets, and characters of each; a stored one has 1,000 to 5,000. Ours, no source."""


def nearest_ids(spec_id: str) -> str:
    near = _nearest(spec_id)
    return say("Do you mean {ids}?", ids=listed_or(near)) if near else say("GET /v1/specs lists them.")


def _nearest_titles(spec_id: str) -> str:
    """For a person, who reads names and no ids; empty where none is near."""
    stored = [catalogue.find(one) for one in _nearest(spec_id)]
    titles = dict.fromkeys(quoted(translated(sheet.title)) for sheet in stored if sheet and sheet.title)
    return say("Do you mean {ids}?", ids=listed_or(titles)) if titles else ""


def _nearest(spec_id: str) -> list[str]:
    own = [row.sheet_id for row in parts().sheets.all_newest(owner())]
    return [*difflib.get_close_matches(spec_id.lower()[:100], own, n=2), *catalogue.suggest(spec_id)][:3]


# --- All of them ------------------------------------------------------------------------------------------------------


def every_sheet() -> Iterator[tuple[Origin, SpecSheet]]:
    """Stored and own ones to judge or match by; an own one that this version cannot read is passed over."""
    yield from (("stored", sheet) for sheet in catalogue.stored_sheets().values())
    for row in parts().sheets.all_newest(owner()):
        try:
            yield "own", sheet_of(json.loads(row.complete))
        except Problem:
            continue


def listed(filters: Mapping[str, Any]) -> list[dict[str, Any]]:
    """In short, by id: all that fit the filters `product`, `region`, `purpose`, `q`, `trim` and `origin`."""
    stored = (kept_stored(spec_id) for spec_id in catalogue.stored_sheets())
    own = (kept_own(row) for row in parts().sheets.all_newest(owner()))
    origin = filters.get("origin")
    kept = [one for one in (*stored, *own) if origin in (None, one.origin)]
    plain = {key: value for key, value in filters.items() if key != "origin" and value is not None}
    if plain:
        fitting = {str(one["id"]) for one in found((one.own.complete for one in kept), **plain)}
        kept = [one for one in kept if str(one.own.complete["id"]) in fitting]
    return sorted(map(in_short, kept), key=lambda one: str(one["id"]))


def address_of(spec_id: str) -> str:
    catalogue_id, slash, sheet_id = spec_id.partition("/")
    return f"/v1/catalogues/{catalogue_id}/sheets/{sheet_id}" if slash else f"/v1/specs/{spec_id}"


def in_short(kept: Kept) -> dict[str, Any]:
    return _stored_in_short(str(kept.own.complete["id"])) if kept.origin == "stored" else _in_short(kept)


@cache
def _stored_in_short(spec_id: str) -> dict[str, Any]:
    return _in_short(kept_stored(spec_id))


def _in_short(kept: Kept) -> dict[str, Any]:
    sheet = kept.own.complete
    return {
        "id": sheet["id"],
        "revision": sheet.get("revision"),
        "title": sheet.get("title"),
        "product": sheet.get("product"),
        "regions": list(sheet.get("regions", ())),
        "purpose": sheet.get("purpose", "print"),
        "summary": sheet.get("summary"),
        "origin": kept.origin,
        "extends": kept.extends,
        "digest": kept.digest,
        "links": {"self": address_of(str(sheet["id"]))},
    }
