"""Every stored sheet's empty document, opened by poppler, MuPDF and qpdf, and checked by the service itself."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pikepdf
import pymupdf
import pytest

from service.jobs.question import question_for
from service.language.spoken import Language, speaking
from service.pdf.facts.geometry import MM_PER_POINT
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.product.flat_pages import FlatPage
from service.proofs.template.pages import template_pages
from service.proofs.template.pdf import template_pdf
from service.proofs.template.svg import template_svg
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.sheets.catalogue import stored_sheets
from service.sheets.model import PagesAsked, SpecSheet
from service.sheets.order import for_order
from tests.outside_tools import tool
from tests.proofs.drawing.test_sheet_drawing import DRAWN, ORDER

SVG = "{http://www.w3.org/2000/svg}"
LAYERS = "{http://www.inkscape.org/namespaces/inkscape}"
LOCKS = "{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}"
CARD = stored_sheets()["business-card-85x55"]


def empty(sheet: SpecSheet, count: int | None = None) -> tuple[FlatPage, ...]:
    pages = template_pages(for_order(sheet, ORDER), count)
    assert not isinstance(pages, Unmeasured)
    return pages


def judged(path: Path, sheet: SpecSheet) -> Judgement:
    sheet = for_order(sheet, ORDER)
    return judge(measure(path, question_for(sheet)), sheet)


def filled(made: bytes, path: Path, *, guides: str) -> Path:
    """The document with a background to the edge of the bleed; its guides as they are, deleted, or left to print."""
    with pikepdf.open(io.BytesIO(made)) as pdf:
        for page in pdf.pages:
            x0, y0, x1, y1 = (float(one) for one in page.MediaBox)
            background = b"q 0.1 0.3 0.2 0 k %f %f %f %f re f Q" % (x0, y0, x1 - x0, y1 - y0)
            if guides == "deleted":
                page.Contents = pdf.make_stream(background)
            else:
                page.contents_add(background, prepend=True)
        if guides != "left":
            del pdf.Root.OCProperties
        pdf.save(path)
    return path


@pytest.mark.parametrize("name", DRAWN)
def test_its_boxes_and_pages_are_those_of_the_sheet(name: str) -> None:
    sheet = for_order(stored_sheets()[name], ORDER)
    pages = empty(sheet)
    with pymupdf.open(stream=io.BytesIO(template_pdf(pages, "empty"))) as pdf:
        assert len(pdf) == len(pages)
        for page in pdf:
            size = page.trimbox.width * MM_PER_POINT, page.trimbox.height * MM_PER_POINT
            if sheet.trim:
                wanted = next((part for part in sheet.trim.parts if page.number < (part.first or 0)), sheet.trim)
                assert sorted(size) == pytest.approx(sorted((wanted.width_mm, wanted.height_mm)), abs=0.01)
            depth = sheet.bleed.advised_mm if sheet.bleed else 0.0
            assert page.bleedbox == page.mediabox
            assert page.mediabox.width * MM_PER_POINT == pytest.approx(size[0] + 2 * depth, abs=0.01)


@pytest.mark.parametrize("name", ["business-card-85x55", "booklet-a5-stapled", "leaflet-dl-gate-8", "book-a5-cover", "poster-a2"])
def test_filled_with_a_background_and_without_its_guides_it_conforms(name: str, tmp_path: Path) -> None:
    sheet = stored_sheets()[name]
    path = filled(template_pdf(empty(sheet), "filled"), tmp_path / "filled.pdf", guides="deleted")
    judgement = judged(path, sheet)
    assert [found.rule for found in judgement.findings] == []
    assert judgement.verdict == "conforming"


def test_a_layer_of_guides_that_is_left_in_is_told(tmp_path: Path) -> None:
    path = filled(template_pdf(empty(CARD), "left in"), tmp_path / "left.pdf", guides="left")
    judgement = judged(path, CARD)
    assert {found.rule for found in judgement.findings} == {"layer.hidden"}


@pytest.mark.parametrize("language", ["en", "de", "fr", "es"])
def test_guides_that_would_print_are_told_in_each_language(language: Language, tmp_path: Path) -> None:
    with speaking(language):
        made = template_pdf(empty(CARD), "printed")
    judgement = judged(filled(made, tmp_path / "printed.pdf", guides="printed"), CARD)
    assert "copy.placeholder" in {found.rule for found in judgement.findings}


def test_guides_show_on_the_screen_and_not_in_print(tmp_path: Path) -> None:
    path = tmp_path / "card.pdf"
    path.write_bytes(template_pdf(empty(CARD), "card"))
    with pymupdf.open(path) as pdf:
        (layer,) = pdf.layer_ui_configs()
        assert (layer["on"], layer["locked"]) == (True, True)
    tool("qpdf")("--check", path)
    told = tool("pdfinfo")("-box", path)
    assert "Pages:           2" in told
    assert "TrimBox:             8.50     8.50   249.45   164.41" in told


def test_guides_stand_where_the_sheet_wants_them() -> None:
    sheet = stored_sheets()["leaflet-dl-zigzag-6"]
    with pymupdf.open(stream=io.BytesIO(template_pdf(empty(sheet), "leaflet"))) as pdf:
        lines = [item for drawing in pdf[0].get_drawings() for item in drawing["items"] if item[0] == "l"]
        upright = sorted({round(item[1].x * MM_PER_POINT - 3, 1) for item in lines if abs(item[1].x - item[2].x) < 0.01})
    assert upright == [99, 198]


@pytest.mark.parametrize(
    ("pages", "count", "expected"),
    [
        (PagesAsked(allowed=(1, 2)), None, 2),
        (PagesAsked(allowed=(4, 8)), None, 4),
        (PagesAsked(minimum=8, multiple_of=4), None, 8),
        (PagesAsked(minimum=10, multiple_of=4), None, 12),
        (PagesAsked(minimum=8, multiple_of=4), 12, 12),
        (None, None, 1),
    ],
)
def test_it_has_as_few_pages_as_the_sheet_takes(pages: PagesAsked | None, count: int | None, expected: int) -> None:
    assert len(empty(replace(CARD, pages=pages), count)) == expected


@pytest.mark.parametrize(
    ("pages", "count"),
    [
        (PagesAsked(allowed=(1, 2)), 3), (PagesAsked(minimum=8), 7), (PagesAsked(maximum=8), 9), (PagesAsked(multiple_of=4), 6),
        (None, 1001), (None, 0),
    ],
)  # fmt: skip
def test_a_count_that_the_sheet_refuses_is_refused_here(pages: PagesAsked | None, count: int) -> None:
    assert isinstance(template_pages(replace(CARD, pages=pages), count), Unmeasured)


def test_the_svg_has_a_layer_for_the_artwork_and_a_locked_one_above_it() -> None:
    root = ElementTree.fromstring(template_svg(empty(stored_sheets()["leaflet-dl-zigzag-6"])[0], "leaflet"))
    assert (root.attrib["width"], root.attrib["height"]) == ("303.0000mm", "216.0000mm")
    artwork, guides = root.findall(f"{SVG}g")
    assert [one.attrib[f"{LAYERS}groupmode"] for one in (artwork, guides)] == ["layer", "layer"]
    assert (len(artwork), artwork.get(f"{LOCKS}insensitive"), guides.get(f"{LOCKS}insensitive")) == (0, None, "true")
    folds = [float(one.attrib["x1"]) - 3 for one in guides.iter(f"{SVG}line") if one.attrib["data-guide"] == "fold"]
    assert folds == [99, 198]
    (trim,) = (one for one in guides.iter(f"{SVG}rect") if one.attrib["data-guide"] == "trim")
    assert re.fullmatch(r"3\.0+ 3\.0+ 297\.0+ 210\.0+", " ".join(trim.attrib[one] for one in ("x", "y", "width", "height")))
