"""One file in several children: what one of them cannot do takes nothing else along, and nothing depends on who did what."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path

import pytest

from service.jobs.children import sandbox
from service.jobs.children.measuring import side_by_side
from service.jobs.children.measuring.check import Result, Unfinished, run
from service.jobs.children.measuring.cores import Cores, _running_now
from service.jobs.children.measuring.heard import HeardOfStretch
from service.jobs.children.measuring.side_by_side import SideBySide
from service.jobs.children.sandbox import Interrupted
from service.jobs.children.tasks import MOST_PAGES_JUDGED_AT_ONCE, Limits, Task
from service.pdf.codec import WrittenPage, measurements_to_json, page_to_json
from service.pdf.facts.page import Page
from service.pdf.facts.parts import DocumentPart, PagePart
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.pdf.measure import measure, parts_of
from service.sheets.model import BleedAsked, SpecSheet, TrimAsked
from tests.build import document, page
from tests.jobs.children import processes
from tests.jobs.part_faults import BAD

CARD = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55), bleed=BleedAsked(minimum_mm=3))
LIMITS = Limits(seconds=60, memory_bytes=2**30)
PAGES = 6


@pytest.fixture(scope="module")
def booklet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("pdf") / "booklet.pdf"
    document(*(page(85, 55, bleed=3).fill(cyan=(at + 1) / 10) for at in range(PAGES))).save(path)
    return path


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("pdf") / "book.pdf"
    count = MOST_PAGES_JUDGED_AT_ONCE + 1
    document(*(page(85, 55, bleed=3).text(f"Page {at}", size=8, at=(12, 45)) for at in range(count))).save(path)
    return path


@pytest.fixture(autouse=True)
def _no_process_stays() -> Iterator[None]:
    yield
    assert processes.children_of(sandbox.SERVER) == set()


def test_who_wants_the_result_at_once_waits_for_the_end_of_its_last_child_later(booklet: Path) -> None:
    with ExitStack() as endings:
        result = run(Task(sheet=CARD, pdf=booklet), LIMITS, endings=endings)
        assert len(pages_of(result)) == PAGES
    assert processes.children_of(sandbox.SERVER) == set()


def fault(name: str, pdf: Path, limits: Limits = LIMITS) -> Result:
    return run(Task(sheet=CARD, pdf=pdf, parts=f"tests.jobs.part_faults:{name}"), limits)


def pages_of(result: Result) -> tuple[Page, ...]:
    assert not isinstance(result.measurements.pages, Unmeasured)
    return result.measurements.pages


def lost(result: Result) -> list[int]:
    return [one.number for one in pages_of(result) if isinstance(one.content, Unmeasured)]


def outcome(result: Result, rule: str) -> str:
    return next(one.outcome for one in result.judgement.rules if one.rule == rule)


def children_of(monkeypatch: pytest.MonkeyPatch, cores: Cores) -> list[Task]:
    """What the children are told that are started from now on, on so many cores."""
    started: list[Task] = []
    start = SideBySide._start

    def noted(self: SideBySide, task: Task, heard: HeardOfStretch) -> None:
        started.append(task)
        start(self, task, heard)

    monkeypatch.setattr(side_by_side, "CORES", cores)
    monkeypatch.setattr(SideBySide, "_start", noted)
    return started


@pytest.mark.parametrize("name", ["page_aborts", "page_eats_memory", "page_is_another"])
def test_a_page_that_ends_its_child_takes_no_other_along(name: str, booklet: Path) -> None:
    result, right = fault(name, booklet), measure(booklet)
    assert [one.number for one in pages_of(result)] == list(range(1, PAGES + 1))
    assert lost(result) == [BAD]
    bad = pages_of(result)[BAD - 1]
    assert isinstance(bad.content, BeyondLimits)
    assert isinstance(bad.plates, BeyondLimits)
    assert not isinstance(right.pages, Unmeasured)
    assert bad.boxes_mm == right.pages[BAD - 1].boxes_mm
    assert [one for one in pages_of(result) if one.number != BAD] == [one for one in right.pages if one.number != BAD]
    assert result.measurements.document == right.document


def test_what_a_limit_ended_is_not_measured_and_nothing_is_said_against_the_file(booklet: Path) -> None:
    result = fault("page_aborts", booklet)
    assert (result.judgement.verdict, result.judgement.findings) == ("inconclusive", ())
    assert outcome(result, "file.readable") == "not_measured"
    assert outcome(result, "trim.size") == "met"


def test_a_page_that_hangs_leaves_half_of_the_time_to_the_others(booklet: Path) -> None:
    result = fault("page_hangs", booklet, Limits(seconds=6, memory_bytes=2**30))
    assert lost(result) == [BAD]


def test_when_time_is_over_what_was_measured_stays(booklet: Path) -> None:
    result = fault("everything_from_there_hangs", booklet, Limits(seconds=3, memory_bytes=2**30))
    assert lost(result) == list(range(BAD, PAGES + 1))
    assert {round(one.boxes_mm.trim.width, 2) for one in pages_of(result)} == {85}
    assert result.judgement.verdict == "inconclusive"


def test_facts_that_end_their_child_leave_the_pages(booklet: Path) -> None:
    result, right = fault("facts_abort", booklet), measure(booklet)
    assert result.measurements.pages == right.pages
    assert isinstance(result.measurements.document.features, BeyondLimits)
    assert result.measurements.document.page_count == PAGES
    assert (result.judgement.verdict, result.judgement.findings) == ("inconclusive", ())


def test_without_the_boxes_of_every_page_nothing_is_said_of_pages(booklet: Path) -> None:
    result = fault("not_even_boxes", booklet)
    assert isinstance(result.measurements.pages, BeyondLimits)
    assert result.measurements.document.failure is None
    assert (result.judgement.verdict, result.judgement.findings) == ("inconclusive", ())


def test_a_file_measured_side_by_side_comes_out_as_in_one_child(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started = children_of(monkeypatch, Cores(3))
    steps: list[tuple[int, int]] = []
    task = Task(sheet=CARD, pdf=book, parts="tests.jobs.part_faults:pages_take_their_time")
    result = run(task, LIMITS, lambda _stage, done, pages: steps.append((done, pages)))
    assert len(started) > 2
    assert result.measurements == measure(book)
    assert steps == sorted(steps)
    assert steps[-1] == (MOST_PAGES_JUDGED_AT_ONCE + 1, MOST_PAGES_JUDGED_AT_ONCE + 1)


def test_the_latter_half_of_a_long_file_waits_for_no_page_of_the_first(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(side_by_side, "USUAL_PAGE_SECONDS", 1.0)
    monkeypatch.setattr(side_by_side, "LOOK_EVERY_SECONDS", 60.0)  # the second child is no matter of time that goes by
    started = children_of(monkeypatch, Cores(2))
    count = MOST_PAGES_JUDGED_AT_ONCE + 1
    assert run(Task(sheet=CARD, pdf=book, parts="tests.jobs.part_faults:facts_hang"), Limits(3, 2**30)).text
    assert started[1].stretch.numbers == tuple(range(count - count // 2 + 1, count + 1))


def test_one_core_is_one_child(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started = children_of(monkeypatch, Cores(1))
    assert run(Task(sheet=CARD, pdf=book), LIMITS).measurements == measure(book)
    assert len(started) == 1


def test_where_others_keep_all_cores_busy_one_child_measures(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started = children_of(monkeypatch, Cores(3, lambda: 4))
    task = Task(sheet=CARD, pdf=book, parts="tests.jobs.part_faults:pages_take_their_time")
    assert run(task, LIMITS).measurements == measure(book)
    assert [one.stretch for one in started] == [task.stretch]


def test_the_kernel_counts_who_asks_among_those_that_run() -> None:
    assert _running_now() >= (1 if Path("/proc/loadavg").exists() else 0)


def test_checks_share_the_cores_and_each_has_one() -> None:
    cores = Cores(4)
    with cores.check():
        assert cores.share == 4
        with cores.check():
            assert cores.share == 2
            with cores.check(), cores.check(), cores.check():
                assert cores.share == 1
        assert cores.share == 4


# --- Stopped for others -------------------------------------------------------------------------------------------------


def test_a_check_that_was_stopped_goes_on_with_the_pages_that_it_has(booklet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    task = Task(sheet=CARD, pdf=booklet, parts="tests.jobs.part_faults:pages_take_their_time")
    done = 0

    def note(_stage: str, pages: int, _of: int) -> None:
        nonlocal done
        done = pages

    started = children_of(monkeypatch, Cores(1))
    with pytest.raises(Interrupted) as interrupted:
        run(task, LIMITS, note, lambda: done >= 2)
    unfinished = interrupted.value.unfinished
    assert isinstance(unfinished, Unfinished)
    assert set(unfinished.pages) == set(range(1, done + 1))
    started.clear()
    result = run(replace(task, parts=Task(sheet=CARD).parts), LIMITS, before=unfinished)
    assert [one.stretch.numbers for one in started] == [tuple(range(done + 1, PAGES + 1))]
    assert not any(one.stretch.with_document for one in started)
    whole = run(Task(sheet=CARD, pdf=booklet), LIMITS)
    assert (result.measurements, result.judgements) == (whole.measurements, whole.judgements)


def test_nothing_is_measured_again_where_only_the_judging_was_left(booklet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started = children_of(monkeypatch, Cores(1))
    whole = run(Task(sheet=CARD, pdf=booklet), LIMITS)
    document_part, pages = parts_in(booklet)
    started.clear()
    result = run(Task(sheet=CARD, pdf=booklet), LIMITS, before=Unfinished(document_part, pages))
    assert (started, result.judgements) == ([], whole.judgements)


@pytest.mark.parametrize("name", ["page_aborts", "everything_from_there_hangs"])
def test_what_is_kept_is_what_children_wrote_and_reads_the_same(name: str, booklet: Path) -> None:
    for result in (run(Task(sheet=CARD, pdf=booklet), LIMITS), fault(name, booklet, Limits(seconds=3, memory_bytes=2**30))):
        assert result.text == measurements_to_json(result.measurements)


def parts_in(pdf: Path) -> tuple[DocumentPart, dict[int, WrittenPage]]:
    found = list(parts_of(pdf))
    complete = next(one for one in found if isinstance(one, DocumentPart) and one.complete)
    return complete, {one.page.number: WrittenPage(one, page_to_json(one)) for one in found if isinstance(one, PagePart)}
