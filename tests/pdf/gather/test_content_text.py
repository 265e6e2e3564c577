"""Text as shown: characters, places, effective size, visible or not, and the fonts that paint it."""

from __future__ import annotations

from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from tests.build import PageBuilder, drawing, page, text_width
from tests.pdf.gather.content_of import content_of


def card() -> PageBuilder:
    return page(85, 55, bleed=3)


def test_a_line_of_text_has_its_characters_place_and_size(tmp_path: Path) -> None:
    (run,) = content_of(card().text("Rye & spelt", size=9, at=(10, 20)), tmp_path).text_runs
    assert run.text == "Rye & spelt"
    assert run.size_pt == pytest.approx(9, abs=0.01)
    assert run.box_mm.x0 == pytest.approx(10, abs=0.01)
    assert run.box_mm.width == pytest.approx(text_width("Rye & spelt", 9), abs=0.02)
    assert run.box_mm.y0 < 20 < run.box_mm.y1, "the baseline lies between ascent and descent"


def test_size_is_effective_through_every_matrix(tmp_path: Path) -> None:
    form = drawing(40, 20).text("Small print", size=8, at=(2, 10))
    (run,) = content_of(card().form(form, at=(10, 10), scale=0.5, turn=15).user_unit(1.5), tmp_path).text_runs
    assert run.size_pt == pytest.approx(4, abs=0.01)


def test_invisible_text_is_listed_as_such_and_its_font_is_not_in_use(tmp_path: Path) -> None:
    content = content_of(card().text("under a scan", size=9, at=(10, 20), font="Helvetica", mode=3), tmp_path)
    assert [run.visible for run in content.text_runs] == [False]
    assert content.fonts == ()
    assert content.colors == ()


def test_text_off_the_sheet_is_not_visible(tmp_path: Path) -> None:
    content = content_of(card().text("notes", size=9, at=(200, 20)), tmp_path)
    assert [run.visible for run in content.text_runs] == [False]


def test_fonts_in_use_are_told_with_the_places_of_their_text(tmp_path: Path) -> None:
    content = content_of(card().text("Rye", 9, (10, 10)).text("Oat", 9, (10, 20), font="Helvetica"), tmp_path)
    assert {(font.name, font.embedded) for font in content.fonts} == {("BitstreamVeraSans-Roman", True), ("Helvetica", False)}
    assert all(len(font.boxes_mm) == 1 for font in content.fonts)


def test_letters_placed_one_by_one_are_read_as_a_line(tmp_path: Path) -> None:
    built = card().resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Courier))
    built.raw(b"BT /F 10 Tf 1 0 0 1 30 60 Tm (B) Tj 6 0 Td (r) Tj 6 0 Td (e) Tj 6 0 Td (a) Tj 6 0 Td (d) Tj ET")
    assert [run.text for run in content_of(built, tmp_path).text_runs] == ["Bread"]


def test_a_wide_gap_in_one_operator_is_a_new_place_and_a_small_one_a_blank(tmp_path: Path) -> None:
    built = card().resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Courier))
    built.raw(b"BT /F 10 Tf 30 60 Td [(Rye)-300(loaf)-9000(3.20)] TJ ET")
    assert [run.text for run in content_of(built, tmp_path).text_runs] == ["Rye loaf", "3.20"]


def test_standard_fonts_without_widths_take_the_published_metrics(tmp_path: Path) -> None:
    """Adobe core-14 metrics: 'A' of Helvetica is 667, 'i' is 222 thousandths wide."""
    built = card().resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    (run,) = content_of(built.raw(b"BT /F 100 Tf 30 60 Td (Ai) Tj ET"), tmp_path).text_runs
    assert run.box_mm.width == pytest.approx((0.667 + 0.222) * 100 * 25.4 / 72, abs=0.02)


def test_composite_fonts_take_widths_and_characters_from_their_maps(tmp_path: Path) -> None:
    def font(pdf: Pdf) -> object:
        cid = Dictionary(Type=Name.Font, Subtype=Name.CIDFontType2, BaseFont=Name("/ABCDEF+Loaf"), DW=500)
        cid.W = Array([1, [250, 750]])
        cid.CIDSystemInfo = Dictionary(Registry=b"Adobe", Ordering=b"Identity", Supplement=0)
        names = b"1 beginbfrange <0001> <0002> <0041> endbfrange 1 beginbfchar <0003> <00660069> endbfchar"
        made = Dictionary(Type=Name.Font, Subtype=Name.Type0, BaseFont=Name("/ABCDEF+Loaf"), Encoding=Name("/Identity-H"))
        made.DescendantFonts = Array([pdf.make_indirect(cid)])
        made.ToUnicode = pdf.make_indirect(Stream(pdf, names))
        return pdf.make_indirect(made)

    built = card().resource("Font", "F", font).raw(b"BT /F 100 Tf 30 60 Td <000100020003> Tj ET")
    (run,) = content_of(built, tmp_path).text_runs
    assert run.text == "ABfi"
    assert run.box_mm.width == pytest.approx((0.25 + 0.75 + 0.5) * 100 * 25.4 / 72, abs=0.02)


def test_the_glyphs_of_a_type_3_font_paint_in_their_own_colours(tmp_path: Path) -> None:
    def font(pdf: Pdf) -> object:
        glyph = pdf.make_indirect(Stream(pdf, b"1000 0 d0 1 0 0 rg 0 0 800 800 re f"))
        made = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 1000, 1000], FontMatrix=[0.001, 0, 0, 0.001, 0, 0])
        made.CharProcs, made.FirstChar, made.LastChar, made.Widths = Dictionary(a=glyph), 97, 97, [1000]
        made.Encoding = Dictionary(Type=Name.Encoding, Differences=[97, Name.a])
        return pdf.make_indirect(made)

    content = content_of(card().resource("Font", "F", font).raw(b"BT 0 0 0 1 k /F 10 Tf 30 60 Td (aa) Tj ET"), tmp_path)
    assert [(font.name, font.type, font.embedded) for font in content.fonts] == [("unnamed", "Type3", True)]
    assert ("rgb", "text") in {(use.family, use.kind) for use in content.colors}
    assert content.text_runs[0].box_mm.width == pytest.approx(20 * 25.4 / 72, abs=0.01)


@pytest.mark.parametrize(
    ("drawing", "pictures"),
    [
        (b"1000 0 0 0 900 900 d1 0 0 800 800 re f", False),
        (b"1000 0 0 0 900 900 d1 q 800 0 0 800 0 0 cm BI /W 8 /H 1 /IM true /BPC 1 ID \x55 EI Q", True),
        (b"1000 0 d0 q 800 0 0 800 0 0 cm BI /W 1 /H 1 /CS /G /BPC 8 ID \x55 EI Q", True),
    ],
)
def test_letters_that_are_bitmaps_are_told_from_outlines(drawing: bytes, pictures: bool, tmp_path: Path) -> None:
    def font(pdf: Pdf) -> object:
        glyphs = Dictionary(a=pdf.make_indirect(Stream(pdf, drawing)), b=pdf.make_indirect(Stream(pdf, b"9 0 d0")))
        made = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 1000, 1000], FontMatrix=[0.001, 0, 0, 0.001, 0, 0])
        made.CharProcs, made.FirstChar, made.LastChar, made.Widths = glyphs, 97, 98, [1000, 1000]
        made.Encoding = Dictionary(Type=Name.Encoding, Differences=[97, Name.a, Name.b])
        return pdf.make_indirect(made)

    content = content_of(card().resource("Font", "F", font).raw(b"BT /F 10 Tf 30 60 Td (ab) Tj ET"), tmp_path)
    assert [one.has_pictures for one in content.fonts] == [pictures]
    unseen = content_of(card().resource("Font", "F", font).raw(b"BT /F 10 Tf 30 60 Td (b) Tj ET"), tmp_path)
    assert [one.has_pictures for one in unseen.fonts if one.type == "Type3"] in ([], [False])
