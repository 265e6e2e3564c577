"""PDFs as other programs write them: reportlab, WeasyPrint, typst and cairo. Each gives what it was asked for and the file."""

from __future__ import annotations

import io

import typst
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from tests.outside_tools import drawing_package


def by_reportlab() -> bytes:
    """Two pages: 85 × 55 mm with all five boxes, and A6 on its side, rotated, with only a CropBox."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(105 * mm, 75 * mm), invariant=True)
    canvas.setTrimBox((10 * mm, 10 * mm, 95 * mm, 65 * mm))
    canvas.setBleedBox((7 * mm, 7 * mm, 98 * mm, 68 * mm))
    canvas.setArtBox((15 * mm, 15 * mm, 90 * mm, 60 * mm))
    canvas.setCropBox((2 * mm, 2 * mm, 103 * mm, 73 * mm))
    canvas.setFont("Helvetica", 9)
    canvas.drawString(20 * mm, 30 * mm, "Halyard Lane Bakery")
    canvas.showPage()
    for name in ("Trim", "Bleed", "Art"):
        getattr(canvas, f"set{name}Box")(None)
    canvas.setPageSize((148 * mm, 105 * mm))
    canvas.setPageRotation(90)
    canvas.setCropBox((4 * mm, 8 * mm, 100 * mm, 141 * mm))  # reportlab swaps the sheet's sides for a turned page
    canvas.setFont("Times-Bold", 12)
    canvas.drawString(20 * mm, 30 * mm, "Copperbeck Press")
    canvas.save()
    return out.getvalue()


def by_weasyprint(bleed_mm: float, marks: bool = True) -> bytes:
    """A card of 85 × 55 mm by CSS bleed. Its BleedBox reaches at most 10 pt beyond the trim, whatever the CSS says (seen)."""
    style = f"@page {{ size: 85mm 55mm; margin: 5mm; bleed: {bleed_mm}mm; marks: {'crop' if marks else 'none'} }}"
    html = f"<style>{style}</style><p style='font-family: sans-serif'>Halyard Lane Bakery</p>"
    made = drawing_package("weasyprint").HTML(string=html).write_pdf()
    assert made is not None
    return bytes(made)


def by_typst() -> bytes:
    """Two pages, 148 × 105 and 105 × 148 mm; typst writes a MediaBox only."""
    source = b"""#set page(width: 148mm, height: 105mm, margin: 10mm)
    Rye, spelt and barley
    #set page(width: 105mm, height: 148mm, margin: 10mm)
    Opening times"""
    made = typst.compile(source, format="pdf")
    assert isinstance(made, bytes)
    return made


def by_cairo() -> bytes:
    """Two pages of different sizes, MediaBox only, and a font that cairo chooses and subsets."""
    out = io.BytesIO()
    cairocffi = drawing_package("cairocffi")
    surface = cairocffi.PDFSurface(out, 85 * mm, 55 * mm)
    context = cairocffi.Context(surface)
    context.select_font_face("Sans")
    context.set_font_size(10)
    context.move_to(20, 40)
    context.show_text("Halyard Lane Bakery")
    surface.show_page()
    surface.set_size(210 * mm, 99 * mm)
    context.move_to(20, 40)
    context.show_text("Copperbeck Press")
    surface.show_page()
    surface.finish()
    return out.getvalue()
