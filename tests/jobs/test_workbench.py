"""Questions that are answered while the caller waits: in the sandbox, and only so many at once."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest

from service.jobs.children.tasks import Limits
from service.jobs.queue_full import QueueFull
from service.jobs.workbench import Workbench
from service.pdf.facts.unknown import Unmeasured
from tests.build import page
from tests.patience import PATIENCE_SECONDS, ended, until

LIMITS = Limits(seconds=60, memory_bytes=2**31)


@pytest.fixture
def card(tmp_path: Path) -> Path:
    page(85, 55, bleed=3).text("Halyard Lane Bakery", size=9, at=(10, 20)).save(tmp_path / "card.pdf")
    return tmp_path / "card.pdf"


def test_sizes_are_asked_for_without_what_the_pages_paint(card: Path) -> None:
    workbench = Workbench(LIMITS, at_once=1, wait_seconds=1)
    sizes, everything = workbench.sizes(card).pages, workbench.everything(card).pages
    assert not isinstance(sizes, Unmeasured)
    assert not isinstance(everything, Unmeasured)
    assert isinstance(sizes[0].content, Unmeasured)
    assert not isinstance(everything[0].content, Unmeasured)


def test_who_finds_too_many_asking_is_told_to_come_again(card: Path) -> None:
    hangs = "tests.jobs.faults:hangs"
    workbench = Workbench(Limits(seconds=0.5, memory_bytes=2**31), at_once=1, wait_seconds=0.1, most_callers=9, measure=hangs)
    with workbench.turn(), pytest.raises(QueueFull) as full:
        workbench.sizes(card)
    assert full.value.retry_after_seconds > 0
    measured = workbench.sizes(card)
    assert measured.document.failure is not None
    assert measured.document.failure.kind == "limits"


def test_who_would_take_a_thread_from_quick_answers_is_told_at_once(card: Path) -> None:
    """One is measured and one waits, so that two threads are held; a third caller would wait long, and need not."""
    workbench = Workbench(LIMITS, at_once=1, wait_seconds=PATIENCE_SECONDS, most_callers=2)
    measured, refused = [], []

    def ask() -> None:
        try:
            measured.append(workbench.sizes(card))
        except QueueFull as full:
            refused.append(full.retry_after_seconds)

    callers = [threading.Thread(target=ask) for _ in range(2)]
    with workbench.turn():
        for one in callers:
            one.start()
        until(lambda: refused, "one of them told")
        assert (len(refused), measured) == (1, [])
    for one in callers:
        ended(one)
    assert refused[0] > 0
    assert (len(refused), len(measured)) == (1, 1)
