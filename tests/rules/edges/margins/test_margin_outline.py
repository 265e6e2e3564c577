"""Text at rounded corners, and at the line that cuts a product out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.plates import Outline
from service.pdf.facts.unknown import Unmeasured
from service.rules.edges.margins.margin_outline import inside_rounded
from service.sheets.model import BleedAsked, Finish, MarginAsked, SpecSheet, TrimAsked
from tests.facts import fact
from tests.rules.measured import content, document, only_finding, outcome, page, plates, run

ROUND = SpecSheet(margin=MarginAsked(minimum_mm=3), bleed=BleedAsked(minimum_mm=2), finishes=(Finish(ink="Cutting", kind="cut"),))
CORNERS = SpecSheet(margin=MarginAsked(minimum_mm=3), trim=TrimAsked(width_mm=60, height_mm=60, corner_radius_mm=30))


def sticker(inside_mm: float, *, reach_mm: float | None = 3.0, at: float = 10) -> Measurements:
    outline = fact(Outline, reach_mm, (Box(0, 20, 2, 40),), (inside_mm,))
    text = run("Fresh at seven", x=at, y=at)
    return document(page(60, 60, content=content(text=(text,)), plates=plates(outline=outline)))


@pytest.mark.parametrize(("inside", "expected"), [(2.6, "not_met"), (2.8, "met"), (-1.0, "not_met"), (16.0, "met")])
def test_text_keeps_its_distance_from_the_cutting_line(inside: float, expected: str) -> None:
    """Known to 0.3 mm."""
    assert outcome("margin.outline", sticker(inside), ROUND) == expected


def test_text_beyond_the_line_is_told_as_cut_off() -> None:
    found = only_finding("margin.outline", sticker(-1.2), ROUND)
    assert (found.level, found.finding.measured["distance_mm"], found.finding.required) == ("must", -1.2, {"minimum_mm": 3})
    assert "1.2 mm" in found.finding.message


def test_text_at_the_edge_of_the_page_is_told_by_another_rule() -> None:
    assert outcome("margin.outline", sticker(-1.2, at=2), ROUND) == "met"
    assert outcome("margin.text", sticker(-1.2, at=2), ROUND) == "not_met"


def test_without_a_line_without_plates_and_not_asked() -> None:
    plain = document(page(60, 60, content=content(text=(run("Fresh"),))))
    assert outcome("margin.outline", plain, ROUND) == "met"
    assert outcome("margin.outline", document(page(60, 60, plates=Unmeasured("no plates"))), ROUND) == "not_measured"
    assert outcome("margin.outline", sticker(1), replace(ROUND, finishes=(Finish(ink="Cutting"),))) == "not_applicable"
    assert outcome("margin.outline", sticker(1), replace(ROUND, margin=None)) == "not_applicable"


# --- Rounded corners: worked out by Pythagoras ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("box", "inside"),
    [
        (Box(29, 29, 31, 31), 29.0), (Box(29, 1, 31, 3), 1.0), (Box(30, 0, 30, 0), 0.0),
        (Box(6, 6, 6, 6), 30 - 24 * 2**0.5), (Box(54, 54, 54, 54), 30 - 24 * 2**0.5),
    ],
)
def test_a_corner_of_half_the_side_makes_a_circle(box: Box, inside: float) -> None:
    assert inside_rounded(box, Box(0, 0, 60, 60), 30) == pytest.approx(inside, abs=0.01)


def test_text_in_a_rounded_corner() -> None:
    def saying(x: float) -> Measurements:
        return document(page(60, 60, content=content(text=(replace(run("Fr", size_pt=6, x=x, y=x)),))))

    assert outcome("margin.outline", saying(6), CORNERS) == "not_met"
    assert outcome("margin.outline", saying(20), CORNERS) == "met"
    assert outcome("margin.outline", saying(6), replace(CORNERS, trim=TrimAsked(width_mm=60, height_mm=60))) == "not_applicable"


# --- Bleed beyond the line ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("reach", "expected"), [(None, "met"), (1.8, "met"), (1.6, "not_met"), (0.0, "not_met"), (6.0, "met")])
def test_ink_goes_on_beyond_the_cutting_line(reach: float | None, expected: str) -> None:
    """What the trim's own sides show is no matter there: a round background ends at the edge of its page by nature."""
    shaped = sticker(16, reach_mm=reach)
    assert outcome("bleed.reach", shaped, ROUND) == expected


def test_ink_that_stops_at_the_line_is_shown_there() -> None:
    found = only_finding("bleed.reach", sticker(16, reach_mm=0.5), ROUND)
    assert (found.finding.measured, found.finding.required) == ({"outline_mm": 0.5}, {"minimum_mm": 2})
    assert [place.box_mm for place in found.finding.places] == [Box(0, 20, 2, 40)]


PIECES = replace(ROUND, finishes=(Finish(ink="Cutting", kind="kiss-cut"),))


def sheet_of_stickers(inside_mm: float, *, reach_mm: float | None = 3.0, around: Outline | None = None) -> Measurements:
    pieces = fact(Outline, reach_mm, (Box(10, 20, 12, 40),), (inside_mm,))
    made = plates(pieces=pieces, outline=around)
    return document(page(60, 60, content=content(text=(run("Fresh at seven", x=12, y=12),)), plates=made))


@pytest.mark.parametrize(("inside", "expected"), [(2.6, "not_met"), (2.8, "met"), (-1.0, "not_met"), (16.0, "met")])
def test_text_keeps_its_distance_from_the_line_of_the_piece_it_stands_on(inside: float, expected: str) -> None:
    assert outcome("margin.outline", sheet_of_stickers(inside), PIECES) == expected


def test_where_the_page_has_an_outline_too_the_nearer_line_counts() -> None:
    around = fact(Outline, None, (), (1.0,))
    assert only_finding("margin.outline", sheet_of_stickers(9, around=around), PIECES).finding.measured["distance_mm"] == 1


@pytest.mark.parametrize(("reach", "expected"), [(1.6, "not_met"), (1.8, "met"), (None, "met")])
def test_artwork_goes_on_beyond_the_line_of_every_piece(reach: float | None, expected: str) -> None:
    assert outcome("bleed.reach", sheet_of_stickers(9, reach_mm=reach), PIECES) == expected


def test_the_edges_of_the_sheet_still_need_their_bleed() -> None:
    """They are cut as those of any page."""
    made = sheet_of_stickers(9)
    assert not isinstance(made.pages, Unmeasured)
    short = replace(made.pages[0], bleed_reach_mm=Sides(0.0, 3.0, 3.0, 3.0))
    assert only_finding("bleed.reach", document(short), PIECES).finding.measured == {"top_mm": 0}
