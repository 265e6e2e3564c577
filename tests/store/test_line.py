"""Checks that wait in the database, on each engine: turns, bounds, one taker for each, and what a dead process leaves."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from itertools import count

import pytest
from sqlalchemy import Engine

from service.store.checks import Checks, KeyTaken
from service.store.line import MOST_TIMES, Lengths, Line, LineFull, Pace
from service.store.models import CheckRow
from tests.store.rows import NOON, row

LATER = NOON + timedelta(minutes=1)
SILENT = timedelta(seconds=20)
BOTH = (False, True)
PACE = Pace(2, 0.5, 10.0)
_seconds = count()


@pytest.fixture
def line(database: Engine) -> Line:
    return Line(database)


def join(line: Line, *names: str, most: int = 50) -> None:
    """Checks named by their senders: 'studio 1', one after the other."""
    for name in names:
        came = row(name.replace(" ", "-"), created_at=NOON + timedelta(seconds=next(_seconds)))
        line.join(came, name.split()[0], most, 10 * most)


def taken(line: Line, kinds: tuple[bool, ...] = BOTH, owner: str = "here") -> str | None:
    found = line.take(owner, kinds, NOON)
    return found.row.id if found else None


def kept(checks: Checks, check_id: str) -> CheckRow:
    found = checks.get(check_id, LATER)
    assert found is not None
    return found


def test_senders_take_turns_and_each_keeps_its_order(line: Line) -> None:
    join(line, "studio 1", "studio 2", "studio 3", "bakery 1", "shop 1", "bakery 2")
    order = [taken(line) for _ in range(7)]
    assert order == ["studio-1", "bakery-1", "shop-1", "studio-2", "bakery-2", "studio-3", None]


def test_a_newcomer_does_not_wait_for_all_that_another_has_waiting(line: Line) -> None:
    join(line, *(f"studio {number}" for number in range(5)))
    assert [taken(line) for _ in range(2)] == ["studio-0", "studio-1"]
    join(line, "bakery 1", "bakery 2")
    assert [taken(line) for _ in range(4)] == ["studio-2", "bakery-1", "studio-3", "bakery-2"]


def test_what_is_taken_runs_and_is_its_takers_alone(line: Line, checks: Checks) -> None:
    join(line, "studio 1")
    assert taken(line, owner="there") == "studio-1"
    assert (kept(checks, "studio-1").state, kept(checks, "studio-1").owner) == ("running", "there")
    assert taken(line) is None
    assert not checks.progress("studio-1", "here", "pages", 1, 2)
    assert not checks.finish("studio-1", "here", LATER, measurements="{}", judgement="{}", verdict="conforming")
    assert checks.finish("studio-1", "there", LATER, measurements="{}", judgement="{}", verdict="conforming")
    assert kept(checks, "studio-1").sender is None


def test_many_takers_at_once_share_and_none_gets_anothers(line: Line) -> None:
    join(line, *(f"studio {number}" for number in range(24)))

    def take_all(owner: str) -> list[str]:
        return list(iter(lambda: taken(line, owner=owner), None))

    with ThreadPoolExecutor(4) as pool:
        shares = list(pool.map(take_all, "abcd"))
    assert sorted(one for share in shares for one in share) == sorted(f"studio-{number}" for number in range(24))


def test_a_sender_s_places_are_counted_and_no_other_s_taken(line: Line) -> None:
    join(line, "studio 1", "studio 2", most=2)
    with pytest.raises(LineFull):
        join(line, "studio 3", most=2)
    join(line, "bakery 1", most=2)
    assert (line.waiting(), line.lengths("studio", is_long=False)) == (3, Lengths(senders=2, of_sender=2))
    taken(line)
    join(line, "studio 4", most=2)


def test_callers_at_once_do_not_take_more_places_than_there_are(line: Line) -> None:
    def attempt(number: int) -> bool:
        try:
            join(line, f"studio {number}", most=3)
        except LineFull:
            return False
        return True

    with ThreadPoolExecutor(6) as pool:
        assert sum(pool.map(attempt, range(8))) == 3


def test_a_key_that_is_taken_is_said_even_where_the_line_is_full(line: Line) -> None:
    line.join(row("one", idempotency_key="order-7"), "studio", 1, 10)
    with pytest.raises(KeyTaken):
        line.join(row("two", idempotency_key="order-7"), "studio", 1, 10)
    assert line.waiting() == 1


def test_long_ones_have_a_line_of_their_own(line: Line) -> None:
    join(line, "studio 1", "studio 2")
    first = taken(line)
    assert first == "studio-1"
    line.put_back(first, "here", is_long=True)
    assert (line.any_waits(is_long=True), line.any_waits(is_long=False)) == (True, True)
    assert taken(line, (False,)) == "studio-2"
    assert taken(line, (False,)) is None
    join(line, "studio 3", "bakery 1")
    found = line.take("here", (False,), NOON)
    assert found is not None
    assert (found.row.id, found.has_long_waiting) == ("studio-3", True)
    assert taken(line, (True, False)) == "studio-1"
    assert taken(line, (True, False)) == "bakery-1"


def test_only_who_runs_it_puts_it_back(line: Line, checks: Checks) -> None:
    join(line, "studio 1")
    taken(line)
    line.put_back("studio-1", "there", is_long=False)
    assert kept(checks, "studio-1").state == "running"
    line.put_back("studio-1", "here", is_long=False)
    assert (kept(checks, "studio-1").state, kept(checks, "studio-1").stage) == ("queued", None)


def test_only_checks_of_a_silent_process_wait_again(line: Line, checks: Checks) -> None:
    for name in ("lost", "kept", "stale"):
        checks.add(row(name, state="running", owner="dead" if name == "lost" else "there", stage="pages", page=3, pages=9))
    checks.add(row("waiting"))
    checks.add(row("done", state="finished", owner="dead"))
    line.beat("there", ["kept"], PACE, LATER)
    assert line.take_up(SILENT, "interrupted", LATER) == 2
    states = {name: kept(checks, name).state for name in ("lost", "kept", "stale", "waiting", "done")}
    assert states == {"lost": "queued", "kept": "running", "stale": "queued", "waiting": "queued", "done": "finished"}
    assert (kept(checks, "lost").stage, kept(checks, "lost").taken_up) == (None, 1)
    assert line.take_up(SILENT, "interrupted", LATER) == 0


def test_a_check_is_begun_three_times_and_then_failed_with_the_reason(line: Line, checks: Checks) -> None:
    line.join(row("deadly", idempotency_key="order-7"), "studio", 5, 5)
    for number in range(MOST_TIMES):
        assert taken(line, owner=str(number)) == "deadly"
        assert line.take_up(SILENT, "interrupted", LATER) == (1 if number < MOST_TIMES - 1 else 0)
    assert (kept(checks, "deadly").state, kept(checks, "deadly").problem) == ("failed", "interrupted")
    line.join(row("again", idempotency_key="order-7"), "studio", 5, 5)


def test_a_clock_that_was_set_back_hides_nobody(line: Line, checks: Checks) -> None:
    checks.add(row("lost", state="running", owner="dead", heartbeat_at=LATER))
    assert line.take_up(SILENT, "interrupted", LATER - timedelta(hours=1)) == 1


def test_the_database_s_own_clock_is_the_one_that_counts(line: Line, checks: Checks) -> None:
    join(line, "studio 1")
    assert line.take("here", BOTH) is not None
    line.beat("here", ["studio-1"], PACE)
    assert line.take_up(SILENT, "interrupted") == 0
    assert line.pace(SILENT) == PACE
    checks.add(row("lost", state="running", owner="dead"))
    assert line.take_up(SILENT, "interrupted") == 1


def test_the_pace_is_that_of_all_who_live(line: Line) -> None:
    assert line.pace(SILENT, NOON) is None
    line.beat("dead", [], Pace(8, 9.0, 99.0), NOON - timedelta(minutes=5))
    line.beat("here", [], Pace(2, 0.5, 10.0), NOON)
    line.beat("there", [], Pace(4, 1.5, 20.0), NOON)
    line.beat("there", [], Pace(4, 1.5, 30.0), NOON)
    assert line.pace(SILENT, NOON) == Pace(6, 1.0, 20.0)
    line.leave("there")
    assert line.pace(SILENT, NOON) == Pace(2, 0.5, 10.0)
