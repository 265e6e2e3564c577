"""The latest measurements are kept as records, as many as there is room for."""

from __future__ import annotations

from service.jobs.again.recent import RecentlyMeasured
from tests.rules.measured import document, page

CARD, FLYER, BOOK = document(page()), document(page(210, 297)), document(page(), page())


def test_the_least_recently_asked_for_makes_room() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("card", CARD, 4)
    recent.keep("flyer", FLYER, 4)
    assert recent.get("card") is CARD
    recent.keep("book", BOOK, 4)
    assert (recent.get("card"), recent.get("flyer"), recent.get("book")) == (CARD, None, BOOK)


def test_what_is_larger_than_all_the_room_is_not_kept() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("book", BOOK, 11)
    assert recent.get("book") is None
    recent.keep("card", CARD, 10)
    assert recent.get("card") is CARD


def test_what_is_kept_twice_takes_its_room_once() -> None:
    recent = RecentlyMeasured(most_characters=10)
    for _ in range(3):
        recent.keep("card", CARD, 5)
    recent.keep("flyer", FLYER, 5)
    assert recent.get("card") is CARD


def test_what_is_forgotten_makes_room() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("card", CARD, 8)
    recent.forget("card")
    recent.forget("card")
    assert recent.get("card") is None
    recent.keep("flyer", FLYER, 10)
    assert recent.get("flyer") is FLYER
