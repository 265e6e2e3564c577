"""The outline of a cutting line against plain geometry: circles and rounded corners, drawn by reportlab."""

from __future__ import annotations

import io
from collections.abc import Callable
from math import cos, hypot, pi, sin
from pathlib import Path

import pytest
from reportlab.lib.colors import CMYKColor, CMYKColorSep
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from service.pdf.facts.geometry import Box
from service.pdf.facts.plates import Outline
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question

Draws = Callable[[Canvas], None]
SIDE, BLEED = 60.0, 3.0
MIDDLE = (SIDE / 2 + BLEED) * mm
ASKED = Question(finishing_inks=("Cutting",), cutting_inks=("Cutting",))


def outline(
    tmp_path: Path, artwork: Draws, line: Draws, asked: Question = ASKED, side: float = SIDE
) -> tuple[Outline | None, tuple[float, ...]]:
    """With how far each letter's own middle stands from the middle of the page, mm."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=((side + 2 * BLEED) * mm,) * 2, invariant=1)
    canvas.setTrimBox((BLEED * mm, BLEED * mm, (side + BLEED) * mm, (side + BLEED) * mm))
    canvas.setFillColor(CMYKColor(0, 0.4, 0.1, 0))
    artwork(canvas)
    canvas.setStrokeOverprint(True)
    canvas.setStrokeColor(CMYKColorSep(0, 1, 0, 0, spotName="Cutting"))
    canvas.setLineWidth(0.5)
    line(canvas)
    canvas.save()
    path = tmp_path / "shaped.pdf"
    path.write_bytes(out.getvalue())
    pages = measure(path, asked).pages
    assert not isinstance(pages, Unmeasured)
    plates, content = pages[0].plates, pages[0].content
    assert not isinstance(plates, Unmeasured)
    assert not isinstance(content, Unmeasured)
    boxes = [run.ink_mm for run in content.text_runs if isinstance(run.ink_mm, Box)]
    away = [hypot((one.x0 + one.x1 - SIDE) / 2, (one.y0 + one.y1 - SIDE) / 2) for one in boxes]
    return plates.outline, tuple(away)


def circle(radius: float, *, fill: int = 0) -> Draws:
    return lambda canvas: canvas.circle(MIDDLE, MIDDLE, radius * mm, stroke=1 - fill, fill=fill)




@pytest.mark.parametrize("bleed", [0, 0.5, 1, 1.5, 2, 3])
def test_a_round_background_goes_on_as_far_as_it_is_larger(bleed: float, tmp_path: Path) -> None:
    found, _ = outline(tmp_path, circle(30 + bleed, fill=1), circle(30))
    assert found is not None
    assert found.reach_mm == pytest.approx(bleed, abs=0.25)


def test_a_background_that_ends_before_the_line_does_not_stand_there(tmp_path: Path) -> None:
    found, _ = outline(tmp_path, circle(29, fill=1), circle(30))
    assert found == Outline(None, (), ())


def test_a_square_background_below_a_round_line_bleeds_by_what_the_page_has(tmp_path: Path) -> None:
    found, _ = outline(tmp_path, lambda canvas: canvas.rect(0, 0, 99 * mm, 99 * mm, stroke=0, fill=1), circle(30))
    assert found is not None
    assert found.reach_mm is not None
    assert found.reach_mm >= 3


def test_a_bar_across_the_line_is_no_artwork_that_stops(tmp_path: Path) -> None:
    found, _ = outline(tmp_path, lambda canvas: canvas.rect(0, MIDDLE - 9 * mm, 99 * mm, 18 * mm, stroke=0, fill=1), circle(30))
    assert found is not None
    assert found.reach_mm is not None
    assert found.reach_mm >= 2.75


def letters(*away: float) -> Draws:
    """Letters a millimetre wide, to the right of the middle and below it at 45°, so far from the middle."""

    def draw(canvas: Canvas) -> None:
        canvas.circle(MIDDLE, MIDDLE, 33 * mm, stroke=0, fill=1)
        canvas.setFillColor(CMYKColor(0, 0, 0, 1))
        canvas.setFont("Helvetica", 4)
        for far in away:
            canvas.drawCentredString(MIDDLE + far * mm, MIDDLE - 0.5 * mm, "o")
            canvas.drawCentredString(MIDDLE + far * cos(pi / 4) * mm, MIDDLE - far * sin(pi / 4) * mm - 0.5 * mm, "o")

    return draw


def test_text_is_as_far_inside_a_circle_as_its_radius_says(tmp_path: Path) -> None:
    """An o of 4 pt is about 0.75 mm across: its outer edge is 0.4 mm further out than its middle."""
    found, away = outline(tmp_path, letters(20, 26, 29, 33), circle(30))
    assert found is not None
    assert len(away) == 8
    assert found.text_inside_mm == pytest.approx([30 - far - 0.4 for far in away], abs=0.45)
    assert [one < 0 for one in found.text_inside_mm] == [False] * 6 + [True] * 2


def test_a_rectangle_a_smaller_line_and_a_line_that_nobody_asked_for_draw_no_shape(tmp_path: Path) -> None:
    whole: Draws = lambda canvas: canvas.rect(BLEED * mm, BLEED * mm, SIDE * mm, SIDE * mm)  # noqa: E731
    for line, asked in ((whole, ASKED), (circle(20), ASKED), (circle(30), Question(finishing_inks=("Cutting",)))):
        assert outline(tmp_path, circle(33, fill=1), line, asked)[0] is None


def test_rounded_corners_are_followed_too(tmp_path: Path) -> None:
    rounded: Draws = lambda canvas: canvas.roundRect(BLEED * mm, BLEED * mm, SIDE * mm, SIDE * mm, 8 * mm)  # noqa: E731
    found, _ = outline(tmp_path, lambda canvas: canvas.rect(mm, mm, 64 * mm, 64 * mm, stroke=0, fill=1), rounded)
    assert found is not None
    assert found.reach_mm == pytest.approx(2, abs=0.25)


@pytest.mark.parametrize(("side", "radius", "followed"), [(60, 3, False), (250, 3, False), (250, 4.5, False), (250, 6, True)])
def test_rounded_corners_are_followed_on_a_large_page_too(side: float, radius: float, followed: bool, tmp_path: Path) -> None:
    """Corners of 6 mm take 31 mm² of a page of 250 mm, 0.05 % of it: (4 - π) r²."""
    rounded: Draws = lambda canvas: canvas.roundRect(BLEED * mm, BLEED * mm, side * mm, side * mm, radius * mm)  # noqa: E731
    found, _ = outline(tmp_path, lambda _: None, rounded, side=side)
    assert (found is not None) == followed
