"""Crop marks as other programs draw them, on pages whose boxes were taken away: the truth is the size that was asked of them.

* WeasyPrint draws CSS `marks: crop cross` (CSS Paged Media Level 3, 7.3) inside its MediaBox; the trim is the CSS page size.
* reportlab draws what it is told; here the marks that a layout program would, black only, without any box.
"""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.outside.conftest import MeasuredOnce
from tests.outside.test_corpus import CORPUS
from tests.outside_tools import drawing_package

MAGAZINE = sorted(CORPUS.glob("*-0acf672dc1.pdf")) if CORPUS.is_dir() else []

TABLE = "<table border=1 style='border-collapse: collapse'>" + "<tr><td>rye<td>2.40<td>spelt<td>2.60" * 6 + "</table>"


def by_weasyprint(width: float, height: float, bleed: float, marks: str) -> bytes:
    style = f"@page {{ size: {width}mm {height}mm; margin: 4mm; bleed: {bleed}mm; marks: {marks} }}"
    made = drawing_package("weasyprint").HTML(string=f"<style>{style}</style><p>Halyard Lane Bakery</p>{TABLE}").write_pdf()
    assert made is not None
    with pikepdf.open(io.BytesIO(bytes(made))) as pdf:
        for page in pdf.pages:
            for key in ("/TrimBox", "/BleedBox", "/ArtBox", "/CropBox"):
                if key in page:
                    del page[key]
        out = io.BytesIO()
        pdf.save(out)
        return out.getvalue()


def by_reportlab(width: float, height: float, room: float, offset: float, cards: int = 1) -> bytes:
    """Cards of that size side by side on one sheet, each with eight marks of 5 mm."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=((cards * (width + 2 * room)) * mm, (height + 2 * room) * mm))
    canvas.setLineWidth(0.25)
    for index in range(cards):
        left, foot = index * (width + 2 * room) + room, room
        canvas.rect((left - 3) * mm, (foot - 3) * mm, (width + 6) * mm, (height + 6) * mm, stroke=0, fill=0)
        canvas.drawString((left + 6) * mm, (foot + 6) * mm, "Halyard Lane Bakery")
        for x, out_x in ((left, -1), (left + width, 1)):
            for y, out_y in ((foot, -1), (foot + height, 1)):
                canvas.line((x + out_x * offset) * mm, y * mm, (x + out_x * (offset + 5)) * mm, y * mm)
                canvas.line(x * mm, (y + out_y * offset) * mm, x * mm, (y + out_y * (offset + 5)) * mm)
    canvas.save()
    return out.getvalue()


def measured(data: bytes, folder: Path) -> Page:
    file = folder / "marked.pdf"
    file.write_bytes(data)
    pages = measure(file).pages
    assert not isinstance(pages, Unmeasured)
    return pages[0]


@pytest.mark.parametrize("marks", ["crop", "crop cross"])
@pytest.mark.parametrize(
    ("width", "height", "bleed"), [(85, 55, 3), (88.9, 50.8, 3.175), (148, 210, 5), (210, 297, 4), (297, 210, 10), (60, 40, 6)]
)
def test_the_css_page_is_found_between_its_marks(width: float, height: float, bleed: float, marks: str, tmp_path: Path) -> None:
    found = measured(by_weasyprint(width, height, bleed, marks), tmp_path)
    assert found.trim_source == "crop_marks"
    assert (found.trim_width_mm, found.trim_height_mm) == pytest.approx((width, height), abs=0.05)
    assert found.boxes_mm.media == pytest.approx((-bleed, -bleed, width + bleed, height + bleed), abs=0.1)


@pytest.mark.parametrize("marks", ["none", "cross"])
def test_crosses_alone_and_tables_are_no_crop_marks(marks: str, tmp_path: Path) -> None:
    found = measured(by_weasyprint(148, 210, 5, marks), tmp_path)
    assert (found.trim_source, found.crop_marks_mm) == ("media_box", None)


@pytest.mark.parametrize(("width", "height", "room", "offset"), [(85, 55, 20, 3), (210, 297, 12, 2.12), (99, 210, 30, 10)])
def test_black_marks_drawn_by_hand_are_found(width: float, height: float, room: float, offset: float, tmp_path: Path) -> None:
    found = measured(by_reportlab(width, height, room, offset), tmp_path)
    assert found.trim_source == "crop_marks"
    assert (found.trim_width_mm, found.trim_height_mm) == pytest.approx((width, height), abs=0.05)


def test_the_marks_of_a_magazine_from_the_wild_stand_where_its_trim_box_is(tmp_path: Path, measured_once: MeasuredOnce) -> None:
    """Twenty pages of 210 × 293 mm; without its boxes each is trimmed at the marks alone."""
    if not MAGAZINE:
        pytest.skip("the folder of other people's PDFs is not there (see test_corpus)")
    boxed = measured_once(MAGAZINE[0]).pages
    with pikepdf.open(MAGAZINE[0]) as pdf:
        for page in pdf.pages:
            for key in ("/TrimBox", "/BleedBox", "/ArtBox", "/CropBox"):
                if key in page:
                    del page[key]
        pdf.save(tmp_path / "bare.pdf")
    bare = measure(tmp_path / "bare.pdf").pages
    assert not isinstance(boxed, Unmeasured)
    assert not isinstance(bare, Unmeasured)
    assert {one.trim_source for one in boxed} == {"trim_box"}
    assert {one.trim_source for one in bare} == {"crop_marks"}
    for one, other in zip(bare, boxed, strict=True):
        assert one.boxes_mm.media == pytest.approx(other.boxes_mm.media, abs=0.1)
        assert other.crop_marks_mm == pytest.approx(other.boxes_mm.trim, abs=0.1)


def test_cards_made_up_on_one_sheet_are_not_one_page(tmp_path: Path) -> None:
    assert measured(by_reportlab(85, 55, 12, 3, cards=2), tmp_path).trim_source == "media_box"
