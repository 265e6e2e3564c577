"""The queue of one process: order, bounds, waiting, and an orderly end."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator

import pytest

from service.jobs.local import LocalQueue
from service.jobs.queue import QueueFull
from tests.patience import PATIENCE_SECONDS, ended, until

FOR_EVER = 3600.0


class Works:
    """Runs that end when the test says so."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.began: list[str] = []
        self.ended: list[str] = []
        self.stopped: list[str] = []
        self.given_up: list[str] = []

    def __call__(self, check_id: str, stopped: Callable[[], bool]) -> None:
        self.began.append(check_id)
        while not self.go.wait(0.01):
            if stopped():
                self.stopped.append(check_id)
                return
        self.ended.append(check_id)

    def wait_for(self, count: int) -> None:
        until(lambda: len(self.began) >= count, f"{count} of them begun")


@pytest.fixture
def works() -> Works:
    return Works()


@pytest.fixture
def queue(works: Works) -> Iterator[LocalQueue]:
    made = LocalQueue(works, works.given_up.append, workers=1, length=2, stop_seconds=0.1, first_pass_seconds=FOR_EVER)
    yield made
    made.close()


def test_checks_run_in_the_order_in_which_they_came(queue: LocalQueue, works: Works) -> None:
    queue.submit("a")
    works.wait_for(1)
    queue.submit("b")
    queue.submit("c")
    works.go.set()
    works.wait_for(3)
    assert works.began == ["a", "b", "c"]


def test_a_full_queue_refuses_and_says_when_to_come_again(queue: LocalQueue, works: Works) -> None:
    queue.submit("a")
    works.wait_for(1)
    queue.submit("b")
    queue.submit("c")
    with pytest.raises(QueueFull) as full:
        queue.submit("d")
    assert 1 <= full.value.retry_after_seconds <= 60
    works.go.set()


def test_waiting_ends_with_the_check_or_with_the_time(queue: LocalQueue, works: Works) -> None:
    queue.submit("a")
    works.wait_for(1)
    queue.wait("a", 0.1)
    assert works.ended == [], "it was waited for no longer than asked"
    threading.Timer(0.1, works.go.set).start()
    queue.wait("a", FOR_EVER)
    assert works.ended == ["a"]
    queue.wait("unknown", FOR_EVER)


def test_a_waiting_check_that_is_cancelled_never_runs(queue: LocalQueue, works: Works) -> None:
    queue.submit("a")
    works.wait_for(1)
    queue.submit("b")
    queue.submit("c")
    queue.cancel("b")
    works.go.set()
    works.wait_for(2)
    assert works.began == ["a", "c"]


def test_a_running_check_that_is_cancelled_is_told_to_stop(queue: LocalQueue, works: Works) -> None:
    queue.submit("a")
    works.wait_for(1)
    queue.cancel("a")
    queue.wait("a", PATIENCE_SECONDS)
    assert works.stopped == ["a"]


def test_closing_gives_up_what_waits_and_stops_what_runs_too_long(queue: LocalQueue, works: Works) -> None:
    queue.submit("a")
    works.wait_for(1)
    queue.submit("b")
    queue.close()
    assert works.given_up == ["b", "a"]
    assert works.stopped == ["a"]
    with pytest.raises(QueueFull) as refused:
        queue.submit("c")
    assert refused.value.closing
    queue.take_up(["d"])
    assert works.began == ["a"], "what was accepted before is left to the next process"


def test_closing_lets_a_running_check_finish_in_its_time(works: Works) -> None:
    bounds = {"workers": 1, "length": 2, "stop_seconds": PATIENCE_SECONDS, "first_pass_seconds": FOR_EVER}
    queue = LocalQueue(works, works.given_up.append, **bounds)  # type: ignore[arg-type]
    queue.submit("a")
    works.wait_for(1)
    threading.Timer(0.2, works.go.set).start()
    queue.close()
    assert works.stopped == []


def test_one_sender_takes_no_other_sender_s_places(queue: LocalQueue, works: Works) -> None:
    for check_id in ("a", "b", "c"):
        queue.submit(check_id, "10.1.1.0/24")
        works.wait_for(1)
    with pytest.raises(QueueFull):
        queue.submit("d", "10.1.1.0/24")
    queue.submit("e", "10.2.2.0/24")
    works.go.set()
    works.wait_for(4)
    assert set(works.began[1:3]) == {"b", "e"}, "senders take turns"
    assert works.began[3] == "c"


def test_what_was_accepted_before_has_always_room(queue: LocalQueue, works: Works) -> None:
    queue.take_up(["a", "b", "c", "d", "a"])
    works.go.set()
    works.wait_for(4)
    assert sorted(works.began) == ["a", "b", "c", "d"]


def test_few_callers_wait_and_the_others_are_answered_at_once(works: Works) -> None:
    bounds = {"workers": 1, "length": 2, "stop_seconds": 0.1, "first_pass_seconds": FOR_EVER, "most_waiting_callers": 2}
    queue = LocalQueue(works, works.given_up.append, **bounds)  # type: ignore[arg-type]
    queue.submit("a")
    works.wait_for(1)
    waiting = [threading.Thread(target=queue.wait, args=("a", FOR_EVER)) for _ in range(2)]
    for one in waiting:
        one.start()
    until(lambda: not queue._callers.acquire(blocking=False) or queue._callers.release(), "both waiting")
    queue.wait("a", FOR_EVER)
    assert works.ended == [], "the third did not wait"
    works.go.set()
    for one in waiting:
        ended(one)
    queue.close()


def test_a_long_check_goes_on_beside_the_short_ones_that_come_after_it(works: Works) -> None:
    queue = LocalQueue(works, works.given_up.append, workers=1, length=9, stop_seconds=0.1, first_pass_seconds=0.05)
    queue.submit("long")
    works.wait_for(1)
    queue.submit("next")
    works.wait_for(2)
    assert (works.began, works.stopped) == (["long", "next"], [])
    works.go.set()
    queue.wait("next", PATIENCE_SECONDS)
    queue.close()


def test_a_second_long_check_begins_anew_once_the_first_is_done(works: Works) -> None:
    queue = LocalQueue(works, works.given_up.append, workers=1, length=9, stop_seconds=0.1, first_pass_seconds=0.05)
    for number in range(3):
        queue.submit(f"long {number}")
        works.wait_for(number + 1)
    until(lambda: works.stopped == ["long 1"], "the second stopped for the third")
    works.go.set()
    for number in range(3):
        queue.wait(f"long {number}", PATIENCE_SECONDS)
    queue.close()
    assert works.began == ["long 0", "long 1", "long 2", "long 1"]
    assert sorted(works.ended) == ["long 0", "long 1", "long 2"]
    assert works.given_up == []
