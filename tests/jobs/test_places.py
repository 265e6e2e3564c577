"""Which check is next: senders in turn, a first short pass for each, long ones beside them."""

from __future__ import annotations

from service.jobs.line import Line
from service.jobs.places import LONGEST_RETRY_SECONDS, Job, Places


class Clock:
    def __init__(self) -> None:
        self.seconds = 1.0

    def __call__(self) -> float:
        return self.seconds


def places(workers: int = 2) -> tuple[Places, Clock]:
    clock = Clock()
    return Places(workers, clock, first_pass_seconds=1.0), clock


def begun(of: Places) -> list[str]:
    found = []
    while job := of.next():
        found.append(job.check_id)
    return found


def job(of: Places, check_id: str) -> Job:
    found = of.find(check_id)
    assert found is not None
    return found


def test_senders_take_turns_and_each_keeps_its_order() -> None:
    line = Line()
    for sender, number in (("studio", 1), ("studio", 2), ("studio", 3), ("bakery", 1), ("shop", 1), ("bakery", 2)):
        line.add(f"{sender} {number}", sender)
    assert [line.next() for _ in range(7)] == ["studio 1", "bakery 1", "shop 1", "studio 2", "bakery 2", "studio 3", None]


def test_as_many_run_as_there_are_workers() -> None:
    of, _ = places(workers=2)
    for number in range(4):
        of.add(f"c{number}", "studio")
    assert begun(of) == ["c0", "c1"]


def test_beside_long_ones_on_all_places_one_more_has_a_first_pass() -> None:
    of, clock = places(workers=2)
    for number in range(5):
        of.add(f"c{number}", "studio")
    begun(of)
    clock.seconds += 2
    assert of.may_go_on(job(of, "c0"))
    assert of.may_go_on(job(of, "c1"))
    assert begun(of) == ["c2"]


def test_a_first_pass_that_is_over_gives_way_only_to_somebody_who_waits() -> None:
    of, clock = places(workers=1)
    of.add("long", "studio")
    begun(of)
    clock.seconds += 2
    assert of.may_go_on(job(of, "long"))
    of.add("second", "studio")
    begun(of)
    clock.seconds += 2
    assert of.may_go_on(job(of, "second")), "nobody waits"
    of.add("card", "bakery")
    assert not of.may_go_on(job(of, "second"))
    assert not of.ended(job(of, "second"))
    assert begun(of) == ["card"]
    clock.seconds += 0.1
    assert of.ended(job(of, "card"))
    assert of.ended(job(of, "long"))
    assert begun(of) == ["second"]
    clock.seconds += 50
    assert of.may_go_on(job(of, "second")), "it is not stopped twice"


def test_who_has_long_ones_waiting_gets_a_shorter_first_pass() -> None:
    of, clock = places(workers=1)
    for number in range(5):
        of.add(f"c{number}", "studio")
    for number in (0, 1):
        assert begun(of) == [f"c{number}"]
        clock.seconds += 1.1
        of.may_go_on(job(of, f"c{number}"))
    of.ended(job(of, "c1"))
    of.add("card", "bakery")
    assert begun(of) == ["c2"]
    clock.seconds += 0.5
    assert not of.may_go_on(job(of, "c2"))
    of.ended(job(of, "c2"))
    assert begun(of) == ["card"]
    clock.seconds += 0.5
    assert of.may_go_on(job(of, "card")), "who has none waiting has all of it"


def test_short_ones_without_end_leave_a_place_to_a_long_one() -> None:
    of, clock = places(workers=1)
    for name in ("first", "long"):
        of.add(name, "studio")
        begun(of)
        clock.seconds += 2
        of.may_go_on(job(of, name))
    of.add("card 0", "bakery")
    of.may_go_on(job(of, "long"))
    of.ended(job(of, "long"))
    of.ended(job(of, "first"))
    for number in range(1, 9):
        of.add(f"card {number}", "bakery")
    assert begun(of) == ["long", "card 0"]


def test_when_to_come_again_follows_from_how_long_checks_take() -> None:
    of, clock = places(workers=2)
    for number in range(20):
        of.add(f"c{number}", "studio")
    assert of.retry_after_seconds("studio") == 1
    while one := of.next():
        clock.seconds += 2
        if not of.may_go_on(one):
            of.ended(one)
    clock.seconds += 60
    for number in (0, 1):
        of.ended(job(of, f"c{number}"))
    assert 10 <= of.retry_after_seconds("studio") <= 60
    assert of.retry_after_seconds("nobody") == 1
    assert LONGEST_RETRY_SECONDS == 3600
