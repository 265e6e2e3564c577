"""The latest measurements and judgements are kept as records, as many as there is room for."""

from __future__ import annotations

import pytest

from service.jobs.again.recent import MOST_OF_A_LARGE_ONE, RecentlyJudged, RecentlyMeasured
from service.rules.judgement import Judgement, Judgements
from tests.rules.measured import document, page

RIGHT: Judgements = {"en": Judgement("conforming", (), ())}
WRONG: Judgements = {"en": Judgement("nonconforming", (), ())}
CARD, FLYER, BOOK = document(page()), document(page(210, 297)), document(page(), page())


def test_the_least_recently_asked_for_makes_room() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("card", CARD, 4)
    recent.keep("flyer", FLYER, 4)
    assert recent.get("card") is CARD
    recent.keep("book", BOOK, 4)
    assert (recent.get("card"), recent.get("flyer"), recent.get("book")) == (CARD, None, BOOK)


def test_the_latest_that_is_larger_than_all_the_room_stays_until_it_was_told_and_another_check_begins() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("card", CARD, 10)
    recent.keep("flyer", FLYER, 11)
    recent.keep("book", BOOK, 11)
    recent.make_room()
    assert (recent.get("flyer"), recent.get("book"), recent.get("book")) == (None, BOOK, BOOK)
    recent.make_room()
    assert (recent.get("book"), recent.get("card")) == (None, CARD)


def test_who_wants_a_short_one_was_not_told_of_the_large_one() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("book", BOOK, 11)
    assert recent.get("book", 9) is None
    recent.make_room()
    assert recent.get("book") is BOOK


def test_a_large_one_that_nobody_asks_for_makes_room_after_a_while(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.jobs.again.recent.UNTOLD_SECONDS", -1.0)
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("book", BOOK, 11)
    recent.make_room()
    assert recent.get("book") is None


def test_the_largest_are_not_kept_and_nothing_is_that_was_forgotten() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("book", BOOK, MOST_OF_A_LARGE_ONE)
    recent.forget("flyer")
    assert recent.get("book") is BOOK
    recent.keep("flyer", FLYER, MOST_OF_A_LARGE_ONE + 1)
    assert (recent.get("book"), recent.get("flyer")) == (None, None)
    recent.keep("book", BOOK, 11)
    recent.forget("book")
    assert recent.get("book") is None


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


def test_long_measurements_are_not_given_to_who_wants_short_ones() -> None:
    recent = RecentlyMeasured(most_characters=10)
    recent.keep("book", BOOK, 8)
    assert (recent.get("book", 8), recent.get("book", 7)) == (BOOK, None)


def test_a_judgement_is_told_for_the_text_that_it_was_read_from_alone() -> None:
    judged = RecentlyJudged()
    judged.keep("card", "right", RIGHT)
    assert (judged.get("card", "right"), judged.get("card", "wrong"), judged.get("flyer", "right")) == (RIGHT, None, None)


def test_a_check_that_was_judged_anew_is_told_anew() -> None:
    judged = RecentlyJudged(most_characters=5)
    judged.keep("card", "right", RIGHT)
    judged.keep("card", "wrong", WRONG)
    assert (judged.get("card", "right"), judged.get("card", "wrong")) == (None, WRONG)


def test_the_oldest_judgement_makes_room_and_a_forgotten_one_too() -> None:
    judged = RecentlyJudged(most_characters=10)
    for check in ("card", "flyer", "book"):
        judged.keep(check, "right", RIGHT)
    assert [judged.get(check, "right") for check in ("card", "flyer", "book")] == [None, RIGHT, RIGHT]
    judged.forget("flyer")
    judged.forget("flyer")
    judged.keep("card", "right", RIGHT)
    assert [judged.get(check, "right") for check in ("card", "flyer", "book")] == [RIGHT, None, RIGHT]


def test_a_judgement_that_is_longer_than_all_room_is_not_kept() -> None:
    judged = RecentlyJudged(most_characters=4)
    judged.keep("card", "right", RIGHT)
    assert judged.get("card", "right") is None
