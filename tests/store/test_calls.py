"""Callbacks in the database, on each engine: due with their check's result, delivered by one at a time, gone with it."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from sqlalchemy import Engine

from service.store.calls import Call, Calls
from service.store.checks import Checks
from service.store.line import MOST_TIMES, Line
from tests.store.rows import NOON, row

HOOK = "https://hooks.shop.example/done"
LEASE = timedelta(minutes=1)
DONE = {"measurements": "{}", "judgement": "{}", "verdict": "conforming"}


@pytest.fixture
def calls(database: Engine) -> Calls:
    return Calls(database)


def finished(checks: Checks, *names: str, url: str | None = HOOK) -> None:
    for name in names:
        checks.add(row(name, state="running", owner="here", callback_url=url))
        assert checks.finish(name, "here", NOON, **DONE)


def taken(calls: Calls, *not_to: str) -> Call | None:
    return calls.take(LEASE, not_to)


def test_a_callback_is_due_with_the_result_and_tells_of_it(checks: Checks, calls: Calls) -> None:
    checks.add(row("one", state="running", owner="here", callback_url=HOOK))
    assert calls.waiting() == 0
    assert not checks.finish("one", "there", NOON, **DONE)
    assert calls.waiting() == 0, "who does not hold the check tells nobody"
    checks.finish("one", "here", NOON, **DONE)
    call = taken(calls)
    assert call is not None
    assert (call.url, call.host, call.attempts) == (HOOK, "hooks.shop.example", 1)
    assert (call.check.id, call.check.state, call.check.verdict) == ("one", "finished", "conforming")
    assert call.age < timedelta(minutes=1)
    assert taken(calls) is None, "it is held"
    calls.settle(call.id)
    assert calls.waiting() == 0


def test_who_wants_none_gets_none_and_a_failed_check_is_told_of(checks: Checks, calls: Calls, database: Engine) -> None:
    finished(checks, "quiet", url=None)
    assert calls.waiting() == 0
    checks.add(row("faulty", state="running", owner="here", callback_url=HOOK))
    checks.fail("faulty", "here", NOON, "internal-error")
    checks.add(row("deadly", state="running", owner="dead", taken_up=MOST_TIMES - 1, callback_url=HOOK))
    Line(database).take_up(timedelta(seconds=20), "interrupted")
    found = [taken(calls), taken(calls)]
    assert sorted((one.check.id, one.check.problem or "") for one in found if one) == [
        ("deadly", "interrupted"), ("faulty", "internal-error")
    ]  # fmt: skip


def test_one_that_failed_comes_again_under_the_same_id_when_it_is_time(checks: Checks, calls: Calls) -> None:
    finished(checks, "one")
    first = taken(calls)
    assert first is not None
    calls.again(first.id, timedelta(seconds=-1))
    second = taken(calls)
    assert second is not None
    assert (second.id, second.attempts) == (first.id, 2)
    calls.again(first.id, timedelta(hours=1))
    assert taken(calls) is None


def test_what_somebody_took_and_died_is_delivered_by_another(checks: Checks, calls: Calls) -> None:
    finished(checks, "one")
    held = calls.take(timedelta(seconds=-1))
    again = taken(calls)
    assert held is not None
    assert again is not None
    assert again.id == held.id


def test_a_host_that_is_being_called_waits_and_others_do_not(checks: Checks, calls: Calls) -> None:
    finished(checks, "one")
    finished(checks, "two", url="https://press.example/")
    call = taken(calls, "hooks.shop.example")
    assert call is not None
    assert call.check.id == "two"


def test_a_callback_goes_with_its_check(checks: Checks, calls: Calls) -> None:
    finished(checks, "one")
    checks.forget("one")
    assert calls.waiting() == 0


def test_many_at_once_take_each_once(checks: Checks, calls: Calls) -> None:
    names = [f"c{number}" for number in range(12)]
    finished(checks, *names)

    def take_all(_: int) -> list[str]:
        return [call.check.id for call in iter(lambda: taken(calls), None)]

    with ThreadPoolExecutor(4) as pool:
        assert sorted(one for some in pool.map(take_all, range(4)) for one in some) == sorted(names)


def test_a_check_that_is_answered_from_an_earlier_one_calls_back_too(checks: Checks, calls: Calls) -> None:
    checks.add(row("one", state="running", owner="here"))
    checks.finish("one", "here", NOON, **DONE, same="card by its sheet")
    assert checks.add_as_before(row("two", callback_url=HOOK), "card by its sheet", NOON)
    call = taken(calls)
    assert call is not None
    assert (call.check.id, call.check.verdict) == ("two", "conforming")
