"""One's own sheets in the database: revisions are counted, kept, and replaced by nobody who has not seen the newest."""

from __future__ import annotations

from threading import Barrier, Thread

import pytest
from sqlalchemy import Engine

from service.store.accounts.audit import By
from service.store.sheets import SheetChanged, Sheets, SheetTaken, Written
from tests.patience import PATIENCE_SECONDS, ended
from tests.store.rows import NOON

BAKERY = By("bakery", "key 1f2e3d4c")


@pytest.fixture
def sheets(database: Engine) -> Sheets:
    return Sheets(database)


def card(number: int) -> Written:
    return Written(sent="{}", complete=f'{{"revision": {number}}}', digest=f"{number}")


def test_revisions_are_counted_and_stay(sheets: Sheets) -> None:
    assert sheets.create(BAKERY, "card", NOON, card, 200).revision == 1
    assert sheets.replace(BAKERY, "card", 1, NOON, card).revision == 2
    assert [row.revision for row in sheets.revisions("bakery", "card")] == [2, 1]
    first, newest = sheets.revision("bakery", "card", 1), sheets.newest("bakery", "card")
    assert first is not None
    assert newest is not None
    assert (first.complete, newest.complete) == ('{"revision": 1}', '{"revision": 2}')


def test_an_id_belongs_to_one_sheet(sheets: Sheets) -> None:
    sheets.create(BAKERY, "card", NOON, card, 200)
    with pytest.raises(SheetTaken):
        sheets.create(BAKERY, "card", NOON, card, 200)


def test_an_older_revision_is_not_replaced_or_deleted(sheets: Sheets) -> None:
    sheets.create(BAKERY, "card", NOON, card, 200)
    sheets.replace(BAKERY, "card", 1, NOON, card)
    with pytest.raises(SheetChanged):
        sheets.replace(BAKERY, "card", 1, NOON, card)
    with pytest.raises(SheetChanged):
        sheets.delete(BAKERY, "card", 1, NOON)
    with pytest.raises(SheetChanged):
        sheets.replace(BAKERY, "other", 1, NOON, card)


def test_a_deleted_sheet_keeps_its_revisions_and_its_count(sheets: Sheets) -> None:
    sheets.create(BAKERY, "card", NOON, card, 200)
    sheets.delete(BAKERY, "card", 1, NOON)
    head = sheets.head("bakery", "card")
    assert head is not None
    assert head.deleted_at == NOON
    assert (sheets.newest("bakery", "card"), sheets.all_newest("bakery")) == (None, [])
    assert sheets.revision("bakery", "card", 1) is not None
    with pytest.raises(SheetChanged):
        sheets.delete(BAKERY, "card", 1, NOON)
    assert sheets.create(BAKERY, "card", NOON, card, 200).revision == 2


def test_what_cannot_be_written_is_not_kept(sheets: Sheets) -> None:
    def refuses(number: int) -> Written:
        raise ValueError(number)

    with pytest.raises(ValueError, match="1"):
        sheets.create(BAKERY, "card", NOON, refuses, 200)
    assert sheets.head("bakery", "card") is None
    sheets.create(BAKERY, "card", NOON, card, 200)
    with pytest.raises(ValueError, match="2"):
        sheets.replace(BAKERY, "card", 1, NOON, refuses)
    assert [row.revision for row in sheets.revisions("bakery", "card")] == [1]


def test_of_many_who_replace_the_same_revision_one_does(sheets: Sheets) -> None:
    sheets.create(BAKERY, "card", NOON, card, 200)
    together = Barrier(6)
    done: list[int | None] = []

    def replace() -> None:
        together.wait(PATIENCE_SECONDS)
        try:
            done.append(sheets.replace(BAKERY, "card", 1, NOON, card).revision)
        except SheetChanged:
            done.append(None)

    threads = [Thread(target=replace) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        ended(thread)
    assert sorted(done, key=str) == [2, None, None, None, None, None]


def test_of_many_who_create_the_same_sheet_one_does(sheets: Sheets) -> None:
    together = Barrier(6)
    done: list[int | None] = []

    def create() -> None:
        together.wait(PATIENCE_SECONDS)
        try:
            done.append(sheets.create(BAKERY, "card", NOON, card, 200).revision)
        except SheetTaken:
            done.append(None)

    threads = [Thread(target=create) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        ended(thread)
    assert sorted(done, key=str) == [1, None, None, None, None, None]


def test_the_newest_of_all_come_by_id(sheets: Sheets) -> None:
    for sheet_id in ("b", "a", "c"):
        sheets.create(BAKERY, sheet_id, NOON, card, 200)
    sheets.replace(BAKERY, "b", 1, NOON, card)
    sheets.delete(BAKERY, "c", 1, NOON)
    assert [(row.sheet_id, row.revision) for row in sheets.all_newest("bakery")] == [("a", 1), ("b", 2)]
