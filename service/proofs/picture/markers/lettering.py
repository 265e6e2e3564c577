"""How large what is written and drawn beside pictures is, its typeface, and words broken into lines."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from io import BytesIO

from PIL import ImageFont

TEXT, LINE = 11.5, 16.0
"""Size and line height, px at scale 1; so are the next ones."""
MARGIN = 14.0
LEAST_WIDTH = 220.0
"""Narrower pictures get a ground of this width for what is written below them."""

_LEAST_SCALE = 0.75
_WORD = re.compile(r"(?:[^\s]|[\u00a0\u202f])+")
"""What a space that does not break holds together is one word."""
_NO_BREAKS = re.compile("[\u00a0\u202f]")
"""Drawn as plain spaces: the typeface has none of the narrow ones and makes the others too wide."""


def scale_at(ppi: float) -> float:
    """Finer pictures have thicker lines and larger letters; on coarser ones they stay readable."""
    return max(ppi / 100, _LEAST_SCALE)


@cache
def font(size: float, *, bold: bool = False) -> ImageFont.FreeTypeFont:
    """Bitstream Vera, which comes with reportlab: it has the letters of the Western European languages."""
    data = (files("reportlab") / "fonts" / ("VeraBd.ttf" if bold else "Vera.ttf")).read_bytes()
    return ImageFont.truetype(BytesIO(data), size, layout_engine=ImageFont.Layout.BASIC)


def broken(text: str, width: float, face: ImageFont.FreeTypeFont) -> list[str]:
    """Into lines of that width; a word that is longer is broken where the line ends."""
    lines = [""]
    for word in _short_words(text, width, face):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and face.getlength(longer) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _short_words(text: str, width: float, face: ImageFont.FreeTypeFont) -> Iterator[str]:
    for word in _WORD.findall(text):
        rest = _NO_BREAKS.sub(" ", word)
        while len(rest) > 1 and face.getlength(rest) > width:
            most = next((count for count in range(len(rest) - 1, 1, -1) if face.getlength(rest[:count]) <= width), 1)
            yield rest[:most]
            rest = rest[most:]
        yield rest
