"""What a drawing is made of, in mm of its paper from the top-left corner, y downwards. The writers know nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box

Stroke = Literal["outline", "narrow", "bleed", "fold", "margin"]
"""Outlines wide and continuous, measures narrow and continuous (ISO 128-2, types 01.2 and 01.1, from memory); folds dashed, bleed
long dashes and margin dots: common practice, no source."""

TYPE_MM = 2.8
SMALL_TYPE_MM = 2.2
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True)
class Segment:
    start: tuple[float, float]
    end: tuple[float, float]
    stroke: Stroke


@dataclass(frozen=True)
class Area:
    """A rectangle: its outline, and whether it is filled lightly."""

    box: Box
    stroke: Stroke
    tinted: bool = False


@dataclass(frozen=True)
class Arrowhead:
    """A filled triangle whose tip is `points[0]`."""

    points: tuple[tuple[float, float], tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class Words:
    text: str
    at: tuple[float, float]
    """On the base line."""
    anchor: Anchor = "middle"
    upright: bool = False
    """Turned to be read from the right."""
    size_mm: float = TYPE_MM


Shape = Segment | Area | Arrowhead | Words


@dataclass(frozen=True)
class SheetDrawing:
    """`words` says it all once more for whoever cannot see it."""

    width_mm: float
    height_mm: float
    title: str
    words: str
    shapes: tuple[Shape, ...]
