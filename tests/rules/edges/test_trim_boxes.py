"""The page boxes, one inside the other."""

from __future__ import annotations

from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import DeclaredBox, Page
from service.pdf.facts.unknown import Failure
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.measured import document, only_finding, outcome, page

NO_PAGES = Measurements.unreadable(10, Failure("broken", "no trailer"))


def test_no_pages_are_no_pass() -> None:
    assert outcome("trim.boxes", NO_PAGES, SpecSheet()) == "not_measured"


def boxed(**boxes: Box) -> Page:
    """A right card with these boxes declared instead of its own, or in addition."""
    right: dict[str, Box] = {one.name: one.box for one in page().declared_boxes}
    declared: Any = {**right, **boxes}
    return page(declared_boxes=tuple(fact(DeclaredBox, name, box) for name, box in declared.items()))


def test_boxes_one_inside_the_other_are_right() -> None:
    assert outcome("trim.boxes", document(boxed(crop=Box(-3, -3, 88, 58), art=Box(5, 5, 80, 50))), SpecSheet()) == "met"


@pytest.mark.parametrize(
    ("boxes", "box", "inside", "excess"),
    [
        ({"bleed": Box(-5, -3, 88, 58)}, "bleed", "media", 2),
        ({"bleed": Box(-3, -5.5, 88, 58)}, "bleed", "media", 2.5),
        ({"bleed": Box(1, 0, 85, 55)}, "trim", "bleed", 1),
        ({"crop": Box(0, 0, 85, 54)}, "trim", "crop", 1),
        ({"trim": Box(0, 0, 91, 55)}, "trim", "media", 3),
        ({"art": Box(-4, 0, 85, 55)}, "art", "media", 1),
    ],
)
def test_a_box_outside_the_box_that_should_hold_it(boxes: dict[str, Box], box: str, inside: str, excess: float) -> None:
    found = only_finding("trim.boxes", document(boxed(**boxes)), SpecSheet())
    assert found.level == "must"
    assert found.finding.measured == {"box": box, "problem": "outside another box", "excess_mm": excess}
    assert found.finding.required == {"inside": inside}
    assert found.finding.places[0].box_mm == boxes.get(box, Box(0, 0, 85, 55))


def test_a_view_larger_than_the_sheet_is_an_observation() -> None:
    """The CropBox is cut to the sheet wherever it is used: nothing is placed or printed otherwise. A bleed that is not there is
    a must.
    """
    found = only_finding("trim.boxes", document(boxed(crop=Box(-3, -3, 88, 62))), SpecSheet())
    assert found.level == "should"
    assert found.finding.measured == {"box": "crop", "problem": "outside another box", "excess_mm": 4}
    assert only_finding("trim.boxes", document(boxed(bleed=Box(-3, -3, 88, 62))), SpecSheet()).level == "must"
    assert only_finding("trim.boxes", document(boxed(crop=Box(200, 0, 285, 55))), SpecSheet()).level == "must"


def test_pages_with_one_fault_are_told_together_with_the_widest_of_them() -> None:
    pages = (boxed(bleed=Box(-4, -3, 88, 58)), page(), boxed(bleed=Box(-5, -3, 88, 58)), boxed(bleed=Box(-4, -3, 88, 58)))
    finding = only_finding("trim.boxes", document(*pages), SpecSheet()).finding
    assert (finding.pages, finding.measured["excess_mm"]) == ((1, 3, 4), 2)


def test_a_trim_off_its_sheet_is_seen_where_no_other_box_is_declared() -> None:
    """A product of 91 mm on a sheet of 91 mm, set 3 mm to the right of its corner."""
    sheet, trim = Box(-3, -3, 88, 58), Box(0, 0, 91, 55)
    bare = page(declared_boxes=(fact(DeclaredBox, "media", sheet), fact(DeclaredBox, "trim", trim)))
    assert only_finding("trim.boxes", document(bare), SpecSheet()).finding.measured["excess_mm"] == 3


@pytest.mark.parametrize(("right", "expected"), [(88.05, "met"), (88.06, "not_met")])
def test_boxes_that_differ_by_rounding_nest(right: float, expected: str) -> None:
    assert outcome("trim.boxes", document(boxed(bleed=Box(-3, -3, right, 58))), SpecSheet()) == expected


def test_an_empty_box_and_one_off_the_sheet() -> None:
    empty = only_finding("trim.boxes", document(boxed(art=Box(10, 10, 10, 40))), SpecSheet()).finding
    assert empty.measured == {"box": "art", "problem": "empty", "excess_mm": 0}
    assert empty.places[0].box_mm == (0, 0, 85, 55)
    off = only_finding("trim.boxes", document(boxed(bleed=Box(200, 0, 300, 55))), SpecSheet()).finding
    assert off.measured == {"box": "bleed", "problem": "off the sheet", "excess_mm": 0}
    assert off.places[0].box_mm == (0, 0, 85, 55)  # shown on the page, not beside it


def test_a_narrow_box_is_not_empty() -> None:
    assert outcome("trim.boxes", document(boxed(art=Box(10, 10, 10.9, 40))), SpecSheet()) == "met"


@pytest.mark.parametrize(
    ("left", "problem"),
    [(88, "off the sheet"), (87.99, "outside another box")],
    ids=["side by side with the sheet", "half a square millimetre on it"],
)
def test_a_box_that_only_touches_the_sheet_is_off_it(left: float, problem: str) -> None:
    finding = only_finding("trim.boxes", document(boxed(art=Box(left, 0, 188, 55))), SpecSheet()).finding
    assert (finding.measured["box"], finding.measured["problem"]) == ("art", problem)
