"""Which kind of check may begin: a first short pass for each, long ones beside them."""

from __future__ import annotations

from service.jobs.places import FIRST_PASS, LONG, Job, Places
from service.store.line import Taken
from tests.store.rows import row


class Clock:
    def __init__(self) -> None:
        self.seconds = 1.0

    def __call__(self) -> float:
        return self.seconds


def places(workers: int = 2) -> tuple[Places, Clock]:
    clock = Clock()
    return Places(workers, clock, first_pass_seconds=1.0), clock


def begun(of: Places, *, is_long: bool = False, has_long_waiting: bool = False) -> Job:
    assert is_long in of.may_begin()
    return of.begin(Taken(row(is_long=is_long), has_long_waiting))


def test_as_many_run_as_there_are_workers() -> None:
    of, _ = places(workers=2)
    assert of.may_begin() == (LONG, FIRST_PASS), "where no long one runs, one is preferred"
    begun(of)
    begun(of)
    assert of.may_begin() == ()


def test_beside_long_ones_on_all_places_one_more_has_a_first_pass() -> None:
    of, clock = places(workers=2)
    jobs = [begun(of), begun(of)]
    clock.seconds += 2
    assert all(of.may_go_on(one, somebody_waits=True) for one in jobs)
    assert of.may_begin() == (FIRST_PASS,)
    begun(of)
    assert of.may_begin() == ()


def test_a_first_pass_that_is_over_gives_way_only_to_somebody_who_waits() -> None:
    of, clock = places(workers=1)
    long = begun(of)
    clock.seconds += 2
    assert of.may_go_on(long, somebody_waits=True), "there is a place for a long one"
    second = begun(of)
    assert of.may_go_on(second, somebody_waits=True), "it has just begun"
    clock.seconds += 2
    assert of.is_over(second)
    assert of.may_go_on(second, somebody_waits=False)
    assert not of.may_go_on(second, somebody_waits=True)
    assert second.comes_again
    of.ended(second)
    assert of.may_begin() == (FIRST_PASS,)
    of.ended(long)
    again = begun(of, is_long=True)
    clock.seconds += 50
    assert of.may_go_on(again, somebody_waits=True), "it is not stopped twice"


def test_who_has_long_ones_waiting_gets_a_shorter_first_pass() -> None:
    of, clock = places(workers=1)
    begun(of, is_long=True)
    first = begun(of, has_long_waiting=True)
    clock.seconds += 0.5
    assert not of.may_go_on(first, somebody_waits=True)
    of.ended(first)
    other = begun(of)
    clock.seconds += 0.5
    assert of.may_go_on(other, somebody_waits=True), "who has none waiting has all of it"


def test_short_ones_without_end_leave_a_place_to_a_long_one() -> None:
    of, _ = places(workers=2)
    begun(of)
    assert of.may_begin()[0] == LONG
    begun(of, is_long=True)
    assert of.may_begin() == ()
    of, _ = places(workers=3)
    begun(of, is_long=True)
    assert of.may_begin() == (FIRST_PASS, LONG), "where one long one runs, first passes are preferred"


def test_what_checks_usually_take_follows_from_what_they_took() -> None:
    of, clock = places()
    before = of.pace
    job = begun(of)
    clock.seconds += 10.5
    of.ended(job)
    assert of.pace.first_pass_seconds == before.first_pass_seconds + 0.2 * (10.5 - before.first_pass_seconds)
    assert of.pace.long_seconds == before.long_seconds
