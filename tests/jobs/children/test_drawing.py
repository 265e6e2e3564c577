"""Something drawn in a child process: whatever the child does, the answer is bytes or a reason, and the child is gone."""

from __future__ import annotations

import mmap
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.jobs.children.drawing import draw
from service.jobs.children.failures import OutOfTime
from service.jobs.children.sandbox import SERVER, SandboxBroken
from service.jobs.children.tasks import DrawingTask, Limits
from service.pdf.facts.unknown import Unmeasured
from tests.build import page
from tests.jobs.children.processes import children_of

LIMITS = Limits(seconds=60, memory_bytes=2**30)


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return page(85, 55, bleed=3).fill(cyan=1).save(tmp_path_factory.mktemp("pdf") / "card.pdf")


@pytest.fixture(autouse=True)
def _no_process_stays() -> Iterator[None]:
    yield
    assert children_of(SERVER) == set()


def drawn(name: str, card: Path, limits: Limits = LIMITS) -> bytes | Unmeasured:
    return draw(DrawingTask(pdf=card, brief=("plate", 1), draw=f"tests.jobs.drawing_faults:{name}"), limits)


def test_bytes_come_through_as_they_are(card: Path) -> None:
    assert drawn("draws", card) == b"R{}\nE\n" * 100_000 + b"('plate', 1)"


def test_a_reason_comes_through_as_it_is(card: Path) -> None:
    assert drawn("has_a_reason", card) == Unmeasured("The page is damaged. Export it again.")


def test_a_child_holds_nothing_open_but_its_end_of_the_pipe(card: Path) -> None:
    """A byte into the fork server's own pipes would end it, at the cost of everybody else's check."""
    found = drawn("lists_open_files", card)
    assert isinstance(found, bytes)
    leads_to = dict(line.split(" ", 1) for line in found.decode().splitlines())
    assert [leads_to.pop(stream) for stream in "012"] == ["/dev/null"] * 3
    assert [one.split(":")[0] for one in leads_to.values()] == ["pipe"]


def test_memory_that_is_let_go_is_used_again(card: Path) -> None:
    """New memory costs a page of it at a time: a child would touch 28 MB here where 7 are enough."""
    told = drawn("tells_what_memory_used_again_has_cost", card)
    assert isinstance(told, bytes)
    assert int(told) * mmap.PAGESIZE < 14 * 2**20


@pytest.mark.parametrize(("added", "comes"), [(2**20, True), (1, False)])
def test_what_is_drawn_may_be_about_as_large_as_the_file_where_that_is_large(
    added: int, comes: bool, card: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.children.drawing.MOST_DRAWN_BYTES", 1000)
    monkeypatch.setattr("service.jobs.children.drawing.MOST_ADDED_BYTES", added)
    assert isinstance(drawn("draws", card), bytes) is comes


@pytest.mark.parametrize(
    "name",
    [
        "aborts", "leaves", "raises", "eats_memory", "says_garbage", "says_too_much", "says_more_than_told",
        "says_less_than_told", "says_a_line_without_end", "says_an_endless_reason", "says_a_reason_that_is_none",
    ],
)
def test_what_goes_wrong_in_the_child_is_a_reason(name: str, card: Path) -> None:
    found = drawn(name, card)
    assert isinstance(found, Unmeasured)
    assert not isinstance(found, OutOfTime)
    assert len(found.why) < 200


def test_a_child_that_takes_too_long_is_ended(card: Path) -> None:
    assert isinstance(drawn("hangs", card, Limits(seconds=0.5, memory_bytes=2**31)), OutOfTime)


def test_a_child_that_cannot_begin_is_our_own_fault(card: Path) -> None:
    with pytest.raises(SandboxBroken):
        drawn("no_such_function", card)


def test_a_file_that_is_gone_is_told_apart(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        drawn("draws", tmp_path / "gone.pdf")
