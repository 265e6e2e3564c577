"""What a printer's empty document shows: its boxes, and the lines and shapes on layers or in spot inks that have a name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import TrimSource
from service.pdf.facts.unknown import Unmeasured


@dataclass(frozen=True)
class GuideShape:
    layer: str | None
    """Its name, and what kind of processing step it says that it is (ISO 19593-1)."""
    ink: str | None
    """The one spot ink that it is painted in."""
    prints: bool
    kind: Literal["line", "rectangle", "other"]
    """A line is level or upright. `other`: of a shape that its box does not say."""
    dashed: bool
    box_mm: Box
    """Of the path itself; a line has no width or no height. From the top-left corner of what the page's `trim_mm` is."""


@dataclass(frozen=True)
class GuidedPage:
    number: int
    trim_mm: Box
    """Where the page is trimmed, as far as its boxes and crop marks say it."""
    trim_source: TrimSource
    bleed_mm: Box | None
    """The declared BleedBox."""
    media_mm: Box
    shapes: tuple[GuideShape, ...] | Unmeasured


@dataclass(frozen=True)
class GuidedPages:
    pages: tuple[GuidedPage, ...]
    """The first ones."""
    page_count: int
