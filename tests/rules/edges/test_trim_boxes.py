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
        ({"bleed": Box(1, 0, 85, 55)}, "trim", "bleed", 1),
        ({"crop": Box(0, 0, 85, 54)}, "trim", "crop", 1),
        ({"crop": Box(-3, -3, 88, 62)}, "crop", "media", 4),
        ({"trim": Box(0, 0, 91, 55)}, "trim", "media", 3),
        ({"art": Box(-4, 0, 85, 55)}, "art", "media", 1),
    ],
)
def test_a_box_outside_the_box_that_should_hold_it(boxes: dict[str, Box], box: str, inside: str, excess: float) -> None:
    found = only_finding("trim.boxes", document(boxed(**boxes)), SpecSheet())
    assert found.level == "must"
    assert found.finding.measured == {"box": box, "problem": "outside another box", "excess_mm": excess}
    assert found.finding.required == {"inside": inside}


@pytest.mark.parametrize(("right", "expected"), [(88.05, "met"), (88.06, "not_met")])
def test_boxes_that_differ_by_rounding_nest(right: float, expected: str) -> None:
    assert outcome("trim.boxes", document(boxed(bleed=Box(-3, -3, right, 58))), SpecSheet()) == expected


def test_an_empty_box_and_one_off_the_sheet() -> None:
    empty = only_finding("trim.boxes", document(boxed(art=Box(10, 10, 10, 40))), SpecSheet()).finding
    assert (empty.measured["box"], empty.measured["problem"]) == ("art", "empty")
    off = only_finding("trim.boxes", document(boxed(bleed=Box(200, 0, 300, 55))), SpecSheet()).finding
    assert (off.measured["box"], off.measured["problem"]) == ("bleed", "off the sheet")
    assert off.places[0].box_mm == (0, 0, 85, 55)  # shown on the page, not beside it
