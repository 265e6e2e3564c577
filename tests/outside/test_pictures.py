"""Pixels and effective ppi of pictures against `pdfimages -list` (poppler-utils), on files of independent producers.

poppler prints whole ppi; the tolerance is 1 ppi. It lists soft masks as pictures of their own, which we do not: those
rows are left out.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Callable
from pathlib import Path

import pytest
import typst
from PIL import Image as Pixels
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.outside_tools import drawing_package, tool

Row = tuple[int, int, int, float, float]
"""Page, width and height in pixels, ppi along x and y."""


def pixels(width: int, height: int, mode: str, form: str) -> bytes:
    out = io.BytesIO()
    Pixels.linear_gradient("L").resize((width, height)).convert(mode).save(out, form)
    return out.getvalue()


def by_reportlab() -> bytes:
    """CMYK JPEG, gray PNG and 1-bit, scaled unevenly, turned, and twice through a form."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(148 * mm, 105 * mm))
    jpeg = ImageReader(io.BytesIO(pixels(640, 400, "CMYK", "JPEG")))
    canvas.drawImage(jpeg, 10 * mm, 50 * mm, 60 * mm, 20 * mm)
    canvas.saveState()
    canvas.translate(100 * mm, 20 * mm)
    canvas.rotate(33)
    canvas.drawImage(jpeg, 0, 0, 30 * mm, 30 * mm)
    canvas.restoreState()
    canvas.beginForm("twice")
    canvas.drawImage(ImageReader(io.BytesIO(pixels(300, 300, "L", "PNG"))), 0, 0, 25.4 * mm, 25.4 * mm)
    canvas.endForm()
    canvas.saveState()
    canvas.scale(0.5, 0.25)
    canvas.doForm("twice")
    canvas.restoreState()
    canvas.drawInlineImage(Pixels.new("RGB", (90, 60), "orange"), 90 * mm, 60 * mm, 30 * mm, 20 * mm)
    canvas.showPage()
    canvas.setPageRotation(90)
    canvas.drawImage(jpeg, 10 * mm, 10 * mm, 64 * mm, 40 * mm)
    canvas.save()
    return out.getvalue()


def by_weasyprint() -> bytes:
    address = "data:image/jpeg;base64," + base64.b64encode(pixels(500, 300, "RGB", "JPEG")).decode()
    style = "@page { size: 105mm 148mm; bleed: 3mm; marks: crop } img { width: 70mm; transform: rotate(20deg) scale(.8) }"
    made = drawing_package("weasyprint").HTML(string=f"<style>{style}</style><p>Rye<p><img src='{address}'>").write_pdf()
    assert made is not None
    return bytes(made)


def by_typst(folder: Path) -> bytes:
    (folder / "loaf.png").write_bytes(pixels(420, 260, "RGB", "PNG"))
    source = b"""#set page(width: 105mm, height: 148mm)
    #image("loaf.png", width: 50mm)
    #rotate(45deg, image("loaf.png", width: 20mm))"""
    (folder / "page.typ").write_bytes(source)
    made = typst.compile(folder / "page.typ", format="pdf")
    assert isinstance(made, bytes)
    return made


def by_cairo() -> bytes:
    out = io.BytesIO()
    cairocffi = drawing_package("cairocffi")
    surface = cairocffi.PDFSurface(out, 300, 200)
    context = cairocffi.Context(surface)
    image = cairocffi.ImageSurface.create_from_png(io.BytesIO(pixels(256, 128, "RGB", "PNG")))
    context.translate(40, 30)
    context.rotate(0.4)
    context.scale(0.5, 0.7)
    context.set_source_surface(image)
    context.paint()
    surface.finish()
    return out.getvalue()


MADE: dict[str, Callable[[Path], bytes]] = {
    "reportlab": lambda _: by_reportlab(),
    "weasyprint": lambda _: by_weasyprint(),
    "typst": by_typst,
    "cairo": lambda _: by_cairo(),
}


@pytest.mark.parametrize("producer", MADE)
def test_pictures_have_the_pixels_and_ppi_that_poppler_lists(producer: str, tmp_path: Path) -> None:
    file = tmp_path / "pictures.pdf"
    file.write_bytes(MADE[producer](tmp_path))
    listed = rows_of(tool("pdfimages")("-list", file))
    ours = measured_rows(file)
    assert len(listed) >= 1
    assert [row[:3] for row in ours] == [row[:3] for row in listed]
    for our, their in zip(ours, listed, strict=True):
        assert our[3:] == pytest.approx(their[3:], abs=1.0), (our, their)


def rows_of(output: str) -> list[Row]:
    cells = [line.split() for line in output.splitlines()[2:]]
    return sorted((int(row[0]), int(row[3]), int(row[4]), float(row[-4]), float(row[-3])) for row in cells if row[2] != "smask")


def measured_rows(file: Path) -> list[Row]:
    pages = measure(file).pages
    assert not isinstance(pages, Unmeasured)
    rows: list[Row] = []
    for page in pages:
        assert isinstance(page.content, Content)
        rows += [(page.number, one.width_px, one.height_px, one.ppi_x, one.ppi_y) for one in page.content.images]
    return sorted(rows)
