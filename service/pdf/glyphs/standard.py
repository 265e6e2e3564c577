"""Outlines of the standard 14 fonts where a file does not embed them (ISO 32000-2:2020, 9.6.2.2).

They are PDFium's stand-ins, which our pictures are drawn with. A printer's own Helvetica differs from them by some hundredths of
an em at most, since their metrics are the same; of other fonts that are not embedded nothing is known.
"""

from __future__ import annotations

import ctypes
from functools import cache

import pypdfium2.raw as pdfium

from service.pdf.facts.geometry import IDENTITY
from service.pdf.facts.unknown import Unmeasured
from service.pdf.glyphs.outline import NOT_KNOWN, Outline, Point, PointsPen

STANDARD = frozenset(
    ["Courier", "Courier-Bold", "Courier-Oblique", "Courier-BoldOblique", "Helvetica", "Helvetica-Bold", "Helvetica-Oblique",
     "Helvetica-BoldOblique", "Times-Roman", "Times-Bold", "Times-Italic", "Times-BoldItalic"]
)
"""Without Symbol and ZapfDingbats, whose codes PDFium does not tell."""

_FAMILIES = {"Arial": "Helvetica", "CourierNew": "Courier", "TimesNewRoman": "Times"}
_STYLES = {"Helvetica": ("", "Oblique"), "Courier": ("", "Oblique"), "Times": ("Roman", "Italic")}


def standard_name(name: str) -> str:
    """Of a standard font by another of its names: 'Arial,Bold' is Helvetica-Bold (PDF Reference 1.7, Appendix H, on 5.5.1; from
    memory).
    """
    family, _, style = name.replace("PSMT", "").replace("PS", "").replace("MT", "").replace(",", "-").partition("-")
    if family not in _FAMILIES:
        return name
    upright, slanted = _STYLES[_FAMILIES[family]]
    bold, italic = "Bold" in style, "Italic" in style
    style = ("Bold" if bold else "") + (slanted if italic else "" if bold else upright)
    return _FAMILIES[family] + ("-" + style if style else "")


@cache
def standard_outline(font: str, character: str) -> Outline | Unmeasured | None:
    """Of a character of the Latin alphabets; PDFium has about 220."""
    font = standard_name(font)
    if font not in STANDARD or len(character) != 1:
        return NOT_KNOWN
    shown = character.replace("€", "0")  # PDFium's fonts have no euro; it is as wide and as tall as a figure
    path = pdfium.FPDFFont_GetGlyphPath(_loaded(font), ord(shown), 1.0)
    return Outline.of_points(_points(path)) if path else NOT_KNOWN


@cache
def _loaded(font: str) -> pdfium.FPDF_FONT:
    return pdfium.FPDFText_LoadStandardFont(_document(), font.encode("ascii"))


@cache
def _document() -> pdfium.FPDF_DOCUMENT:
    """Which the fonts belong to: kept as long as the process."""
    return pdfium.FPDF_CreateNewDocument()


def _points(path: pdfium.FPDF_GLYPHPATH) -> list[Point]:
    x, y = ctypes.c_float(), ctypes.c_float()
    pen, steering = PointsPen(IDENTITY), []
    for at in range(pdfium.FPDFGlyphPath_CountGlyphSegments(path)):
        segment = pdfium.FPDFGlyphPath_GetGlyphPathSegment(path, at)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        steering.append((x.value, y.value))
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_BEZIERTO and len(steering) < 3:
            continue
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            pen.moveTo(*steering)
        else:
            pen.curveTo(*steering)  # with one point it is a line
        steering = []
    return pen.points
