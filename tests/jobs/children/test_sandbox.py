"""One check in a child process: whatever the child does, the answer is a result and the child is gone."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.jobs.children import sandbox
from service.jobs.children.fork_server import ForkServer
from service.jobs.children.measuring.check import Result, run
from service.jobs.children.sandbox import Interrupted, SandboxBroken
from service.jobs.children.tasks import Limits, Task
from service.pdf.codec import measurements_to_json
from service.pdf.facts.measurements import Measurements
from service.sheets.model import BleedAsked, SpecSheet, TrimAsked
from tests.build import page
from tests.jobs.children.processes import alive, children_of
from tests.patience import until

CARD = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55), bleed=BleedAsked(minimum_mm=3))
LIMITS = Limits(seconds=60, memory_bytes=2**30)


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return path


@pytest.fixture(autouse=True)
def _no_process_stays() -> Iterator[None]:
    yield
    assert children_of(sandbox.SERVER) == set()


def fault(name: str, card: Path, limits: Limits = LIMITS) -> Result:
    return run(Task(sheet=CARD, pdf=card, measure=f"tests.jobs.faults:{name}"), limits)


def outcome(result: Result, rule: str) -> str:
    return next(one.outcome for one in result.judgement.rules if one.rule == rule)


def test_a_right_card_is_measured_and_judged(card: Path) -> None:
    steps = []
    result = run(Task(sheet=CARD, pdf=card), LIMITS, lambda *step: steps.append(step))
    assert result.measurements.document.page_count == 1
    assert outcome(result, "trim.size") == "met"
    assert ("pages", 1, 1) in steps


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("aborts", "hostile"), ("raises", "hostile"), ("leaves", "hostile"), ("eats_memory", "limits"),
        ("says_garbage", "hostile"),
        ("says_wrong_measurements", "hostile"), ("says_bottomless_json", "hostile"), ("says_impossible_progress", "hostile"),
        ("talks_without_end", "limits"), ("writes_a_file", "hostile"),
    ],
)
def test_what_goes_wrong_in_the_child_says_nothing_against_the_file(name: str, kind: str, card: Path) -> None:
    result = fault(name, card)
    assert result.measurements.document.failure is not None
    assert result.measurements.document.failure.kind == kind
    assert result.measurements.document.size_bytes == card.stat().st_size
    assert (result.judgement.verdict, result.judgement.findings) == ("inconclusive", ())
    assert {outcome(result, rule) for rule in ("file.readable", "file.locked", "trim.size")} == {"not_measured"}


@pytest.mark.parametrize("name", ["hangs", "spins"])
def test_a_child_that_takes_too_long_is_ended(name: str, card: Path) -> None:
    result = fault(name, card, Limits(seconds=0.5, memory_bytes=2**31))
    assert result.measurements.document.failure is not None
    assert result.measurements.document.failure.kind == "limits"


def test_a_child_writes_no_file(card: Path) -> None:
    fault("writes_a_file", card)
    left = card.with_suffix(".left")
    assert not left.exists() or left.stat().st_size == 0


def test_children_of_the_child_end_with_it(card: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing keeps it from having one."""
    server = ForkServer(frozenset({"landlock", "seccomp", "namespaces"}))
    monkeypatch.setattr(sandbox, "SERVER", server)
    seen: list[int] = []
    task = Task(sheet=CARD, pdf=card, measure="tests.jobs.faults:has_a_child_of_its_own")
    with pytest.raises(Interrupted):
        run(task, LIMITS, lambda _stage, _page, pages: seen.append(pages), stopped=lambda: bool(seen))
    until(lambda: not alive(seen[0]), "its own child gone")
    server.close()


def test_nobody_waits_for_the_end_of_a_child_that_has_not_begun(card: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The fork server loads for a second, on a busy machine for twenty: a service that is stopped meanwhile ends."""
    server = ForkServer()
    monkeypatch.setattr(sandbox, "SERVER", server)
    with pytest.raises(Interrupted):
        run(Task(sheet=CARD, pdf=card), LIMITS, stopped=lambda: True)
    assert not server.is_ready()
    assert outcome(run(Task(sheet=CARD, pdf=card), LIMITS), "trim.size") == "met"
    assert server.is_ready()
    until(lambda: not children_of(server), "both children gone")
    server.close()


def test_a_check_that_nobody_wants_is_stopped(card: Path) -> None:
    task = Task(sheet=CARD, pdf=card, measure="tests.jobs.faults:hangs")
    began = time.monotonic()
    with pytest.raises(Interrupted):
        run(task, LIMITS, stopped=lambda: time.monotonic() - began > 0.3)


def test_a_child_that_cannot_begin_is_our_own_fault(card: Path) -> None:
    with pytest.raises(SandboxBroken):
        run(Task(sheet=CARD, pdf=card, measure="tests.jobs.no_such_module:measure"), LIMITS)


def test_a_file_that_is_gone_is_our_own_fault(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        run(Task(sheet=CARD, pdf=tmp_path / "gone.pdf"), LIMITS)


def test_stored_measurements_are_judged_without_the_file(card: Path) -> None:
    first = run(Task(sheet=CARD, pdf=card), LIMITS)
    other = SpecSheet(trim=TrimAsked(width_mm=90, height_mm=50))
    second = run(Task(sheet=other, measurements=measurements_to_json(first.measurements)), LIMITS)
    assert second.measurements == first.measurements
    assert outcome(second, "trim.size") == "not_met"


def test_no_descriptor_is_left_open(card: Path) -> None:
    run(Task(sheet=CARD, pdf=card), LIMITS)
    before = len(os.listdir("/proc/self/fd"))  # noqa: PTH208
    for name in ("aborts", "is_quick"):
        fault(name, card)
    assert len(os.listdir("/proc/self/fd")) == before  # noqa: PTH208


def test_the_judging_of_an_unreadable_file_is_that_of_its_failure(card: Path) -> None:
    result = fault("is_quick", card)
    assert isinstance(result.measurements, Measurements)
    assert result.measurements.document.failure is not None
    assert result.measurements.document.failure.kind == "broken"
