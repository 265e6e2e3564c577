"""The queue of one process: order, bounds, waiting, and an orderly end."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator

import pytest

from service.jobs.local import LocalQueue
from service.jobs.queue import QueueFull


class Works:
    """Runs that end when the test says so."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.began: list[str] = []
        self.stopped: list[str] = []
        self.given_up: list[str] = []

    def __call__(self, check_id: str, stopped: Callable[[], bool]) -> None:
        self.began.append(check_id)
        while not self.go.wait(0.01):
            if stopped():
                self.stopped.append(check_id)
                return

    def wait_for(self, count: int) -> None:
        until = time.monotonic() + 5
        while len(self.began) < count:
            assert time.monotonic() < until, f"{self.began} began, {count} were expected"
            time.sleep(0.005)


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
    began = time.monotonic()
    queue.wait("a", 0.1)
    assert 0.08 < time.monotonic() - began < 2
    works.go.set()
    queue.wait("a", 10)
    queue.wait("unknown", 10)
    assert time.monotonic() - began < 5


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
    queue.wait("a", 5)
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
    queue = LocalQueue(works, works.given_up.append, workers=1, length=2, stop_seconds=5)
    queue.submit("a")
    works.wait_for(1)
    threading.Timer(0.2, works.go.set).start()
    queue.close()
    assert works.stopped == []
