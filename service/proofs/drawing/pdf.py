"""A drawing as a PDF of its own size, vectors and text with its font inside."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Literal

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from service.language.typography import without_narrow_spaces
from service.pdf.facts.geometry import MM_PER_POINT
from service.proofs.drawing.shapes import Area, Arrowhead, Segment, Shape, SheetDrawing, Words
from service.proofs.drawing.svg import STROKES

_TYPE_FACE = "Vera"
_TINT = 0.9
_HALO_MM = 0.8
"""White around words, where a line of another measure crosses them."""
_FILLED: Literal[0] = 0
_OUTLINED: Literal[1] = 1
"""Text rendering modes (ISO 32000-2:2020, table 104)."""


def drawing_pdf(drawing: SheetDrawing) -> bytes:
    if _TYPE_FACE not in pdfmetrics.getRegisteredFontNames():  # Bitstream Vera, which reportlab brings and which may be embedded
        pdfmetrics.registerFont(TTFont(_TYPE_FACE, str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
    made = io.BytesIO()
    size = drawing.width_mm / MM_PER_POINT, drawing.height_mm / MM_PER_POINT
    canvas = Canvas(made, pagesize=size, invariant=1, initialFontName=_TYPE_FACE)  # type: ignore[arg-type]
    canvas.setTitle(drawing.title)
    canvas.setSubject(drawing.words)
    canvas.scale(1 / MM_PER_POINT, 1 / MM_PER_POINT)
    for shape in drawing.shapes:
        _draw(canvas, shape, drawing.height_mm)
    canvas.showPage()
    canvas.save()
    return made.getvalue()


def _draw(canvas: Canvas, shape: Shape, height: float) -> None:
    match shape:
        case Segment((x0, y0), (x1, y1), stroke):
            _pen(canvas, *STROKES[stroke])
            canvas.line(x0, height - y0, x1, height - y1)
        case Area(box, stroke, tinted):
            _pen(canvas, *STROKES[stroke])
            canvas.setFillGray(_TINT)
            canvas.rect(box.x0, height - box.y1, box.width, box.height, fill=int(tinted))
        case Arrowhead(points):
            canvas.setFillGray(0)
            head = canvas.beginPath()
            head.moveTo(points[0][0], height - points[0][1])
            for x, y in points[1:]:
                head.lineTo(x, height - y)
            head.close()
            canvas.drawPath(head, stroke=0, fill=1)
        case Words(text, (x, y), anchor, upright, size):
            canvas.saveState()
            canvas.setFillGray(0)
            canvas.setFont(_TYPE_FACE, size)
            canvas.translate(x, height - y)
            if upright:
                canvas.rotate(90)
            draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[anchor]
            canvas.setStrokeGray(1)
            canvas.setLineWidth(_HALO_MM)
            letters = without_narrow_spaces(text)
            draw(0, 0, letters, mode=_OUTLINED)
            draw(0, 0, letters, mode=_FILLED)
            canvas.restoreState()


def _pen(canvas: Canvas, width: float, dashes: str | None) -> None:
    canvas.setLineWidth(width)
    canvas.setDash([float(one) for one in dashes.split()] if dashes else [])
