"""Crop marks and cut lines that contradict the trim, and what follows for bleed and scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.ink_names import names_a_cut, names_a_finish
from service.pdf.facts.page import Page
from service.pdf.facts.painted.vectors import Artwork, LineUse
from service.rules.judge import judge
from service.sheets.model import BleedAsked, SpecSheet, TrimAsked
from tests.facts import fact
from tests.rules.measured import broken_rules, content, document, only_finding, outcome, page, shape

RULE = "trim.shown"
STICKER = SpecSheet(trim=TrimAsked(width_mm=60, height_mm=60), bleed=BleedAsked(minimum_mm=3))


def cut(x0: float, y0: float, x1: float, y1: float, ink: str = "Cutting") -> Artwork:
    return shape(x0, y0, x1, y1, "stroke", (ink,))


def with_lines(one: Page, lines: Iterable[Artwork], width_pt: float = 0.5) -> Page:
    drawn = tuple(lines)
    used = tuple(fact(LineUse, width_pt, "stroke", line.inks, 1.0, False, False, True, 1, (line.box_mm,)) for line in drawn)
    return replace(one, content=replace(content(), artwork=drawn, lines=used))


def sticker(across: float = 62, line: Box = Box(0.91, 0.91, 61.09, 61.09), **changes: object) -> Page:  # noqa: B008
    """`across`: the TrimBox, in which a cut line of 60 mm stands. The line is half a point wide: its bounds lie 0.09 mm out."""
    return with_lines(page(across, across, **changes), [cut(*line)])


def wrap(*, marks: Box | None) -> Page:
    """120.6 × 635.6 mm by its TrimBox."""
    return page(120.6, 635.6, bleed=12, crop_marks_mm=marks)


def test_marks_that_stand_at_another_size_than_the_trim() -> None:
    found = only_finding(RULE, document(wrap(marks=Box(-1.7, -2.2, 122.3, 637.8))), SpecSheet())
    assert found.level == "should"
    assert found.finding.measured == {
        "width_mm": 120.6, "height_mm": 635.6, "shown_width_mm": 124.0, "shown_height_mm": 640.0, "shown_by": "crop marks",
    }
    assert "up to 2.2 mm apart" in found.finding.message
    assert "Do not scale" in found.finding.remedy


@pytest.mark.parametrize(("off", "expected"), [(0.49, "met"), (0.51, "not_met")])
def test_marks_within_half_a_millimetre_agree(off: float, expected: str) -> None:
    assert outcome(RULE, document(wrap(marks=Box(-off, 0, 120.6, 635.6))), SpecSheet()) == expected


def test_marks_of_the_right_size_beside_the_trim_are_told_too() -> None:
    found = only_finding(RULE, document(wrap(marks=Box(2, 0, 122.6, 635.6))), SpecSheet()).finding
    assert "up to 2 mm apart" in found.message


def test_without_marks_and_lines_nothing_contradicts() -> None:
    assert outcome(RULE, document(wrap(marks=None)), SpecSheet()) == "met"


def test_a_trim_that_was_worked_out_is_not_the_files_word() -> None:
    one = replace(wrap(marks=Box(-2, -2, 122, 638)), trim_source="media_box")
    assert outcome(RULE, document(one), SpecSheet()) == "met"


@pytest.mark.parametrize(("declared", "at", "expected"), [(True, 3, "met"), (True, 2, "not_met"), (False, 3, "not_met")])
def test_marks_at_the_corners_of_the_bleedbox_are_bleed_marks(declared: bool, at: float, expected: str) -> None:
    one = page(bleed_declared=declared, crop_marks_mm=Box(-at, -at, 85 + at, 55 + at))
    assert outcome(RULE, document(one), SpecSheet()) == expected


def test_pages_with_the_same_marks_are_one_finding() -> None:
    one = wrap(marks=Box(-2, -2, 122, 638))
    assert only_finding(RULE, document(one, page(), one), SpecSheet()).finding.pages == (1, 3)


# --- cut lines --------------------------------------------------------------------------------------------------------


def test_a_trimbox_as_large_as_the_bleed_is_told_by_its_cut_line() -> None:
    found = only_finding(RULE, document(sticker()), STICKER).finding
    assert (found.measured["shown_width_mm"], found.measured["shown_by"]) == (60.0, "cut line")


def test_a_cut_line_at_the_trim_agrees() -> None:
    assert outcome(RULE, document(sticker(60, Box(-0.1, -0.1, 60.1, 60.1))), STICKER) == "met"


def test_a_cut_line_beyond_the_trim_contradicts_even_the_ordered_size() -> None:
    assert outcome(RULE, document(sticker(60, Box(-1, 0, 60, 60))), STICKER) == "not_met"


def test_a_label_on_its_backing_of_the_ordered_size_is_right() -> None:
    assert outcome(RULE, document(sticker(60, Box(2, 2, 58, 58))), STICKER) == "met"


@pytest.mark.parametrize("line", [Box(20, 20, 42, 42), Box(1, 1, 61, 55), Box(0.3, 0.3, 61.4, 61.4)])
def test_a_window_or_an_uneven_line_inside_the_trim_says_nothing(line: Box) -> None:
    assert outcome(RULE, document(sticker(line=line)), STICKER) == "met"


def test_four_lines_along_the_sides_are_one_outline() -> None:
    lines = [cut(1, 1, 61, 1.1), cut(60.9, 1, 61, 61), cut(1, 60.9, 61, 61), cut(1, 1, 1.1, 61)]
    assert outcome(RULE, document(with_lines(page(62, 62), lines)), STICKER) == "not_met"


def test_a_sheet_of_labels_is_cut_inside_and_shows_no_trim() -> None:
    labels = [cut(1, 1, 30, 61), cut(32, 1, 61, 61)]
    assert outcome(RULE, document(with_lines(page(62, 62), labels)), STICKER) == "met"
    grid = [cut(1, 1, 61, 1.1), cut(1, 30, 61, 30.1), cut(1, 60.9, 61, 61)]
    assert outcome(RULE, document(with_lines(page(62, 62), grid)), STICKER) == "met"


@pytest.mark.parametrize("ink", ["Kiss cut", "Gold foil", "Black"])
def test_lines_in_other_inks_are_no_cut(ink: str) -> None:
    assert outcome(RULE, document(with_lines(page(62, 62), [cut(1, 1, 61, 61, ink)])), STICKER) == "met"


# --- what follows from it ---------------------------------------------------------------------------------------------


def test_nobody_is_told_to_scale_what_its_cut_line_shows_to_be_right() -> None:
    assert broken_rules(judge(document(page(62.4, 62.4)), STICKER)) >= {"trim.size"}
    shrunk = sticker(61, Box(0.5, 0.5, 60.5, 60.5))
    assert "trim.scale" not in broken_rules(judge(document(shrunk), STICKER))
    marked = page(50, 50, crop_marks_mm=Box(-5, -5, 55, 55))
    assert "trim.scale" not in broken_rules(judge(document(marked), STICKER))
    assert "trim.scale" in broken_rules(judge(document(page(50, 50)), STICKER))


def test_bleed_counts_from_the_cut_that_is_shown() -> None:
    """2 mm beyond a TrimBox that lies 1 mm outside the cut line are 3 mm of bleed."""
    reach = Sides[float | None](2.0, 2.0, 2.0, 2.0)
    assert outcome("bleed.reach", document(sticker(bleed=3, bleed_reach_mm=reach)), STICKER) == "met"
    assert outcome("bleed.reach", document(page(62, 62, bleed_reach_mm=reach)), STICKER) == "not_met"
    assert outcome("bleed.declared", document(sticker(bleed=2, bleed_reach_mm=reach)), STICKER) == "met"
    found = only_finding("bleed.declared", document(sticker(bleed=1, bleed_reach_mm=reach)), STICKER).finding
    assert set(found.measured.values()) == {2.0}


def test_a_cut_line_beyond_the_trim_takes_no_bleed_away() -> None:
    outside = sticker(60, Box(-1, -1, 61, 61))
    assert outcome("bleed.declared", document(outside), STICKER) == "met"


@pytest.mark.parametrize("name", ["Cutting", "CutContour", "DIECUT", "die_line", "*cut", "Stanzkontur", "Schnittlinie"])
def test_inks_that_are_named_for_the_cut(name: str) -> None:
    assert names_a_cut(name)
    assert names_a_finish(name)


@pytest.mark.parametrize(
    "name", ["Kiss-cut", "Spot UV Varnish", "Gold foil", "Goldfolie", "UV-Lack", "Perforation", "crease", "White"]
)
def test_inks_that_are_named_for_another_finish(name: str) -> None:
    assert names_a_finish(name)
    assert not names_a_cut(name)


@pytest.mark.parametrize("name", ["Black", "Copper 8", "Shortcut", "Diesel", "Cuttlefish", "Nutmeg", "Don't Print"])
def test_inks_that_are_colours(name: str) -> None:
    assert not names_a_finish(name)
