"""Where the ink of a run ends, as measured: blanks, turned type, stroked type, programs that cannot be read.

How far each kind of glyph reaches is compared with Ghostscript in tests/outside. Vera's figures are its own: of 2048 units an em,
'o' reaches from 113 to 1141 across and from -29 to 1147 in height, 'l' from 193 to 377 and from 0 to 1556.
"""

from __future__ import annotations

from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from tests.build import PageBuilder, page
from tests.build_objects import vera
from tests.pdf.gather.content_of import content_of

SIZE_PT = 72
EM_MM = 25.4
"""Of type of 72 pt."""


def card() -> PageBuilder:
    return page(85, 55, bleed=3)


def run_of(made: PageBuilder, folder: Path) -> TextRun:
    (run,) = content_of(made, folder).text_runs
    return run


def ink_of(made: PageBuilder, folder: Path) -> Box:
    ink = run_of(made, folder).ink_mm
    assert isinstance(ink, Box), ink
    return ink


def near(*sides: float) -> Any:
    return pytest.approx(sides, abs=0.02)


def test_a_letter_covers_what_its_outline_covers(tmp_path: Path) -> None:
    ink = ink_of(card().text("o", SIZE_PT, (10, 40)), tmp_path)
    unit = EM_MM / 2048
    assert ink == near(10 + 113 * unit, 40 - 1147 * unit, 10 + 1141 * unit, 40 + 29 * unit)


def test_blanks_at_the_ends_of_a_line_do_not_count(tmp_path: Path) -> None:
    plain = ink_of(card().text("oil", 20, (10, 40)), tmp_path)
    padded = run_of(card().text("oil      ", 20, (10, 40)), tmp_path)
    assert padded.ink_mm == near(*plain)
    assert padded.box_mm.x1 > plain.x1 + 10


def test_a_line_of_blanks_has_no_ink(tmp_path: Path) -> None:
    assert run_of(card().text("     ", 20, (10, 40)), tmp_path).ink_mm is None


def test_ink_of_turned_type_is_not_the_box_around_a_turned_box(tmp_path: Path) -> None:
    """A disc stays as wide when it is turned; the box around its box grows by the square root of two."""
    upright = ink_of(card().text("o", SIZE_PT, (30, 40)), tmp_path)
    turned = ink_of(card().text("o", SIZE_PT, (30, 40), turn=45), tmp_path)
    assert turned.width < upright.width * 1.15
    assert turned.width < upright.width * sqrt(2) * 0.82
    quarter = ink_of(card().text("o", SIZE_PT, (30, 40), turn=90), tmp_path)
    assert (quarter.width, quarter.height) == near(upright.height, upright.width)


@pytest.mark.parametrize(("mode", "wider"), [(0, 0.0), (1, 0.5), (2, 0.5), (3, 0.0)])
def test_a_stroked_outline_is_wider_by_half_its_line(mode: int, wider: float, tmp_path: Path) -> None:
    plain = ink_of(card().text("o", SIZE_PT, (10, 40)), tmp_path)
    line_pt = 1 / 25.4 * 72
    drawn = ink_of(card().raw(b"%.4f w" % line_pt).text("o", SIZE_PT, (10, 40), mode=mode), tmp_path)
    assert drawn == near(*plain.grown(wider))


def test_words_that_are_joined_have_their_ink_together(tmp_path: Path) -> None:
    made = card().text("oil", 20, (10, 40)).text("loaf", 20, (22, 40))
    first, second = (ink_of(card().text(word, 20, at), tmp_path) for word, at in (("oil", (10, 40)), ("loaf", (22, 40))))
    joined = run_of(made, tmp_path)
    assert joined.text == "oil loaf"
    assert joined.ink_mm == near(*first.union(second))


def test_glyphs_that_are_set_backwards_are_all_seen(tmp_path: Path) -> None:
    """'l' is 0.278 em wide, and each next letter starts 0.59 em back."""
    place = b"%.4f %.4f" % (33 * 72 / 25.4, 18 * 72 / 25.4)
    made = card().resource("Font", "F", vera).raw(b"BT /F 72 Tf %s Td [(l) 590 (o) 590 (  )] TJ ET" % place)
    ink, o_starts = ink_of(made, tmp_path), 30 + (0.278 - 0.59) * EM_MM
    assert (ink.x0, ink.x1) == near(o_starts + 113 / 2048 * EM_MM, o_starts + 1141 / 2048 * EM_MM)
    longer = card().resource("Font", "F", vera).raw(b"BT /F 72 Tf %s Td [(o) 590 (l) 590 (l)] TJ ET" % place)
    ink, last_starts = ink_of(longer, tmp_path), 30 + (0.612 - 0.59 + 0.278 - 0.59) * EM_MM
    assert (ink.x0, ink.x1) == near(last_starts + 193 / 2048 * EM_MM, 30 + 1141 / 2048 * EM_MM)


# --- Where it is not known ---


def broken(pdf: Pdf) -> Any:
    font = vera(pdf)
    font.FontDescriptor.FontFile2 = pdf.make_indirect(Stream(pdf, b"no font at all"))
    return font


def elsewhere(_: Pdf) -> Any:
    return Dictionary(Type=Name.Font, Subtype=Name.TrueType, BaseFont=Name("/CrustSans"), Encoding=Name.WinAnsiEncoding)


@pytest.mark.parametrize("font", [broken, elsewhere])
def test_without_a_program_that_can_be_read_the_ink_is_not_known(font: Any, tmp_path: Path) -> None:
    made = card().resource("Font", "F", font).raw(b"BT /F 20 Tf 60 60 Td (oil) Tj ET")
    assert isinstance(run_of(made, tmp_path).ink_mm, Unmeasured)


def test_the_standard_fonts_are_known_by_other_names_too(tmp_path: Path) -> None:
    ink = ink_of(card().text("oil", 20, (10, 40), font="Helvetica"), tmp_path)
    arial = Dictionary(Type=Name.Font, Subtype=Name.TrueType, BaseFont=Name("/ArialMT"), Encoding=Name.WinAnsiEncoding)
    place = b"BT /F 20 Tf %.4f %.4f Td (oil) Tj ET" % (13 * 72 / 25.4, 18 * 72 / 25.4)
    assert ink_of(card().resource("Font", "F", arial).raw(place), tmp_path) == near(*ink)


# --- Type 3 ---


def drawn_font(pdf: Pdf) -> Any:
    """Its box is ten times as large as its glyphs; 'b' is empty."""
    square = pdf.make_indirect(Stream(pdf, b"1000 0 0 0 1000 1000 d1 100 0 300 200 re f"))
    empty = pdf.make_indirect(Stream(pdf, b"1000 0 0 0 1000 1000 d1"))
    made = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[-5000, -5000, 5000, 5000], FirstChar=97, LastChar=98)
    made.FontMatrix, made.Widths, made.CharProcs = Array([0.001, 0, 0, 0.001, 0, 0]), [1000, 1000], Dictionary(a=square, b=empty)
    made.Encoding = Dictionary(Type=Name.Encoding, Differences=[97, Name.a, Name.b])
    return pdf.make_indirect(made)


@pytest.mark.parametrize("shown", [b"a", b"ab", b"abbb"])
def test_a_drawn_glyph_covers_what_its_procedure_paints(shown: bytes, tmp_path: Path) -> None:
    made = card().resource("Font", "F", drawn_font)
    ink = ink_of(made.raw(b"BT /F 72 Tf %.4f %.4f Td (%s) Tj ET" % (13 * 72 / 25.4, 18 * 72 / 25.4, shown)), tmp_path)
    assert ink == near(10 + 0.1 * EM_MM, 40 - 0.2 * EM_MM, 10 + 0.4 * EM_MM, 40)


def test_drawn_glyphs_touch_no_edge_with_the_box_of_their_font(tmp_path: Path) -> None:
    made = card().resource("Font", "F", drawn_font).raw(b"BT /F 20 Tf 60 60 Td (a) Tj ET")
    assert not any(meets for _, meets in content_of(made, tmp_path).meets_trim.items())
    at_the_edge = card().resource("Font", "F", drawn_font).raw(b"BT /F 72 Tf 0 60 Td (a) Tj ET")
    assert content_of(at_the_edge, tmp_path).meets_trim.left
