"""Lines too thin to print."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.vectors import LineUse
from service.sheets.model import LinesAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, judged, only_finding, outcome, page, without_content

WIDTHS = SpecSheet(lines=LinesAsked(minimum_width_pt=0.25, reversed_minimum_width_pt=0.5))
BLACK = fact(LineUse, 0.25, "stroke", ("Black",), 1.0, False, False, False, 3, (Box(10, 10, 40, 10.1),))


def line(width_pt: float, **changes: Any) -> LineUse:
    return replace(BLACK, width_pt=width_pt, **changes)


def ruled(*lines: LineUse) -> Measurements:
    return document(page(content=replace(content(), lines=lines)))


@pytest.mark.parametrize(
    ("width_pt", "expected"), [(0.2, "not_met"), (0.24, "not_met"), (0.249, "met"), (0.25, "met"), (1, "met")]
)
def test_a_line_under_the_minimum(width_pt: float, expected: str) -> None:
    assert outcome("line.width", ruled(line(width_pt)), WIDTHS) == expected


@pytest.mark.parametrize(
    ("how", "width_pt", "expected"),
    [
        ({"white": True, "on_ink": True, "tint": 0.0, "inks": ()}, 0.4, "reversed"),
        ({"white": True, "on_ink": False, "tint": 0.0, "inks": ()}, 0.1, None),
        ({"tint": 0.5}, 0.4, "tinted"),
        ({"tint": 0.98}, 0.4, "tinted"),
        ({"tint": 0.99}, 0.4, None),
        ({"tint": 0.5}, 0.2, "tinted"),
        ({"tint": 0.5}, 0.5, None),
        ({"inks": ("Cyan", "Black")}, 0.4, "several inks"),
        ({"inks": ("Cyan",)}, 0.4, None),
        ({"drawn": "thin fill"}, 0.1, "plain"),
        ({"inks": ("All",)}, 0.4, None),  # color.registration tells of it
        ({"inks": ("All",)}, 0.2, "plain"),
    ],
)
def test_lines_that_need_a_larger_minimum(how: dict[str, Any], width_pt: float, expected: str | None) -> None:
    _, findings = judged("line.width", ruled(line(width_pt, **how)), WIDTHS)
    assert [one.finding.measured["drawn"] for one in findings] == ([expected] if expected else [])


@pytest.mark.parametrize("asked", [LinesAsked(minimum_width_pt=0.25), LinesAsked(reversed_minimum_width_pt=0.25)])
def test_a_line_of_width_zero_always_breaks(asked: LinesAsked) -> None:
    found = only_finding("line.width", ruled(line(0)), SpecSheet(lines=asked))
    assert (found.level, found.finding.measured, found.finding.required) == (
        "must", {"width_pt": 0, "drawn": "hairline", "lines": 3}, {"minimum_pt": 0.25},
    )


def test_a_line_of_width_zero_in_a_tint_needs_the_larger_minimum() -> None:
    assert only_finding("line.width", ruled(line(0, tint=0.5)), WIDTHS).finding.required == {"minimum_pt": 0.5}
    assert only_finding("line.width", ruled(line(0)), WIDTHS).finding.required == {"minimum_pt": 0.25}


def test_crop_marks_are_thin_and_cut_off() -> None:
    marks = line(0.25, inks=("Cyan", "Magenta", "Yellow", "Black"))
    assert outcome("line.width", ruled(replace(marks, beyond_trim=True)), WIDTHS) == "met"
    assert outcome("line.width", ruled(marks), WIDTHS) == "not_met"


def test_one_finding_has_the_thinnest_line_and_counts_all() -> None:
    finding = only_finding("line.width", ruled(line(0.2), line(0.1, count=40), line(2)), WIDTHS).finding
    assert (finding.measured["width_pt"], finding.measured["lines"], len(finding.places)) == (0.1, 43, 2)


def test_lines_not_seen_and_not_asked_for() -> None:
    assert outcome("line.width", document(without_content(page())), WIDTHS) == "not_measured"
    assert outcome("line.width", ruled(line(0)), SpecSheet()) == "not_applicable"
    assert outcome("line.width", ruled(line(0)), SpecSheet(lines=LinesAsked())) == "not_applicable"


def test_an_illustration_is_told_once_however_its_lines_are_painted() -> None:
    found = only_finding(
        "line.width", ruled(line(0.2), line(0.1, tint=0.5, count=2), line(0.45, inks=("Cyan", "Black"), count=4)), WIDTHS
    ).finding
    assert found.measured == {"width_pt": 0.1, "drawn": "tinted", "lines": 9}
    assert found.required == {"minimum_pt": 0.5}
    assert "0.25 pt, and 0.5 pt for lines that are white, tinted or of several inks" in found.message
    for words in ("2 lines in a tint as thin as 0.1 pt", "3 lines as thin as 0.2 pt", "4 lines in several inks"):
        assert words in found.message


@pytest.mark.parametrize(("long_mm", "count", "expected"), [(0.19, 1, "met"), (0.21, 1, "not_met"), (0.19, 2, "not_met")])
def test_a_dot_is_no_line(long_mm: float, count: int, expected: str) -> None:
    """Of two strokes the second one's place is not kept here: nobody knows that it is a dot."""
    dot = line(0, count=count, boxes_mm=(Box(10, 10, 10 + long_mm, 10.1),))
    assert outcome("line.width", ruled(dot), WIDTHS) == expected


def test_registration_lines_count_as_of_several_inks_where_no_rule_tells_of_them() -> None:
    everywhere = ruled(line(0.4, inks=("All",)))
    assert outcome("line.width", everywhere, replace(WIDTHS, levels={"color.registration": "off"})) == "not_met"


@pytest.mark.parametrize(
    ("ink", "expected"), [("Cut contour", "met"), ("Crease", "met"), ("Perforation", "met"), ("Gold foil", "not_met")]
)
def test_the_line_of_a_blade_may_be_drawn_as_thin_as_one_likes(ink: str, expected: str) -> None:
    assert outcome("line.width", ruled(line(0.1, inks=(ink,))), WIDTHS) == expected


def test_lines_of_many_kinds_are_put_right_in_two_sentences_at_most() -> None:
    kinds = (line(0), line(0.1), line(0.1, tint=0.5), line(0.1, inks=("Cyan", "Black")))
    remedy = only_finding("line.width", ruled(*(replace(one, count=1) for one in kinds)), WIDTHS).finding.remedy
    assert "this line" not in remedy.casefold()
    assert sum(remedy.count(begins) for begins in ("Give these lines", "Draw ")) == 2


def test_the_remedy_names_a_width_that_is_enough_for_each_kind_of_line() -> None:
    """A line of 0.2 pt in several inks is too thin in one ink as well, where 0.25 pt are asked for."""
    lines = ruled(line(0.2, inks=("Cyan", "Magenta")), line(0.15))
    remedy = only_finding("line.width", lines, WIDTHS).finding.remedy
    assert "several inks at least 0.5 pt thick; in one solid ink, 0.25 pt is enough" in remedy
    assert "Draw lines at least 0.25 pt thick" in remedy
