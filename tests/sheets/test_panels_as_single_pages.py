"""A leaflet that is folded once is delivered as two sheets of its open size, or as the four pages that it closes to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Sides
from service.pdf.facts.measurements import Measurements
from service.product.fitting import fitted_to
from service.rules.judge import judge
from service.sheets.catalogue import stored_sheets
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import sheet_to_document
from service.sheets.matching import rank
from service.sheets.model import SpecSheet
from service.sheets.variants import in_single_pages, variants
from tests.rules.measured import content, document, judged, only_finding, outcome, page, run

HALF = read_sheet_text("""
pages: {allowed: [1, 2], arrangement: single-pages}
trim:
  {width: 297 mm, height: 210 mm, orientation: landscape, alternatives: [{width: 296 mm, height: 210 mm, folds: [148 mm]}]}
bleed: {minimum: 3 mm}
margin: {minimum: 3 mm}
keep_clear: [{name: stamp, box: [0, 0, 40 mm, 40 mm]}]
folds: [{at: 148.5 mm, axis: vertical, level: should}]
folding: {type: half, single_pages: allowed}
""")
BARE = {"trim": {"width": 297, "height": 210}, "folds": [{"at": 148.5, "axis": "vertical"}]}


def singly(count: int = 4, width: float = 148, height: float = 210, bleed: float = 3) -> Measurements:
    return document(*(page(width, height, bleed=bleed) for _ in range(count)))


def in_sheets(count: int, width: float = 297) -> Measurements:
    return singly(count, width)


@pytest.mark.parametrize("width", [148, 148.5])
def test_four_pages_of_the_closed_size_are_the_leaflet_too(width: float) -> None:
    for rule in ("trim.size", "pages.count", "pages.arrangement", "pages.orientation", "bleed.declared"):
        assert outcome(rule, singly(4, width), HALF) == "met", rule
    assert judge(singly(4, width), HALF).verdict.startswith("conforming")


@pytest.mark.parametrize("count", [1, 2])
def test_sheets_of_the_open_size_are_judged_as_before(count: int) -> None:
    assert not in_single_pages(fitted_to(HALF, in_sheets(count)))
    assert [outcome(rule, in_sheets(count), HALF) for rule in ("trim.size", "pages.count", "fold.panels")] == ["met"] * 3


@pytest.mark.parametrize("width", [293, 295, 299.5, 303])
def test_a_sheet_of_a_wrong_size_is_told_of_the_open_size_and_not_of_half_of_it(width: float) -> None:
    finding = only_finding("trim.size", in_sheets(2, width), HALF).finding
    assert finding.required["width_mm"] in (296, 297)
    assert judged("pages.arrangement", in_sheets(2, width), HALF)[1] == ()


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_single_pages_are_four(count: int) -> None:
    assert only_finding("pages.count", singly(count), HALF).finding.required == {"allowed": [4]}


def test_a_cover_alone_and_the_inside_as_a_spread_are_neither() -> None:
    made = document(page(148.5, 210), page(297, 210), page(148.5, 210))
    assert only_finding("pages.arrangement", made, HALF).finding.pages == (2,)


@pytest.mark.parametrize(("number", "bound"), [(1, "left"), (2, "right"), (3, "left"), (4, "right")])
def test_the_pages_need_no_bleed_at_the_fold(number: int, bound: str) -> None:
    other = "right" if bound == "left" else "left"
    for without, expected in ((bound, "met"), (other, "not_met")):
        pages = [page(148, 210, bleed=3) for _ in range(4)]
        pages[number - 1] = page(148, 210, bleed_mm=replace(Sides(3.0, 3.0, 3.0, 3.0), **{without: 0.0}))
        assert outcome("bleed.declared", document(*pages), HALF) == expected


def test_text_keeps_its_margin_at_the_fold() -> None:
    near = content(text=(run("Halyard", x=1.5, y=100),))
    made = document(page(148, 210, content=near), *[page(148, 210)] * 3)
    assert outcome("margin.text", made, HALF) == "not_met"


def test_of_areas_that_stay_clear_nothing_is_said_on_them() -> None:
    stamped = content(text=(run("Halyard", x=10, y=10),))
    made = document(page(148, 210, content=stamped), *[page(148, 210)] * 3)
    assert outcome("copy.keep-clear", made, HALF) == "not_applicable"


def test_a_sheet_that_counts_no_pages_counts_none_of_these() -> None:
    bare = read_sheet({**BARE, "folding": {"type": "half", "single_pages": "allowed"}})
    assert [one.pages for one in variants(bare)] == [None, None]
    assert outcome("trim.size", singly(), bare) == "met"


@pytest.mark.parametrize("said", [{}, {"single_pages": "forbidden"}])
def test_without_leave_they_are_refused_as_ever(said: dict[str, str]) -> None:
    assert len(variants(read_sheet({**BARE, "folding": {"type": "half", **said}}))) == 1


def test_it_comes_back_as_written() -> None:
    written = sheet_to_document(HALF)
    assert written["folding"] == {"type": "half", "single_pages": "allowed"}
    assert read_sheet(written) == HALF


@pytest.mark.parametrize(
    ("kind", "folds"),
    [
        ("half", [("horizontal", 105)]),
        ("half", [("vertical", 148.5), ("horizontal", 105)]),
        ("zigzag", [("vertical", 99), ("vertical", 198)]),
    ],
)
def test_it_is_for_one_upright_fold(kind: str, folds: list[tuple[str, float]]) -> None:
    document_ = {
        "trim": {"width": 297, "height": 210},
        "folds": [{"at": at, "axis": axis} for axis, at in folds],
        "folding": {"type": kind, "single_pages": "allowed"},
    }
    with pytest.raises(SheetRefused) as refused:
        read_sheet(document_)
    assert [pointer for pointer, _ in refused.value.errors] == ["/folding/single_pages"]


def stored_once_folded() -> list[SpecSheet]:
    """Greeting cards apart: in which order their pages come is each printer's own."""
    folded = (sheet for sheet in stored_sheets().values() if sheet.folding and sheet.folding.type == "half")
    return [sheet for sheet in folded if len(sheet.folds) == 1 and sheet.product != "greeting-card"]


@pytest.mark.parametrize("sheet", stored_once_folded(), ids=lambda sheet: str(sheet.id))
def test_each_stored_leaflet_of_one_upright_fold_takes_them(sheet: SpecSheet) -> None:
    assert sheet.trim
    made = singly(4, sheet.folds[0].at_mm, sheet.trim.height_mm, bleed=4)
    assert {outcome(rule, made, sheet) for rule in ("trim.size", "pages.count", "bleed.declared")} == {"met"}
    assert outcome("pages.orientation", made, sheet) != "not_met"


def test_they_are_found_by_their_size_and_count() -> None:
    found = rank(singly(), [HALF, *stored_sheets().values()])
    assert {None, "leaflet-a5-half-4"} <= {match.sheet.id for match in found if match.fits}
    assert "leaflet-a5-half-4" not in {match.sheet.id for match in rank(singly(2), stored_sheets().values()) if match.fits}
