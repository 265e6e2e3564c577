"""Every stored sheet against files of independent producers: a right one conforms, one with a single fault does not."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
import typst

from service.jobs.question import question_for
from service.pdf.measure import measure
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.sheets.catalogue import stored_sheets
from service.sheets.model import SpecSheet
from service.sheets.order import for_order
from tests.outside_tools import drawing_package
from tests.sheets.right_files import Fault, faults_of, made_for
from tests.sweeps import WHOLE, part_of

ORDER = {"inner_pages": 160, "caliper_mm": 0.1}
IDS = list(stored_sheets())


def ordered(sheet_id: str) -> SpecSheet:
    return for_order(stored_sheets()[sheet_id], ORDER)


def judged(made: bytes, sheet: SpecSheet, folder: Path) -> Judgement:
    path = folder / "made.pdf"
    path.write_bytes(made)
    return judge(measure(path, question_for(sheet)), sheet)


def broken(judgement: Judgement, level: str) -> set[str]:
    return {one.rule for one in judgement.findings if one.level == level}


@pytest.mark.parametrize("sheet_id", part_of(IDS, one_in=4))
def test_a_right_file_conforms(sheet_id: str, tmp_path: Path) -> None:
    """By reportlab, which writes TrimBox, BleedBox, CMYK and spots."""
    sheet = ordered(sheet_id)
    found = judged(made_for(sheet), sheet, tmp_path)
    assert (found.verdict, broken(found, "must"), broken(found, "should")) == ("conforming", set(), set())


def _one_fault_a_sheet() -> dict[str, tuple[Fault, str]]:
    """For each sheet that of its faults which has been tried on the fewest sheets before; of those the rarest."""
    chosen: dict[str, tuple[Fault, str]] = {}
    possible = Counter(fault for sheet_id in IDS for fault in faults_of(ordered(sheet_id)))
    for sheet_id in IDS:
        tried = Counter(fault for fault, _ in chosen.values())
        faults = faults_of(ordered(sheet_id))
        fault = min(faults, key=lambda one: (tried[one], possible[one]))
        chosen[sheet_id] = fault, faults[fault]
    return chosen


FAULTS = _one_fault_a_sheet()
TIMES = Counter[str]()
TRIED = [one for one in IDS if WHOLE or TIMES.update([FAULTS[one][1]]) or TIMES[FAULTS[one][1]] <= 3]
"""Each rule on three sheets; in a whole sweep all sheets."""


@pytest.mark.parametrize("sheet_id", TRIED)
def test_a_file_with_one_fault_breaks_the_rule_on_it(sheet_id: str, tmp_path: Path) -> None:
    sheet, (fault, rule) = ordered(sheet_id), FAULTS[sheet_id]
    found = judged(made_for(sheet, fault), sheet, tmp_path)
    assert (found.verdict, broken(found, "must")) == ("nonconforming", {rule}), fault


def test_every_kind_of_fault_is_tried() -> None:
    every = {rule for sheet_id in IDS for rule in faults_of(ordered(sheet_id)).values()}
    assert {FAULTS[sheet_id][1] for sheet_id in TRIED} == every
    assert len(every) == 11


# --- Other producers --------------------------------------------------------------------------------------------------


def by_weasyprint(sheet: SpecSheet, pages: int) -> bytes:
    """Black ink alone on white, TrimBox and BleedBox by CSS (its BleedBox reaches 10 pt at most, seen: enough for 1/8 in)."""
    assert sheet.trim
    assert sheet.bleed
    size = f"size: {sheet.trim.width_mm}mm {sheet.trim.height_mm}mm; bleed: {sheet.bleed.minimum_mm}mm; margin: 8mm"
    style = f"@page {{ {size} }} p {{ color: device-cmyk(0 0 0 1); font: 9pt sans-serif; break-after: page }}"
    made = drawing_package("weasyprint").HTML(string=f"<style>{style}</style>" + "<p>Halyard Lane Bakery</p>" * pages).write_pdf()
    assert made is not None
    return bytes(made)


@pytest.mark.parametrize(
    ("sheet_id", "pages"), [("flyer-a6", 1), ("flyer-us-letter", 2), ("booklet-a6-stapled", 8), ("business-card-91x55", 2)]
)
def test_a_right_file_by_weasyprint_conforms(sheet_id: str, pages: int, tmp_path: Path) -> None:
    sheet = ordered(sheet_id)
    found = judged(by_weasyprint(sheet, pages), sheet, tmp_path)
    assert (found.verdict, broken(found, "must"), broken(found, "should")) == ("conforming", set(), set())


@pytest.mark.parametrize("sheet_id", ["letterhead-a4", "newspaper-tabloid"])
def test_a_file_by_typst_conforms_but_says_not_where_it_is_trimmed(sheet_id: str, tmp_path: Path) -> None:
    """By typst, which writes a MediaBox only. Nothing of white paper is lost without bleed, so both are observations."""
    sheet = ordered(sheet_id)
    assert sheet.trim
    size = f"width: {sheet.trim.width_mm}mm, height: {sheet.trim.height_mm}mm, margin: 12mm"
    pages = " #pagebreak() ".join(["Halyard Lane Bakery"] * (1 if sheet.keep_clear else 4))
    made = typst.compile(f"#set page({size})\n#set text(fill: cmyk(0%, 0%, 0%, 100%))\n{pages}".encode(), format="pdf")
    assert isinstance(made, bytes)
    found = judged(made, sheet, tmp_path)
    harmless = {"trim.declared"}
    assert (found.verdict, broken(found, "should")) == ("conforming_with_observations", harmless)


# --- What only the order knows ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("sheet_id", [one for one in IDS if one.endswith("-cover")])
def test_a_cover_without_its_order_is_not_passed(sheet_id: str, tmp_path: Path) -> None:
    found = judged(made_for(ordered(sheet_id)), stored_sheets()[sheet_id], tmp_path)
    assert found.verdict == "inconclusive"
    assert {one.rule for one in found.rules if one.reason and one.level == "must"} == {"spine.width"}


def test_the_spine_follows_the_order(tmp_path: Path) -> None:
    """Arithmetic: 160 pages are 80 leaves of 0.1 mm, and twice a cover of 0.3 mm: 8.6 mm. 200 pages make 2 mm more."""
    made = made_for(ordered("book-a5-cover"))
    thicker = for_order(stored_sheets()["book-a5-cover"], {"inner_pages": 200, "caliper_mm": 0.1})
    (finding,) = judged(made, thicker, tmp_path).findings
    assert finding.rule == "spine.width"
    assert finding.finding.measured["spine_mm"] == pytest.approx(8.6, abs=0.02)
    assert finding.finding.required["spine_mm"] == pytest.approx(10.6)
