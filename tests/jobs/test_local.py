"""The queue of one process: order, bounds, waiting, and an orderly end."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator

import pytest

from service.jobs.local import LocalQueue
from service.jobs.queue import QueueFull
from tests.patience import PATIENCE_SECONDS, until

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
    made = LocalQueue(works, works.given_up.append, workers=1, length=2, stop_seconds=0.1)
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
    assert works.given_up == ["b"]
    assert works.stopped == ["a"]
    with pytest.raises(QueueFull):
        queue.submit("c")


def test_closing_lets_a_running_check_finish_in_its_time(works: Works) -> None:
    queue = LocalQueue(works, works.given_up.append, workers=1, length=2, stop_seconds=PATIENCE_SECONDS)
    queue.submit("a")
    works.wait_for(1)
    threading.Timer(0.2, works.go.set).start()
    queue.close()
    assert works.stopped == []
