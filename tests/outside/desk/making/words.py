"""What the bakery says in its print, its colours, and pictures and typefaces for it: made by rule, the same each time."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import reportlab
from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw

from service.demo.photographs import cmyk, jpeg, photograph

NAME = "Halyard Lane Bakery"
LINES = (
    "Rye, spelt and barley from our own stones.",
    "We bake at four and open at six, every day but Monday.",
    "Ask for the harvest loaf: it keeps until Friday.",
    "Order your festive breads by the tenth of December.",
)
ADDRESS = ("Halyard Lane Bakery", "14 Halyard Lane, Port Aldmere", "orders@halyard-lane.example")
BODY = " ".join(LINES * 6)
CRUST, CREAM, SEA = (0.2, 0.6, 0.9, 0.25), (0.02, 0.06, 0.2, 0.0), (0.85, 0.4, 0.3, 0.1)
"""CMYK, 0–1."""
CRUST_RGB, CREAM_RGB, SEA_RGB = "#8a4a1e", "#f8ecd0", "#1f5f80"

_VERA = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
_URW = Path("/usr/share/fonts/opentype/urw-base35")
SCRIPT, GOTHIC, BOOK = (_URW / name for name in ("Z003-MediumItalic.otf", "URWGothic-Demi.otf", "C059-Roman.otf"))
"""Debian's fonts-urw-base35; where they are missing the families' names fall back on what there is."""
SCRIPT_FAMILY, GOTHIC_FAMILY = "Z003", "URW Gothic"


@cache
def picture_jpeg(width_px: int, height_px: int, *, in_cmyk: bool, scene: str = "") -> bytes:
    from service.demo.photographs import SCENES

    drawn = photograph(scene or next(iter(SCENES)), width_px, height_px)
    return jpeg(cmyk(drawn) if in_cmyk else drawn, 92)


@cache
def crest_png(side_px: int = 600) -> bytes:
    """A loaf on nothing: its visible pixels fill the middle third of the frame."""
    image = Image.new("RGBA", (side_px, side_px), (0, 0, 0, 0))
    third = side_px // 3
    ImageDraw.Draw(image).ellipse((third, third, 2 * third, 2 * third), fill=(138, 74, 30, 255))
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def tall_face(folder: Path) -> Path:
    """Bitstream Vera with the type box of a display face: one and a half times the ascent, three times the descent."""
    path = folder / "HalyardTall.ttf"
    font = TTFont(_VERA, recalcTimestamp=False)
    font["hhea"].ascent, font["hhea"].descent = font["hhea"].ascent * 3 // 2, 3 * font["hhea"].descent
    font["OS/2"].sTypoAscender, font["OS/2"].sTypoDescender = font["hhea"].ascent, font["hhea"].descent
    font["OS/2"].usWinAscent, font["OS/2"].usWinDescent = font["hhea"].ascent, -font["hhea"].descent
    font["head"].yMax, font["head"].yMin = font["hhea"].ascent, font["hhea"].descent
    for name, number in (("Halyard Tall", 1), ("Halyard Tall", 4), ("HalyardTall", 6)):
        font["name"].setName(name, number, 3, 1, 0x409)
        font["name"].setName(name, number, 1, 0, 0)
    font.save(path)
    return path


def vera() -> Path:
    return _VERA
