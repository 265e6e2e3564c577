"""What the eye takes for a line, however a program draws it: the frame of a box, the outline of an area."""

from __future__ import annotations

from pathlib import Path

import pytest
from pikepdf import Dictionary

from tests.build import POINTS_PER_MM, PageBuilder, page
from tests.pdf.gather.content_of import content_of


def card() -> PageBuilder:
    return page(85, 55, bleed=3)


def box(left: float, bottom: float, right: float, top: float, *, backwards: bool = False) -> bytes:
    """In mm from the corner of the media; the way round is the other one where it is told so."""
    x0, y0, x1, y1 = (one * POINTS_PER_MM for one in (left, bottom, right, top))
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    first, *others = reversed(corners) if backwards else corners
    return b"%.4f %.4f m " % first + b"".join(b"%.4f %.4f l " % one for one in others) + b"h "


HAIR_MM = 0.1 / POINTS_PER_MM
"""A tenth of a point."""
AROUND, WITHIN = (20, 20, 60, 40), (20 + HAIR_MM, 20 + HAIR_MM, 60 - HAIR_MM, 40 - HAIR_MM)


@pytest.mark.parametrize(
    ("path", "paint"),
    [
        (box(*AROUND) + box(*WITHIN), b"f*"),
        (box(*WITHIN) + box(*AROUND), b"f*"),
        (box(*AROUND) + box(*WITHIN, backwards=True), b"f"),
    ],
)
def test_the_frame_of_a_box_that_is_filled_between_two_rectangles_is_a_line(path: bytes, paint: bytes, tmp_path: Path) -> None:
    """So programs draw the borders of boxes, and lines whose contours were made into areas."""
    found = content_of(card().raw(b"q 0 0 0 1 k " + path + paint + b" Q"), tmp_path)
    assert [(one.drawn, round(one.width_pt, 2), one.count) for one in found.lines] == [("thin fill", 0.1, 1)]


@pytest.mark.parametrize(
    ("path", "paint"),
    [
        (box(*AROUND) + box(*WITHIN), b"f"),  # both the same way round: a full panel
        (box(*AROUND) + box(22, 22, 58, 38), b"f*"),  # a frame of 2 mm
        (box(*AROUND) + box(70, 20, 80, 40), b"f*"),  # side by side
        (box(*AROUND) + box(20 + HAIR_MM, 20 + HAIR_MM, 60 - HAIR_MM, 20.2), b"f*"),  # nearly nothing is left out
    ],
)
def test_panels_and_broad_frames_are_no_lines(path: bytes, paint: bytes, tmp_path: Path) -> None:
    assert content_of(card().raw(b"q 0 0 0 1 k " + path + paint + b" Q"), tmp_path).lines == ()


def test_of_a_frame_that_is_clipped_to_its_head_only_the_head_counts(tmp_path: Path) -> None:
    """A box with a line at its top and a bar at its left, drawn one side at a time."""
    sides = box(20, 20, 60, 40) + box(23, 20, 60, 40 - HAIR_MM)
    clipped = b"q 0 0 0 1 k " + box(23, 40 - HAIR_MM, 60, 40) + b"W n " + sides + b"f* Q"
    assert [round(one.width_pt, 2) for one in content_of(card().raw(clipped), tmp_path).lines] == [0.1]
    clipped = b"q 0 0 0 1 k " + box(20, 20, 23, 40 - HAIR_MM) + b"W n " + sides + b"f* Q"
    assert content_of(card().raw(clipped), tmp_path).lines == ()


def test_what_a_thin_frame_encloses_stays_paper(tmp_path: Path) -> None:
    """Type in a framed box stands on no ink; in a panel it does."""
    framed = card().raw(b"q 1 0 0 0 k " + box(*AROUND) + box(*WITHIN) + b"f* Q").text("Rye", 8, (30, 25), black=1)
    assert [one.on_ink for one in content_of(framed, tmp_path).text_runs] == [False]
    panel = card().raw(b"q 1 0 0 0 k " + box(*AROUND) + b"f Q").text("Rye", 8, (30, 25), black=1)
    assert [one.on_ink for one in content_of(panel, tmp_path).text_runs] == [True]


@pytest.mark.parametrize(
    "colours", [b"0 0 0 1 k 0 0 0 1 K", b"0 .2 .4 0 k 0 .2 .4 0 K", b"0 0 0 rg 0 0 0 1 K", b"0 g 0 0 0 RG", b"1 g 1 G"]
)
def test_an_outline_in_the_colour_of_its_area_is_no_line(colours: bytes, tmp_path: Path) -> None:
    """An arrowhead with a hairline around it: the eye sees an arrowhead."""
    arrowhead = colours + b" 0 w 100 100 m 107 98.8 l 107 101.2 l b"
    assert content_of(card().raw(arrowhead), tmp_path).lines == ()


@pytest.mark.parametrize(
    "drawn",
    [
        b"0 0 0 0 k 0 0 0 1 K 0 w 100 100 m 107 98.8 l 107 101.2 l b",  # black around white
        b"0 .2 .4 0 k 0 .3 .4 0 K 0 w 100 100 m 107 98.8 l 107 101.2 l b",  # another tint
        b"0 0 0 1 k 0 0 0 1 K 0 w 100 100 m 150 100 l b",  # a stroke that encloses nothing
        b"0 0 0 1 k 0 0 0 1 K 0 w 100 100 m 150 120 l b",
        b"0 0 0 1 k 0 0 0 1 K 0 w 100 100 m 150 100 l 150 100.3 l 100 100.3 l b",  # no wider than a line itself
        b"0 0 0 1 K 0 w 100 100 m 107 98.8 l 107 101.2 l s",
    ],
)
def test_an_outline_that_the_eye_tells_from_its_area_is_a_line(drawn: bytes, tmp_path: Path) -> None:
    assert 0 in [one.width_pt for one in content_of(card().raw(drawn), tmp_path).lines]


@pytest.mark.parametrize(("high_pt", "is_line"), [(0.45, True), (0.55, False)])
def test_an_area_that_holds_in_print_hides_its_outline(high_pt: float, is_line: bool, tmp_path: Path) -> None:
    """From half a point on; a bar of up to a point counts as a line by itself, in its own width."""
    bar = b"0 0 0 1 k 0 0 0 1 K 0 w 100 100 m 200 100 l 200 %.3f l 100 %.3f l b" % (100 + high_pt, 100 + high_pt)
    widths = {round(one.width_pt, 2): one.drawn for one in content_of(card().raw(bar), tmp_path).lines}
    assert widths == {high_pt: "thin fill", **({0: "stroke"} if is_line else {})}


@pytest.mark.parametrize(("wide_pt", "is_line"), [(0.95, True), (1.05, False)])
def test_a_frame_of_up_to_a_point_is_a_line(wide_pt: float, is_line: bool, tmp_path: Path) -> None:
    wide = wide_pt / POINTS_PER_MM
    path = box(*AROUND) + box(20 + wide, 20 + wide, 60 - wide, 40 - wide)
    lines = content_of(card().raw(b"q 0 0 0 1 k " + path + b"f* Q"), tmp_path).lines
    assert [round(one.width_pt, 2) for one in lines] == ([wide_pt] if is_line else [])


def test_an_outline_that_lets_its_area_show_through_is_a_line(tmp_path: Path) -> None:
    faint = card().resource("ExtGState", "Half", Dictionary(ca=0.5, CA=0.5))
    found = content_of(faint.raw(b"/Half gs 0 0 0 1 k 0 0 0 1 K .1 w 100 100 m 107 98.8 l 107 101.2 l b"), tmp_path)
    assert [round(one.width_pt, 2) for one in found.lines] == [0.1]
