"""Words across a page, such as 'For approval': slanted, as outlines, so that the page's own text stays clean to copy.

The typeface is Bitstream Vera, shipped with reportlab under a licence that lets it be shared.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import atan2, cos, hypot, sin
from pathlib import Path

import pikepdf
import reportlab
from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Stream

GRAY, OPACITY = 0.25, 0.22
RIM_OPACITY, RIM_EM = 0.45, 0.02
"""A white rim, so that the words are seen on dark pictures too."""
_PAINT = "(paint)"
"""Stands for the painting operator of a glyph."""
_OF_DIAGONAL, _TALLEST = 0.6, 0.12
"""How much of the diagonal the words span, and how tall they may be at most. Ours, no source."""


@dataclass(frozen=True)
class Watermark:
    form: pikepdf.Object
    """From the origin to the right, in units of the em."""
    width: float

    def placed_on(self, width: float, height: float) -> tuple[float, float, float, float, float, float]:
        """Matrix that puts the words across the middle of a page of that size, along its rising diagonal."""
        diagonal, angle = hypot(width, height), atan2(height, width)
        scale = min(_OF_DIAGONAL * diagonal / self.width, _TALLEST * diagonal)
        along, across = scale * cos(angle), scale * sin(angle)
        x, y = self.width / 2, 0.36
        return along, across, -across, along, width / 2 - (along * x - across * y), height / 2 - (across * x + along * y)


def watermark_form(out: pikepdf.Pdf, words: str) -> Watermark:
    """The words as a form XObject of `out`."""
    font = _typeface()
    names, glyphs, em = font.getBestCmap(), font.getGlyphSet(), font["head"].unitsPerEm
    pen = _Outlines(glyphs)
    x = 0.0
    for letter in words:
        glyph = glyphs[names.get(ord(letter), ".notdef")]
        pen.written.append(f"q 1 0 0 1 {x:.0f} 0 cm")
        glyph.draw(pen)
        pen.written.append(_PAINT + " Q")
        x += glyph.width
    outlines = "\n".join(pen.written)
    words_painted = outlines.replace(_PAINT, "S") + "\n" + outlines.replace(_PAINT, "f")  # the rim below, so that it eats nothing
    content = f"/G gs {GRAY} g 1 G 1 j {RIM_EM * em:.1f} w {1 / em:.9f} 0 0 {1 / em:.9f} 0 0 cm\n" + words_painted
    form = Stream(out, content.encode(), Type=Name.XObject, Subtype=Name.Form)
    form.BBox = Array([-0.2, -0.5, x / em + 0.2, 1.3])
    form.Resources = Dictionary(ExtGState=Dictionary(G=Dictionary(ca=OPACITY, CA=RIM_OPACITY)))
    form.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    return Watermark(out.make_indirect(form), max(x / em, 0.1))


@cache
def _typeface() -> TTFont:
    return TTFont(Path(reportlab.__file__).parent / "fonts" / "VeraBd.ttf")


class _Outlines(BasePen):  # type: ignore[misc]
    """Path operators of what is drawn; the base class turns the font's quadratic curves into cubic ones."""

    def __init__(self, glyphs: object) -> None:
        super().__init__(glyphs)
        self.written: list[str] = []

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self.written.append(f"{pt[0]:.1f} {pt[1]:.1f} m")

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self.written.append(f"{pt[0]:.1f} {pt[1]:.1f} l")

    def _curveToOne(self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]) -> None:  # noqa: N802
        self.written.append(" ".join(f"{value:.1f}" for one in (pt1, pt2, pt3) for value in one) + " c")

    def _closePath(self) -> None:  # noqa: N802
        self.written.append("h")
