"""Catalogues in the database: revisions are counted and kept, and nothing of one owner's is found by another."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine

from service.store.accounts.audit import By
from service.store.catalogues.catalogues import (
    CatalogueChanged,
    Catalogues,
    CataloguesFull,
    CatalogueTaken,
    RevisionWritten,
    SheetWritten,
)
from tests.store.rows import NOON

HALYARD, COPPERBECK = "halyard-lane", "copperbeck"
OURS, THEIRS = By(HALYARD, "key 1"), By(COPPERBECK, "key 2")


@pytest.fixture
def catalogues(database: Engine) -> Catalogues:
    return Catalogues(database)


def cards(number: int) -> RevisionWritten:
    sheets = [SheetWritten(name, None, "{}", f'{{"revision": {number}}}', f"{number}") for name in ("card", "flyer")]
    return RevisionWritten("Cards", "{}", str(number), sheets)


def test_revisions_keep_their_own_sheets(catalogues: Catalogues) -> None:
    first = catalogues.create(OURS, "press", NOON, cards, 5)
    second = catalogues.replace(OURS, "press", 1, NOON, cards)
    found = [catalogues.sheet(one, "card") for one in (first, second)]
    assert [one.complete for one in found if one] == ['{"revision": 1}', '{"revision": 2}']
    assert [one for one, _ in catalogues.found_by(second)] == ["card", "flyer"]
    assert [one.sheet_id for one in catalogues.sheets(second, ["flyer", "none", "card"])] == ["flyer", "card"]
    assert [row.revision for row in catalogues.revisions(HALYARD, "press")] == [2, 1]
    with pytest.raises(CatalogueChanged):
        catalogues.replace(OURS, "press", 1, NOON, cards)
    with pytest.raises(CatalogueTaken):
        catalogues.create(OURS, "press", NOON, cards, 5)


def test_nothing_of_one_owner_is_found_by_another(catalogues: Catalogues) -> None:
    mine = catalogues.create(OURS, "press", NOON, cards, 5)
    assert catalogues.head(COPPERBECK, "press") is None
    assert catalogues.revision(COPPERBECK, "press", 1) is None
    assert (catalogues.all_newest(COPPERBECK), catalogues.revisions(COPPERBECK, "press")) == ([], [])
    with pytest.raises(CatalogueChanged):
        catalogues.delete(THEIRS, "press", 1, NOON)
    theirs = catalogues.create(THEIRS, "press", NOON, cards, 5)
    catalogues.delete(THEIRS, "press", 1, NOON)
    assert [row.owner for row in catalogues.all_newest(HALYARD)] == [HALYARD]
    assert {row.owner for row in catalogues.sheets(mine, ["card"])} == {HALYARD}
    assert {row.owner for row in catalogues.sheets(theirs, ["card"])} == {COPPERBECK}


def test_an_owner_keeps_as_many_as_are_allowed(catalogues: Catalogues) -> None:
    catalogues.create(OURS, "one", NOON, cards, 1)
    with pytest.raises(CataloguesFull):
        catalogues.create(OURS, "two", NOON, cards, 1)
    catalogues.create(THEIRS, "two", NOON, cards, 1)
    catalogues.delete(OURS, "one", 1, NOON)
    assert catalogues.create(OURS, "one", NOON, cards, 1).revision == 2, "its revisions go on"
