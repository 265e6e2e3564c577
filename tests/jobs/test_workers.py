"""Checks accepted by the queue and run by workers: order, bounds, waiting, and an orderly end. The database is a real one."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from service.jobs.bell import Bell
from service.jobs.checking import now
from service.jobs.queue import LONGEST_RETRY_SECONDS, Queue
from service.jobs.queue_full import QueueFull
from service.jobs.workers import Workers
from service.store.checks import Checks
from service.store.database import open_database
from service.store.line import Line
from service.store.models import CheckRow
from tests.databases import database_url
from tests.patience import PATIENCE_SECONDS, ended, until
from tests.store.rows import row

FOR_EVER = 3600.0


class Works:
    """Runs that end when the test says so."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.began: list[str] = []
        self.ended: list[str] = []
        self.stopped: list[str] = []
        self.settle: Callable[[CheckRow], object] = lambda _: None

    def __call__(self, check: CheckRow, stopped: Callable[[], bool]) -> bool:
        self.began.append(check.id)
        while not self.go.wait(0.01):
            if stopped():
                self.stopped.append(check.id)
                return False
        self.ended.append(check.id)
        self.settle(check)
        return True

    def wait_for(self, count: int) -> None:
        until(lambda: len(self.began) >= count, f"{count} of them begun")


class House:
    """A queue and workers over one database, as in one process or, with `process`, in another one."""

    def __init__(self, folder: Path, works: Works, **wishes: Any) -> None:
        self.engine = open_database(database_url(folder), folder)
        self.checks, self.line, self.bell = Checks(self.engine), Line(self.engine), Bell()
        self.queue = Queue(
            self.checks, self.line, self.bell, length=wishes.get("length", 2), look_every_seconds=0.05,
            most_waiting_callers=wishes.get("most_waiting_callers", 4),
        )
        self.workers = Workers(
            wishes.get("owner", "here"), self.line, works, self.bell, places=wishes.get("places", 1), look_every_seconds=0.05,
            stop_seconds=wishes.get("stop_seconds", 0.1), first_pass_seconds=wishes.get("first_pass_seconds", FOR_EVER),
        )
        works.settle = lambda check: self.checks.finish(check.id, check.owner, now(), measurements="{}", judgement="", verdict="")

    def submit(self, check_id: str, sender: str = "") -> None:
        self.queue.submit(row(check_id, expires_at=now() + timedelta(hours=1)), sender)

    def state(self, check_id: str) -> str | None:
        found = self.checks.get(check_id, now())
        return found.state if found else None

    def close(self) -> None:
        self.queue.close_soon()
        self.workers.close()
        self.queue.close()
        self.checks.close()


@pytest.fixture
def works() -> Works:
    return Works()


@pytest.fixture
def open_house(tmp_path: Path, works: Works) -> Iterator[Callable[..., House]]:
    houses: list[House] = []

    def begin(**wishes: Any) -> House:
        houses.append(House(tmp_path, works, **wishes))
        houses[-1].workers.start()
        return houses[-1]

    yield begin
    for one in houses:
        one.close()


@pytest.fixture
def house(open_house: Callable[..., House]) -> House:
    return open_house()


def test_checks_run_in_the_order_in_which_they_came(house: House, works: Works) -> None:
    house.submit("a")
    works.wait_for(1)
    house.submit("b")
    house.submit("c")
    works.go.set()
    works.wait_for(3)
    assert works.began == ["a", "b", "c"]


def test_a_full_queue_refuses_and_says_when_to_come_again(house: House, works: Works) -> None:
    house.submit("a")
    works.wait_for(1)
    house.submit("b")
    house.submit("c")
    with pytest.raises(QueueFull) as full:
        house.submit("d")
    assert 1 <= full.value.retry_after_seconds <= 60
    assert house.state("d") is None, "what is refused is not kept"
    works.go.set()


def test_when_to_come_again_follows_from_how_long_checks_take(open_house: Callable[..., House], works: Works) -> None:
    house = open_house(length=3)
    house.submit("a")
    works.wait_for(1)
    for check_id in "bcd":
        house.submit(check_id)
    house.workers._places._first.usual_seconds = 30.0
    house.workers.beat()
    with pytest.raises(QueueFull) as full:
        house.submit("e")
    assert full.value.retry_after_seconds == 30
    assert LONGEST_RETRY_SECONDS == 3600


def test_waiting_ends_with_the_check_or_with_the_time(house: House, works: Works) -> None:
    house.submit("a")
    works.wait_for(1)
    assert not house.queue.wait("a", 0.1)
    assert works.ended == [], "it was waited for no longer than asked"
    threading.Timer(0.1, works.go.set).start()
    assert house.queue.wait("a", FOR_EVER)
    assert works.ended == ["a"]
    assert house.queue.wait("unknown", FOR_EVER)


def test_a_waiting_check_that_is_forgotten_never_runs(house: House, works: Works) -> None:
    house.submit("a")
    works.wait_for(1)
    house.submit("b")
    house.submit("c")
    house.queue.cancel("b")
    house.checks.forget("b")
    works.go.set()
    works.wait_for(2)
    assert works.began == ["a", "c"]


def test_a_running_check_that_is_cancelled_is_told_to_stop(house: House, works: Works) -> None:
    house.submit("a")
    works.wait_for(1)
    house.queue.cancel("a")
    house.checks.forget("a")
    house.queue.wait("a", PATIENCE_SECONDS)
    until(lambda: works.stopped == ["a"], "it stopped")
    assert house.state("a") is None, "nobody puts back what is forgotten"


def test_closing_leaves_what_waits_and_what_runs_too_long_to_others(house: House, works: Works) -> None:
    house.submit("a")
    works.wait_for(1)
    house.submit("b")
    house.queue.close_soon()
    house.workers.close()
    assert works.stopped == ["a"]
    with pytest.raises(QueueFull) as refused:
        house.submit("c")
    assert refused.value.closing
    assert (house.state("a"), house.state("b"), house.state("c")) == ("queued", "queued", None)
    assert works.began == ["a"]


def test_a_check_that_is_taken_while_the_service_closes_goes_back_at_once(
    open_house: Callable[..., House], works: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    house = open_house(stop_seconds=0)
    take, taken, closed = house.line.take, threading.Event(), threading.Event()

    def slowly(*wished: Any) -> Any:
        found = take(*wished)
        if found:
            taken.set()
            assert closed.wait(PATIENCE_SECONDS)
        return found

    monkeypatch.setattr(house.line, "take", slowly)
    house.submit("late")
    assert taken.wait(PATIENCE_SECONDS)
    closing = threading.Thread(target=house.workers.close)
    closing.start()
    until(house.workers._closing.is_set, "closing begun")
    with house.workers._changed:
        closed.set()  # those that run have been told to stop
    closing.join(PATIENCE_SECONDS)
    assert works.stopped == ["late"]
    assert house.state("late") == "queued"


def test_closing_lets_a_running_check_finish_in_its_time(open_house: Callable[..., House], works: Works) -> None:
    house = open_house(stop_seconds=PATIENCE_SECONDS)
    house.submit("a")
    works.wait_for(1)
    threading.Timer(0.2, works.go.set).start()
    house.workers.close()
    assert (works.stopped, house.state("a")) == ([], "finished")


def test_one_sender_takes_no_other_sender_s_places(house: House, works: Works) -> None:
    for check_id in ("a", "b", "c"):
        house.submit(check_id, "10.1.1.0/24")
        works.wait_for(1)
    with pytest.raises(QueueFull):
        house.submit("d", "10.1.1.0/24")
    house.submit("e", "10.2.2.0/24")
    works.go.set()
    works.wait_for(4)
    assert set(works.began[1:3]) == {"b", "e"}, "senders take turns"
    assert works.began[3] == "c"


def test_what_waits_from_before_is_run_by_whoever_starts(open_house: Callable[..., House], works: Works, tmp_path: Path) -> None:
    before = House(tmp_path, works, length=5)
    for check_id in "abcd":
        before.submit(check_id)
    before.close()
    works.go.set()
    open_house()
    works.wait_for(4)
    assert works.began == ["a", "b", "c", "d"]


def test_two_processes_share_what_waits_in_one(open_house: Callable[..., House], works: Works) -> None:
    here = open_house(owner="here")
    here.submit("a")
    works.wait_for(1)
    there = open_house(owner="there")
    here.submit("b")
    works.wait_for(2)
    caller = threading.Thread(target=here.queue.wait, args=("b", FOR_EVER))
    caller.start()
    works.go.set()
    ended(caller)
    assert there.state("b") == "finished"


def test_few_callers_wait_and_the_others_are_answered_at_once(open_house: Callable[..., House], works: Works) -> None:
    house = open_house(most_waiting_callers=2)
    house.submit("a")
    works.wait_for(1)
    waiting = [threading.Thread(target=house.queue.wait, args=("a", FOR_EVER)) for _ in range(2)]
    for one in waiting:
        one.start()
    until(lambda: len(house.queue._waiting["a"]) == 2, "both waiting")
    house.queue.wait("a", FOR_EVER)
    assert works.ended == [], "the third did not wait"
    works.go.set()
    for one in waiting:
        ended(one)


def test_a_long_check_goes_on_beside_the_short_ones_that_come_after_it(open_house: Callable[..., House], works: Works) -> None:
    house = open_house(length=9, first_pass_seconds=0.05)
    house.submit("long")
    works.wait_for(1)
    house.submit("next")
    works.wait_for(2)
    assert (works.began, works.stopped) == (["long", "next"], [])
    works.go.set()
    house.queue.wait("next", PATIENCE_SECONDS)


def test_a_second_long_check_begins_anew_once_the_first_is_done(open_house: Callable[..., House], works: Works) -> None:
    house = open_house(length=9, first_pass_seconds=0.05)
    for number in range(3):
        house.submit(f"long {number}")
        works.wait_for(number + 1)
    until(lambda: works.stopped == ["long 1"], "the second stopped for the third")
    works.go.set()
    for number in range(3):
        house.queue.wait(f"long {number}", PATIENCE_SECONDS)
    assert works.began == ["long 0", "long 1", "long 2", "long 1"]
    assert sorted(works.ended) == ["long 0", "long 1", "long 2"]
