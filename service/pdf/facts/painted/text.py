"""Fonts and text of a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured

FontType = Literal["Type1", "TrueType", "Type3", "CIDFontType0", "CIDFontType2", "MMType1", "unknown"]


@dataclass(frozen=True)
class FontUse:
    """A font that paints text on the page."""

    name: str
    """BaseFont without a subset tag."""
    type: FontType
    embedded: bool
    """Type 3 glyphs are in the file by their nature: True."""
    subset: bool
    boxes_mm: tuple[Box, ...]
    """Where its text stands: the first runs only."""
    damage: str | Unmeasured | None
    """Why its embedded program does not parse; None where it does, or where none is embedded."""
    has_pictures: bool
    """Some glyphs that it paints are pictures: bitmaps of a Type 3 font."""


@dataclass(frozen=True)
class TextRun:
    """What one text-showing operator shows."""

    text: str
    """Unicode by ToUnicode or the encoding; U+FFFD for a glyph without a known character."""
    box_mm: Box
    """The type box: along the line by advance widths, across it by the font's ascent and descent. Rows of text are told by it."""
    ink_mm: Box | Unmeasured | None
    """Around the outlines of its glyphs, not cut by clips; None where they leave no ink (blanks)."""
    visible: bool
    """False where nothing of it can be seen on the print: rendering mode 3 or 7, clipped away, outside the media,
    in a layer that does not print."""
    font: str
    size_pt: float
    """Effective, through every matrix: how tall an em is on paper."""
    written: str
    """Colour space of the paint, as in `ColorUse.written`."""
    inks: tuple[str, ...]
    """Those that have an edge here: black that flattening merged with the plain colour below is black alone."""
    tint: float
    """The strongest of its inks, 0–1; 1 where a conversion decides (RGB, Lab)."""
    white: bool
    """It leaves the paper white: reversed out where `on_ink`."""
    on_ink: bool
    """Ink was painted under its middle before, by the bounds of objects."""
    overprints: bool
    """It leaves the inks below it that it does not paint (ISO 32000-2:2020, 8.6.7)."""
    black_tint: float
    """How strong black is among its inks, 0–1; 0 where it is none of them."""
