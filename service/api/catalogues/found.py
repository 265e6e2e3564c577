"""A catalogue and its sheets, found for whoever calls."""

from __future__ import annotations

import difflib

from service.api.http.blueprint import parts
from service.api.http.callers.access import owner
from service.api.http.problems import Problem
from service.language.spoken import say
from service.language.wording import listed_or
from service.store.catalogues.rows import CatalogueRevisionRow, CatalogueRow, CatalogueSheetRow


def whose() -> str:
    """The account whose catalogues the caller sees; that of nobody where he has none, who has no catalogues either."""
    return owner() or ""


def find_catalogue(catalogue_id: str, revision: int | None = None) -> CatalogueRevisionRow:
    """The newest revision, or the one that is asked for, of a deleted catalogue too. Raises `Problem`."""
    head = find_head(catalogue_id)
    if revision is None and head.deleted_at is not None:
        says = say(
            "The catalogue '{id}' was deleted on {date}. Its last revision is {query}.",
            id=catalogue_id, date=f"{head.deleted_at:%Y-%m-%d}", query=f"?revision={head.revision}",
        )
        raise Problem("catalogue-deleted", says)
    row = parts().catalogues.revision(whose(), catalogue_id, head.revision if revision is None else revision)
    if row is None:
        says = say(
            "The catalogue '{id}' has no revision {revision}; its newest is {newest}.",
            id=catalogue_id, revision=str(revision), newest=str(head.revision),
        )
        raise Problem("catalogue-not-found", says)
    return row


def find_head(catalogue_id: str) -> CatalogueRow:
    """Raises `Problem`."""
    head = parts().catalogues.head(whose(), catalogue_id)
    if head is None:
        missing = say("There is no catalogue '{id}'.", id=catalogue_id[:100])
        near = _near(catalogue_id, [row.catalogue_id for row in parts().catalogues.all_newest(whose())])
        raise Problem("catalogue-not-found", f"{missing} {near or say('GET /v1/catalogues lists them.')}")
    return head


def find_sheet(named: str, revision: int | None = None) -> CatalogueSheetRow:
    """'copperbeck-press/halyard-card', at a revision of the catalogue. Raises `Problem`."""
    catalogue_id, _, sheet_id = named.partition("/")
    catalogue = find_catalogue(catalogue_id, revision)
    row = parts().catalogues.sheet(catalogue, sheet_id)
    if row is None:
        missing = say("The catalogue '{catalogue}' has no sheet '{id}'.", catalogue=catalogue_id, id=sheet_id[:100])
        near = _near(sheet_id, [one for one, _ in parts().catalogues.found_by(catalogue)])
        raise Problem("spec-not-found", f"{missing} {near}".strip())
    return row


def _near(name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name.lower()[:100], known, n=3)
    return say("Do you mean {ids}?", ids=listed_or(near)) if near else ""
