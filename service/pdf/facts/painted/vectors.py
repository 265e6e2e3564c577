"""Lines, shapes and printer's marks of a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.colors import ObjectKind


@dataclass(frozen=True)
class LineUse:
    """Lines of one width and paint: strokes, and filled areas as thin as a line."""

    width_pt: float
    """Effective, where a matrix squeezes it most; 0: the thinnest line that the device can draw (8.4.3.2)."""
    drawn: Literal["stroke", "thin fill"]
    inks: tuple[str, ...]
    """As in `TextRun`."""
    tint: float
    white: bool
    on_ink: bool
    """As in `TextRun`, for at least one of them."""
    overprints: bool
    count: int
    boxes_mm: tuple[Box, ...]
    beyond_trim: bool
    """True for lines that lie wholly outside the trim, where marks stand: they are summed up apart."""


CROWD_MM = 2.0
"""Vector objects smaller than this are summed up by squares of this size; the sum keeps their outermost edges."""


@dataclass(frozen=True)
class Artwork:
    """A vector object that leaves ink, or a crowd of small ones that stand in one square of `CROWD_MM`."""

    kind: ObjectKind
    box_mm: Box
    """The visible part."""
    inks: tuple[str, ...]
    """Empty where a conversion decides."""
    count: int


@dataclass(frozen=True)
class Frame:
    """A rectangle that is drawn as a line around most of the page."""

    box_mm: Box
    """Around its ink."""
    width_mm: float
    inks: tuple[str, ...]
    """Empty where a conversion decides."""


@dataclass(frozen=True)
class MarkLine:
    """A short thin straight line, level or upright, that can be a printer's mark."""

    box_mm: Box
    """Of its centre line: one side is 0."""
    width_pt: float
    inks: tuple[str, ...]
    registration: bool
    """Painted in every ink (Separation All, or all four process inks)."""
