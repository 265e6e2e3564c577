"""A catalogue kept, as a new one or as the next revision."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from service.api.catalogues.found import find_catalogue
from service.api.checks.requests import in_short
from service.api.http.blueprint import parts
from service.api.http.callers.access import owner_and_hand, sheets_allowed
from service.api.http.problems import Problem
from service.api.specs.kept_sheets import find_kept
from service.jobs.checking import now
from service.language.spoken import say
from service.rules.catalogue import RULES
from service.sheets.format.refusals import SheetRefused
from service.sheets.printers.document import Entry, LaidSheet, read_catalogue
from service.sheets.printers.looking import found_by
from service.store.catalogues.catalogues import (
    CatalogueChanged,
    CataloguesFull,
    CatalogueTaken,
    RevisionWritten,
    SheetWritten,
    Write,
)
from service.store.catalogues.rows import CatalogueRevisionRow


def keep_new(document: object) -> CatalogueRevisionRow:
    """Under the id that it names. Raises `Problem`."""
    named = document.get("id") if isinstance(document, Mapping) else None
    catalogue_id = named if isinstance(named, str) else ""
    try:
        return parts().catalogues.create(owner_and_hand(), catalogue_id, now(), _write(document, None), sheets_allowed())
    except CatalogueTaken as taken:
        detail = say("There is a catalogue '{id}' already. Change that one, or choose another id.", id=catalogue_id)
        raise Problem("catalogue-exists", detail, errors=[("/id", detail)]) from taken
    except CataloguesFull as full:
        raise _full() from full


def keep_next(read: CatalogueRevisionRow, document: object) -> CatalogueRevisionRow:
    """The revision after the one that its writer has read. Raises `Problem`."""
    write = _write(document, read.catalogue_id)
    try:
        return parts().catalogues.replace(owner_and_hand(), read.catalogue_id, read.revision, now(), write)
    except CatalogueChanged as error:
        raise changed(find_catalogue(read.catalogue_id)) from error
    except CataloguesFull as full:
        raise _full() from full


def delete(read: CatalogueRevisionRow) -> None:
    """Raises `Problem`."""
    try:
        parts().catalogues.delete(owner_and_hand(), read.catalogue_id, read.revision, now())
    except CatalogueChanged as error:
        raise changed(find_catalogue(read.catalogue_id)) from error


def changed(newest: CatalogueRevisionRow) -> Problem:
    says = say(
        "The catalogue '{id}' now has the revision {revision}, not the one that you read.",
        id=newest.catalogue_id, revision=str(newest.revision),
    )
    return Problem("catalogue-changed", says)


def refused_problem(refused: SheetRefused) -> Problem:
    return Problem("invalid-catalogue", in_short(refused.errors), errors=refused.errors)


def document_of_own(entry: Entry) -> Mapping[str, Any] | None:
    """What a sheet that only this service has was written as; None: it came with the service. Raises `Problem`."""
    kept = find_kept(entry.sheet_id, entry.revision)
    return kept.own.sent if kept.origin == "own" else None


def _full() -> Problem:
    detail = say("This service keeps no more catalogues, or no more sheets and revisions of them. Delete some.")
    return Problem("too-many-sheets", detail)


def _write(document: object, catalogue_id: str | None) -> Write:
    def write(number: int) -> RevisionWritten:
        try:
            written = read_catalogue(document, _named, catalogue_id=catalogue_id, revision=number, known_rules=RULES)
        except SheetRefused as refused:
            raise refused_problem(refused) from refused
        sent = json.dumps(written.sent)
        digest = hashlib.sha256("".join([sent, *(one.digest for one in written.sheets)]).encode()).hexdigest()
        return RevisionWritten(str(written.sent["title"]), sent, digest, [_row(one) for one in written.sheets])

    return write


def _row(laid: LaidSheet) -> SheetWritten:
    facts, complete = json.dumps(found_by(laid.complete)), json.dumps(laid.complete)
    return SheetWritten(laid.sheet_id, laid.taken_from, facts, complete, laid.digest)


def _named(sheet_id: str, revision: int | None) -> tuple[Mapping[str, Any], str]:
    """Raises `SheetRefused`."""
    try:
        kept = find_kept(sheet_id, revision)
    except Problem as problem:
        raise SheetRefused([("", problem.detail)]) from problem
    complete = kept.own.complete
    return complete, str(complete["id"]) if kept.origin == "stored" else f"{complete['id']}@{complete['revision']}"
