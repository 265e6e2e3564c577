"""A long file judged by a child that hears of its pages as they come."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path

import pytest

from service.jobs.children import sandbox
from service.jobs.children.measuring import check, judged_along
from service.jobs.children.measuring.check import Result, run
from service.jobs.children.measuring.side_by_side import Unfinished
from service.jobs.children.sandbox import SERVER, Interrupted
from service.jobs.children.tasks import MOST_PAGES_JUDGED_AT_ONCE, Limits, Task
from service.jobs.judging import judge_in_every_language
from service.pdf.facts.measurements import Measurements
from service.pdf.measure import measure
from service.sheets.model import BleedAsked, SpecSheet, TrimAsked
from tests.build import document, page
from tests.jobs.children.processes import children_of
from tests.jobs.part_faults import BAD

SHEET = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55), bleed=BleedAsked(minimum_mm=3))
LIMITS = Limits(seconds=60, memory_bytes=2**30)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Its pages are more than a pipe holds."""
    leaves = [page(85, 55, bleed=3) for _ in range(MOST_PAGES_JUDGED_AT_ONCE + 2)]
    for at, leaf in enumerate(leaves):
        for line in range(12):
            leaf.text(f"Page {at}, line {line}", size=8, at=(12, 6 + 4 * line))
    return document(*leaves, page(90, 55)).save(tmp_path_factory.mktemp("pdf") / "book.pdf")


@pytest.fixture(scope="module")
def found(book: Path) -> Measurements:
    return measure(book)


@pytest.fixture(autouse=True)
def _no_process_stays() -> Iterator[None]:
    yield
    assert children_of(sandbox.SERVER) == set()


def judged_once_all_is_measured(monkeypatch: pytest.MonkeyPatch) -> list[Task]:
    """What is told to children that get the whole to judge."""
    told: list[Task] = []
    in_one_piece = check._in_one_piece

    def noted(task: Task, *others: object) -> Result:
        told.append(task)
        return in_one_piece(task, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(check, "_in_one_piece", noted)
    return told


def test_it_is_judged_by_who_heard_of_its_pages(book: Path, found: Measurements, monkeypatch: pytest.MonkeyPatch) -> None:
    told = judged_once_all_is_measured(monkeypatch)
    result = run(Task(sheet=SHEET, pdf=book), LIMITS)
    assert (result.measurements, result.judgements) == (found, judge_in_every_language(found, SHEET))
    assert result.judgement.verdict == "nonconforming"
    assert told == []


def test_pages_that_were_lost_are_heard_of_too(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told = judged_once_all_is_measured(monkeypatch)
    result = run(Task(sheet=SHEET, pdf=book, parts="tests.jobs.part_faults:page_aborts"), LIMITS)
    assert result.judgements == judge_in_every_language(result.measurements, SHEET)
    assert next(one for one in result.judgement.rules if one.rule == "file.readable").outcome == "not_measured"
    assert told == []


def test_pages_that_were_measured_before_are_heard_of_too(
    book: Path, found: Measurements, monkeypatch: pytest.MonkeyPatch
) -> None:
    told, steps = judged_once_all_is_measured(monkeypatch), []
    with pytest.raises(Interrupted) as interrupted:
        run(Task(sheet=SHEET, pdf=book), LIMITS, lambda *step: steps.append(step), lambda: len(steps) > BAD)
    assert isinstance(unfinished := interrupted.value.unfinished, Unfinished)
    assert 0 < len(unfinished.pages) < MOST_PAGES_JUDGED_AT_ONCE
    assert run(Task(sheet=SHEET, pdf=book), LIMITS, before=unfinished).judgements == judge_in_every_language(found, SHEET)
    assert told == []


def test_who_is_slow_to_hear_holds_nobody_up(book: Path, found: Measurements, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judged_along, "JUDGING", "tests.jobs.judging_faults:judges_slowly")
    told = judged_once_all_is_measured(monkeypatch)
    assert run(Task(sheet=SHEET, pdf=book), LIMITS).judgements == judge_in_every_language(found, SHEET)
    assert told == []


@pytest.mark.parametrize(("name", "seconds"), [("ends_at_the_third_page", 60), ("has_no_room", 60), ("hears_nothing", 4)])
def test_where_it_fails_another_judges(
    name: str, seconds: float, book: Path, found: Measurements, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(judged_along, "JUDGING", f"tests.jobs.judging_faults:{name}")
    told = judged_once_all_is_measured(monkeypatch)
    result = run(Task(sheet=SHEET, pdf=book), replace(LIMITS, seconds=seconds))
    assert result.judgements == judge_in_every_language(found, SHEET)
    assert [one.measurements for one in told] == [result.text]


@pytest.mark.parametrize(("pages", "is_heard"), [(MOST_PAGES_JUDGED_AT_ONCE, False), (MOST_PAGES_JUDGED_AT_ONCE + 1, True)])
def test_nobody_hears_of_a_short_file(pages: int, is_heard: bool, book: Path) -> None:
    with ExitStack() as endings:
        along = judged_along.JudgedAlong(Task(sheet=SHEET, pdf=book), LIMITS, endings)
        along.tell(pages, "{}")
        assert (along._child is not None) is is_heard


def test_it_holds_nothing_open_but_its_ends_of_two_pipes() -> None:
    with SERVER.child("tests.jobs.judging_faults:tells_what_is_open", Task(sheet=SHEET), LIMITS, hears=True) as child:
        assert child.exit_code(30) == 0
        said = os.read(child.pipe, 2**16).decode()
    opened = [line.split(" ", 1)[1].split(":")[0] for line in said.split("'")[1].split("\\n")]
    assert opened == ["/dev/null"] * 3 + ["pipe"] * 2
