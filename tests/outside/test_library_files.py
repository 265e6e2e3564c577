"""Every stored sheet against files of independent producers: a right one conforms, one that breaks a demand does not."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from zlib import crc32

import pytest
import typst

from service.rules.catalogue import RULES
from service.sheets.catalogue import stored_sheets
from service.sheets.model import SpecSheet
from service.sheets.order import for_order
from tests.outside_tools import drawing_package
from tests.sheets.breaks import Break, breaks_of
from tests.sheets.each_demand import amiss, broken, judged, ordered
from tests.sheets.right_files import made_for
from tests.sweeps import part_of

IDS = list(stored_sheets())


@pytest.mark.parametrize("sheet_id", part_of(IDS, one_in=4))
def test_a_right_file_conforms(sheet_id: str, tmp_path: Path) -> None:
    """By reportlab, which writes TrimBox, BleedBox, CMYK and spots."""
    sheet = ordered(sheet_id)
    found = judged(made_for(sheet), sheet, tmp_path)
    assert (found.verdict, broken(found, "must"), broken(found, "should")) == ("conforming", set(), set())


def _each_demand_once() -> dict[str, tuple[str, Break]]:
    """Each demand with one of the sheets that have it: that which tries the fewest others, so that many sheets take part."""
    having: dict[str, list[tuple[str, Break]]] = {}
    for sheet_id in IDS:
        for one in breaks_of(ordered(sheet_id)):
            if one.rule != "file.size" or one.demand.endswith("(5 MB)"):  # larger ones take long to write
                having.setdefault(one.demand.partition("[].box: ")[0], []).append((sheet_id, one))
    taken: Counter[str] = Counter()
    chosen = {}
    for demand in sorted(having, key=lambda one: len(having[one])):
        chosen[demand] = min(having[demand], key=lambda one: (taken[one[0]], crc32(one[0].encode())))
        taken[chosen[demand][0]] += 1
    return chosen


DEMANDS = _each_demand_once()


@pytest.mark.parametrize("demand", DEMANDS)
def test_a_file_that_breaks_one_demand_is_told_so_by_the_rule_on_it(demand: str, tmp_path: Path) -> None:
    """`python -m tests.sheets.each_demand` does so for each demand of every sheet."""
    sheet_id, one = DEMANDS[demand]
    sheet = ordered(sheet_id)
    assert amiss(one, judged(one.file(sheet), sheet, tmp_path)) is None


def test_every_must_of_the_stored_sheets_can_be_broken() -> None:
    """Whatever rule a stored sheet asks for with a must has a file in the table that breaks it."""
    rules = {one.rule for _, one in DEMANDS.values()}
    on_demand = [rule for rule in RULES.values() if rule.level == "must" and rule.asked_by != "always"]
    asked = {
        rule.id
        for sheet in map(ordered, IDS)
        for rule in on_demand
        if sheet.levels.get(rule.id) != "off" and rule.asks(sheet) is not None
    }
    assert asked - rules == {"fold.panels"}, "a page of the right size folds as the sheet says; a wrong one is told by trim.size"


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


@pytest.mark.parametrize("sheet_id", [one for one in IDS if one.startswith("book-") and one.endswith("-cover")])
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
