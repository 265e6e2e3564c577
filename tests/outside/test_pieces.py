"""Several pieces that a cutting line cuts out of one page, against plain geometry: circles and squares, drawn by reportlab."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.lib.colors import CMYKColor, CMYKColorSep
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from service.jobs.question import question_for
from service.pdf.facts.plates import Outline
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.rules.judge import judge
from service.sheets.format.validation import read_sheet_text

WIDE, HIGH, BLEED = 100.0, 70.0, 3.0
ASKED = Question(finishing_inks=("Cutting",), piece_inks=("Cutting",))
CENTRES = ((25.0, 30.0), (70.0, 40.0))
RADIUS = 15.0
SHEET = read_sheet_text("""
trim: {width: 100 mm, height: 70 mm}
bleed: {minimum: 2 mm}
margin: {minimum: 2 mm}
finishes: [{ink: Cutting, kind: kiss-cut, must_overprint: true}]
""")
Draws = Callable[[Canvas], None]


def made(tmp_path: Path, artwork: Draws, line: Draws) -> Path:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=((WIDE + 2 * BLEED) * mm, (HIGH + 2 * BLEED) * mm), invariant=1)
    canvas.setTrimBox((BLEED * mm, BLEED * mm, (WIDE + BLEED) * mm, (HIGH + BLEED) * mm))
    canvas.translate(BLEED * mm, BLEED * mm)
    canvas.setFillColor(CMYKColor(0, 0.4, 0.1, 0))
    artwork(canvas)
    canvas.setStrokeOverprint(True)
    canvas.setStrokeColor(CMYKColorSep(0, 1, 0, 0, spotName="Cutting"))
    canvas.setLineWidth(0.5)
    line(canvas)
    canvas.save()
    path = tmp_path / "pieces.pdf"
    path.write_bytes(out.getvalue())
    return path


def pieces(tmp_path: Path, artwork: Draws, line: Draws, asked: Question = ASKED) -> Outline | None:
    pages = measure(made(tmp_path, artwork, line), asked).pages
    assert not isinstance(pages, Unmeasured)
    plates = pages[0].plates
    assert not isinstance(plates, Unmeasured)
    return plates.pieces


def circles(*beyond: float, fill: int = 0) -> Draws:
    """At both places, each so much larger than the cut."""

    def draw(canvas: Canvas) -> None:
        for (x, y), more in zip(CENTRES, beyond, strict=True):
            canvas.circle(x * mm, y * mm, (RADIUS + more) * mm, stroke=1 - fill, fill=fill)

    return draw


def words(x: float, y: float) -> Draws:
    """An H of 1.5 mm, whose left edge stands at x and whose middle at y, in mm from the lower left corner."""

    def draw(canvas: Canvas) -> None:
        canvas.setFillColor(CMYKColor(0, 0, 0, 1))
        canvas.setFont("Helvetica", 6)
        canvas.drawString(x * mm - 6 * 0.077, y * mm - 6 * 0.359, "H")

    return draw


def both(*draws: Draws) -> Draws:
    def draw(canvas: Canvas) -> None:
        for one in draws:
            one(canvas)

    return draw


@pytest.mark.parametrize(("one", "other"), [(3, 1), (2, 0.5), (0, 3), (1, 1.5)])
def test_the_piece_whose_artwork_stops_soonest_counts(one: float, other: float, tmp_path: Path) -> None:
    found = pieces(tmp_path, circles(one, other, fill=1), circles(0, 0))
    assert found is not None
    assert found.reach_mm == pytest.approx(min(one, other), abs=0.3)
    x, _ = CENTRES[0 if one <= other else 1]
    assert any(abs((box.x0 + box.x1) / 2 - x) <= RADIUS + 1 for box in found.stops_mm)


def test_ink_that_ends_inside_its_piece_needs_no_bleed(tmp_path: Path) -> None:
    found = pieces(tmp_path, circles(-3, -4, fill=1), circles(0, 0))
    assert found is not None
    assert found.reach_mm is None


@pytest.mark.parametrize("depth", [0.5, 1.5, 3, 6])
def test_text_is_measured_from_the_line_of_the_piece_that_it_stands_on(depth: float, tmp_path: Path) -> None:
    """Its left side is nearest to the left end of the first circle."""
    x, y = CENTRES[0]
    found = pieces(tmp_path, words(x - RADIUS + depth, y), circles(0, 0))
    assert found is not None
    assert found.text_inside_mm == (pytest.approx(depth, abs=0.3),)


def test_text_across_a_line_is_cut_and_text_beside_every_piece_is_nobodys(tmp_path: Path) -> None:
    x, y = CENTRES[0]
    found = pieces(tmp_path, both(words(x - RADIUS - 0.7, y), words(90, 8)), circles(0, 0))
    assert found is not None
    crossing, beside = found.text_inside_mm
    assert crossing == pytest.approx(-0.7, abs=0.3)
    assert beside > 10


def test_a_line_around_the_whole_page_hides_no_piece(tmp_path: Path) -> None:
    around: Draws = lambda canvas: canvas.roundRect(0, 0, WIDE * mm, HIGH * mm, 4 * mm, stroke=1, fill=0)  # noqa: E731
    found = pieces(tmp_path, circles(0.5, 2, fill=1), both(circles(0, 0), around))
    assert found is not None
    assert found.reach_mm == pytest.approx(0.5, abs=0.3)


def test_pieces_in_all_corners_are_no_line_around_the_page(tmp_path: Path) -> None:
    """Squares that end at the trim, as of cards cut from one sheet."""

    def squares(more: float, fill: int) -> Draws:
        def draw(canvas: Canvas) -> None:
            for x in (0, WIDE - 40):
                for y in (0, HIGH - 30):
                    canvas.rect((x - more) * mm, (y - more) * mm, (40 + 2 * more) * mm, (30 + 2 * more) * mm, 1 - fill, fill)

        return draw

    found = pieces(tmp_path, squares(1, 1), squares(0, 0))
    assert found is not None
    assert found.reach_mm == pytest.approx(1, abs=0.3)


def test_without_a_line_or_without_being_asked_there_are_no_pieces(tmp_path: Path) -> None:
    assert pieces(tmp_path, circles(1, 1, fill=1), lambda _: None) is None
    assert pieces(tmp_path, circles(1, 1, fill=1), circles(0, 0), Question(finishing_inks=("Cutting",))) is None


def test_what_is_too_small_to_be_a_piece_is_none(tmp_path: Path) -> None:
    """A hole of 3 mm, or a tick of the line."""
    small: Draws = lambda canvas: canvas.circle(50 * mm, 20 * mm, 1.5 * mm, stroke=1, fill=0)  # noqa: E731
    assert pieces(tmp_path, circles(1, 1, fill=1), small) is None


@pytest.mark.parametrize(
    ("beyond", "near", "told"),
    [(2, 4, set()), (1, 4, {"bleed.reach"}), (2, 1, {"margin.outline"}), (0, 0.3, {"bleed.reach", "margin.outline"})],
)
def test_a_sheet_of_stickers_is_judged_sticker_by_sticker(beyond: float, near: float, told: set[str], tmp_path: Path) -> None:
    x, y = CENTRES[1]
    path = made(tmp_path, both(circles(2.5, beyond, fill=1), words(x - RADIUS + near, y)), circles(0, 0))
    judgement = judge(measure(path, question_for(SHEET)), SHEET)
    assert {one.rule for one in judgement.findings} & {"bleed.reach", "margin.outline"} == told
