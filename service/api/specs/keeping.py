"""One's own sheets kept, as a new one or as the next revision: by the interface and by the form alike."""

from __future__ import annotations

import json

from service.api.http.blueprint import parts
from service.api.http.callers.access import owner_and_hand, sheets_allowed
from service.api.http.problems import Problem
from service.api.specs.addresses import PAGES, RESERVED_IDS
from service.api.specs.kept_sheets import Kept, find_own, kept_own
from service.api.specs.sheet_bodies import changed, refused_problem
from service.jobs.checking import now
from service.language.spoken import say
from service.rules.catalogue import RULES
from service.sheets import catalogue
from service.sheets.format.refusals import SheetRefused
from service.sheets.revisions import read_own
from service.store.models import SheetRevisionRow
from service.store.sheets import SheetChanged, SheetsFull, SheetTaken, Write, Written


def keep_new(document: object) -> SheetRevisionRow:
    """Under the id that it names. Raises `Problem`."""
    spec_id = str(document.get("id", "")) if isinstance(document, dict) else ""
    if spec_id in catalogue.base_ids() or catalogue.find(spec_id) or spec_id in (*RESERVED_IDS, *PAGES):
        detail = say("The id '{id}' belongs to the service itself. Choose another for your own sheet.", id=spec_id)
        raise Problem("spec-stored", detail, errors=[("/id", detail)])
    try:
        return parts().sheets.create(owner_and_hand(), spec_id, now(), _write(document, None), sheets_allowed())
    except SheetTaken as taken:
        detail = say("There is a sheet '{id}' already. Change that one, or choose another id.", id=spec_id)
        raise Problem("spec-exists", detail, errors=[("/id", detail)]) from taken
    except SheetsFull as full:
        raise _full() from full


def keep_next(kept: Kept, document: object) -> SheetRevisionRow:
    """The revision after the one that its writer has read. Raises `Problem`."""
    spec_id = str(kept.own.complete["id"])
    try:
        return parts().sheets.replace(owner_and_hand(), spec_id, revision_number(kept), now(), _write(document, spec_id))
    except SheetChanged as error:
        raise changed(changeable(spec_id)) from error
    except SheetsFull as full:
        raise _full() from full


def changeable(spec_id: str) -> Kept:
    """The newest revision of a sheet that may be written. Raises `Problem`."""
    if catalogue.find(spec_id):
        says = say("The sheet '{id}' came with the service. Make your own with '{line}'.", id=spec_id, line=f"extends: {spec_id}")
        raise Problem("spec-stored", says)
    return kept_own(find_own(spec_id))


def revision_number(kept: Kept) -> int:
    return int(kept.own.complete["revision"])


def _full() -> Problem:
    return Problem("too-many-sheets", say("This service keeps no more sheets, or no more revisions of this one. Delete some."))


def _write(document: object, spec_id: str | None) -> Write:
    def write(number: int) -> Written:
        try:
            own = read_own(document, sheet_id=spec_id, revision=number, known_rules=RULES)
        except SheetRefused as refused:
            raise refused_problem(refused) from refused
        return Written(json.dumps(own.sent), json.dumps(own.complete), own.digest)

    return write
