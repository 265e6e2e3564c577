"""The child that the fork server keeps ready while nobody asks: it takes one file, and is gone like any other."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.jobs.children import sandbox
from service.jobs.children.fork_server import ForkServer
from service.jobs.children.measuring.check import run
from service.jobs.children.tasks import MEASURING, Limits, Task
from service.sheets.model import SpecSheet, TrimAsked
from tests.build import page
from tests.jobs.children.processes import alive, children_of, descendants_of, forkers_of
from tests.patience import until

LIMITS = Limits(seconds=60, memory_bytes=2**30)
CARD = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55))


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return page(85, 55).fill(cyan=1).save(tmp_path_factory.mktemp("pdf") / "card.pdf")


@pytest.fixture(scope="module")
def used() -> Iterator[ForkServer]:
    """One for the tests that leave it as it was."""
    one = ForkServer()
    one.begin()
    yield one
    one.close()


@pytest.fixture(scope="module")
def forking(used: ForkServer, card: Path) -> int:
    """Of how many processes a fork server is, beside the one that was started."""
    return len(seen_while_it_runs(used, card)[1])


@pytest.fixture
def begun(forking: int) -> Iterator[ForkServer]:
    """Another one, which nobody has asked yet."""
    assert forking in (0, 1)
    one = ForkServer()
    one.begin()
    yield one
    one.close()


def seen_while_it_runs(server: ForkServer, card: Path) -> tuple[set[int], set[int]]:
    """The child that runs, and what else there is, of a check that never ends by itself."""
    task = Task(sheet=CARD, pdf=card, measure="tests.jobs.faults:hangs")
    with server.child(MEASURING, task, LIMITS):
        until(lambda: server.is_ready() and bool(children_of(server)), "a child")
        return children_of(server), forkers_of(server)


def the_spare(server: ForkServer, forking: int) -> int:
    """Once there is one."""
    until(lambda: len(forkers_of(server)) == forking + 1, "a spare")
    (spare,) = {one for one in forkers_of(server) if not descendants_of(one)}
    return spare


def is_met(server: ForkServer, card: Path, monkeypatch: pytest.MonkeyPatch) -> bool:
    monkeypatch.setattr(sandbox, "SERVER", server)
    result = run(Task(sheet=CARD, pdf=card), LIMITS)
    return {one.rule: one.outcome for one in result.judgement.rules}["trim.size"] == "met"


def test_a_spare_takes_one_file_and_the_next_one_gets_another(
    used: ForkServer, forking: int, card: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = the_spare(used, forking)
    running, others = seen_while_it_runs(used, card)
    assert running == {first}
    assert len(others) == forking, "none is kept beside a child that runs"
    second = the_spare(used, forking)
    assert second != first
    assert not alive(first)
    assert is_met(used, card, monkeypatch)
    assert the_spare(used, forking) != second


def test_a_spare_that_is_gone_is_missed_by_nobody(
    used: ForkServer, forking: int, card: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    spare = the_spare(used, forking)
    os.kill(spare, signal.SIGKILL)
    until(lambda: not alive(spare), "the spare gone")
    assert is_met(used, card, monkeypatch)
    the_spare(used, forking)


def test_a_spare_ends_with_a_fork_server_that_is_closed(begun: ForkServer, forking: int) -> None:
    spare = the_spare(begun, forking)
    begun.close()
    until(lambda: not alive(spare), "the spare gone")


def test_a_spare_ends_with_a_fork_server_that_is_killed(begun: ForkServer, forking: int) -> None:
    spare = the_spare(begun, forking)
    assert begun._process is not None
    for one in (*(forkers_of(begun) - {spare}), begun._process.pid):
        os.kill(one, signal.SIGKILL)
    until(lambda: not alive(spare), "the spare gone")
