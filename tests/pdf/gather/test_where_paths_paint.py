"""Where a path of several pieces paints, and what lies below a frame: bounds enclose what the drawing leaves free."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from service.pdf.facts.painted.content import Content
from tests.build import PageBuilder, page
from tests.pdf.gather.content_of import content_of

Line = tuple[tuple[float, float], tuple[float, float]]
CROP_MARKS: list[Line] = [
    ((x, y), (x + dx, y + dy))
    for x, out in ((0, -4), (85, 4))
    for y, up in ((0, -4), (55, 4))
    for x, y, dx, dy in ((x + out, y, out, 0), (x, y + up, 0, up))
]
"""Eight lines, each 4 to 8 mm beyond the trim."""


def card() -> PageBuilder:
    return page(85, 55, bleed=3, slug=12)


def in_one_path(card: PageBuilder, lines: Sequence[Line], color: bytes) -> PageBuilder:
    path = b" ".join(card._point(*start) + b" m " + card._point(*end) + b" l" for start, end in lines)
    return card.raw(b"q 0.25 w " + color + b" " + path + b" S Q")


def registration(card: PageBuilder, tint: float, fill: str) -> PageBuilder:
    """The colour space /All is at hand, and stroking or filling in it is set."""
    program = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([0] * 4), C1=Array([1] * 4))
    card.resource("ColorSpace", "Reg", Array([Name.Separation, Name.All, Name.DeviceCMYK, program]))
    return card.raw(f"/Reg {'cs' if fill else 'CS'} {tint} {'scn' if fill else 'SCN'} {fill}".encode())


def registration_uses(content: Content) -> list[bool]:
    """Of each use, whether it lies wholly beyond the bleed."""
    return [use.beyond_bleed for use in content.colors if use.family == "registration"]


def test_crop_marks_in_one_path_stand_outside_the_page(tmp_path: Path) -> None:
    marks = in_one_path(registration(card(), 1, ""), CROP_MARKS, b"")
    content = content_of(marks, tmp_path)
    assert registration_uses(content) == [True]
    assert [line.beyond_trim for line in content.lines] == [True]
    assert len(content.mark_lines) == 8


def test_a_line_across_the_page_in_the_path_of_the_marks_is_on_the_page(tmp_path: Path) -> None:
    crossing = in_one_path(registration(card(), 1, ""), [*CROP_MARKS, ((10, 20), (30, 20))], b"")
    content = content_of(crossing, tmp_path)
    assert registration_uses(content) == [False]
    (place,) = content.colors[0].boxes_mm
    assert (place.x0, place.x1) == pytest.approx((10, 30), abs=0.2)


def test_registration_at_tint_nought_prints_nowhere(tmp_path: Path) -> None:
    for tint, seen in ((0, []), (0.1, [False])):
        halo = registration(card().fill(cyan=0.5), tint, card()._rectangle((10, 10, 40, 30)).decode() + " f")
        assert registration_uses(content_of(halo, tmp_path)) == seen


BLACK_FRAME = b"q 2 w 0 0 0 1 K %s S Q"


@pytest.mark.parametrize(("panel", "cases"), [((20, 15, 60, 40), []), ((-3, -3, 88, 58), ["black knocks out"])])
def test_a_black_frame_meets_what_lies_below_its_line(
    panel: tuple[float, float, float, float], cases: list[str], tmp_path: Path
) -> None:
    """A frame round a coloured panel stands on paper, though the middle of its bounds does not."""
    built = card().fill(at=panel, yellow=0.4)
    built.raw(BLACK_FRAME % built._rectangle((10, 8, 70, 48)))
    assert [use.case for use in content_of(built, tmp_path).overprints] == cases


@pytest.mark.parametrize(("ground", "cases"), [({"black": 0.3}, []), ({"black": 0.3, "cyan": 0.1}, ["black knocks out"])])
def test_black_on_a_grey_of_black_leaves_no_hole(ground: dict[str, float], cases: list[str], tmp_path: Path) -> None:
    built = card().fill(at=(5, 5, 80, 50), **ground).text("opening hours", 7, (10, 20), cyan=0, magenta=0, yellow=0, black=1)
    assert [use.case for use in content_of(built, tmp_path).overprints] == cases
