"""An empty document as PDF: the right boxes, nothing on the pages, and guides on a layer that shows and does not print."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import pikepdf
import reportlab
from pikepdf import Array, Dictionary, Name, Operator, String
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from service.language.spoken import say
from service.language.typography import without_narrow_spaces
from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.product.flat_pages import FlatPage
from service.proofs.template.pages import guide_words, guides_of

_TYPE_FACE = "Vera"
_TYPE_PT = 5.0
_GUIDE_WIDTH_PT = 0.25
_GUIDE_CMYK = (0.0, 1.0, 0.0, 0.0)
"""Magenta shows on most artwork. Common practice, no source."""
_DASHES: dict[str, list[float]] = {"trim": [], "margin": [0.5, 1.5], "fold": [4, 2], "area": [1, 1]}


def template_pdf(pages: Sequence[FlatPage], title: str) -> bytes:
    """Media and bleed box at the edge of the bleed, trim box inside it; the guides' layer is locked (ISO 32000-2:2020, 8.11)."""
    with pikepdf.open(io.BytesIO(_guides(pages))) as pdf:
        layer = pdf.make_indirect(
            Dictionary(
                Type=Name.OCG,
                Name=String(say("Guides (do not print)")),
                Usage=Dictionary(Print=Dictionary(PrintState=Name.OFF), View=Dictionary(ViewState=Name.ON)),
            )
        )
        states = [
            Dictionary(Event=Name("/" + event), Category=Array([Name("/" + event)]), OCGs=Array([layer]))
            for event in ("View", "Print")
        ]
        configuration = Dictionary(Order=Array([layer]), Locked=Array([layer]), AS=Array(states))
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=configuration)
        for page, drawn in zip(pages, pdf.pages, strict=True):
            drawn.obj.Resources.Properties = Dictionary(Guides=layer)
            content = pikepdf.parse_content_stream(drawn)
            begin = ([Name.OC, Name.Guides], Operator("BDC"))
            drawn.obj.Contents = pdf.make_stream(pikepdf.unparse_content_stream([begin, *content, ([], Operator("EMC"))]))
            _set_boxes(drawn.obj, page)
        del pdf.docinfo
        pdf.docinfo["/Title"], pdf.docinfo["/Creator"] = title, "print-spec-service"
        made = io.BytesIO()
        pdf.save(made, min_version="1.6", deterministic_id=True)
        return made.getvalue()


def _set_boxes(drawn: pikepdf.Object, page: FlatPage) -> None:
    bleed, width, height = page.bleed_mm, page.trim_mm.width, page.trim_mm.height
    drawn.MediaBox = _points(0, 0, width + 2 * bleed, height + 2 * bleed)
    drawn.BleedBox = drawn.MediaBox
    drawn.TrimBox = _points(bleed, bleed, bleed + width, bleed + height)


def _points(*mm: float) -> Array:
    return Array([round(one / MM_PER_POINT, 4) for one in mm])


def _guides(pages: Sequence[FlatPage]) -> bytes:
    """A PDF with the guides alone."""
    if _TYPE_FACE not in pdfmetrics.getRegisteredFontNames():  # Bitstream Vera, which reportlab brings and which may be embedded
        pdfmetrics.registerFont(TTFont(_TYPE_FACE, str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
    made = io.BytesIO()
    canvas = Canvas(made, invariant=1, initialFontName=_TYPE_FACE)  # type: ignore[arg-type]
    for page in pages:
        area = page.trim_mm.grown(page.bleed_mm)
        canvas.setPageSize((area.width / MM_PER_POINT, area.height / MM_PER_POINT))
        canvas.setStrokeColorCMYK(*_GUIDE_CMYK)
        canvas.setFillColorCMYK(*_GUIDE_CMYK)
        canvas.setLineWidth(_GUIDE_WIDTH_PT)
        for kind, place in guides_of(page):
            canvas.setDash(_DASHES[kind])
            _draw(canvas, place, area)
        x, y = (page.bleed_mm + 1) / MM_PER_POINT, (page.bleed_mm + 1) / MM_PER_POINT
        canvas.setFont(_TYPE_FACE, _TYPE_PT)
        canvas.drawString(x, y, without_narrow_spaces(guide_words()))
        canvas.showPage()
    canvas.save()
    return made.getvalue()


def _draw(canvas: Canvas, place: Box, area: Box) -> None:
    x, y = (place.x0 - area.x0) / MM_PER_POINT, (area.y1 - place.y1) / MM_PER_POINT
    width, height = place.width / MM_PER_POINT, place.height / MM_PER_POINT
    if place.width and place.height:
        canvas.rect(x, y, width, height)
    else:
        canvas.line(x, y, x + width, y + height)
