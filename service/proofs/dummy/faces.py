"""What a dummy consists of: sides of paper with pages, lines and words on them, and how pages fit on the paper.

Places on paper are mm from its top-left corner as the side is read; a side that the printer turns over upside down is drawn so
as a whole. Pages get smaller only where the paper is too small.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from service.pdf.facts.geometry import Box
from service.proofs.dummy.wishes import DummyWishes, Flip, PaperName

DummyKind = Literal["booklet", "leaflet", "cover", "leaf"]
LineKind = Literal["cut", "fold", "staple"]

PAPERS_MM: Mapping[PaperName, tuple[float, float]] = MappingProxyType(
    {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}
)
"""Upright. ISO 216:2007; Letter and Tabloid are ANSI A and B (ASME Y14.1)."""

EDGE_MM = 12.0
"""Left free around the pages for marks and words: desk printers leave some 4 to 5 mm unprinted. Common practice, no source."""
MARK_FROM_MM, MARK_TO_MM = 1.0, 3.5
"""Where the marks for cutting and folding begin and end, from the trim."""
WORDS_ABOVE_MM, WORDS_BELOW_MM = 4.5, 6.5
"""Baselines of the words above and below the pages."""


@dataclass(frozen=True)
class Placement:
    page: int
    media_mm: Box
    """As it was measured, in the page's ruler mm."""
    shown_mm: Box
    """What of the page is shown, in its ruler mm."""
    at_mm: tuple[float, float]
    """Where the top-left corner of that comes to lie on the paper."""


@dataclass(frozen=True)
class Line:
    kind: LineKind
    start_mm: tuple[float, float]
    end_mm: tuple[float, float]


@dataclass(frozen=True)
class Words:
    text: str
    at_mm: tuple[float, float]
    """Of the baseline: its start, or its middle where `centred`."""
    centred: bool
    most_mm: float
    """How much room there is; longer words are set smaller."""


@dataclass(frozen=True)
class Face:
    """One side of a sheet of paper."""

    placements: tuple[Placement, ...]
    lines: tuple[Line, ...]
    words: tuple[Words, ...]
    upside_down: bool = False


@dataclass(frozen=True)
class DummyBrief:
    kind: DummyKind
    title: str
    paper: PaperName
    width_mm: float
    height_mm: float
    scale: float
    faces: tuple[Face, ...]
    """Front and back of each sheet in turn; a single one is printed on one side."""
    flip: Flip
    blanks: tuple[int, ...]
    """Numbers of the pages of the booklet that were added."""
    changes: tuple[str, ...]
    """What is different from the file, a sentence each."""

    @property
    def both_sides(self) -> bool:
        return len(self.faces) > 1

    @property
    def sheets(self) -> int:
        return (len(self.faces) + 1) // 2


@dataclass(frozen=True)
class Paper:
    name: PaperName
    width_mm: float
    height_mm: float
    scale: float
    wishes: DummyWishes

    @property
    def back_upside_down(self) -> bool:
        """The reader turns a sheet over from left to right, about an upright edge; the printer may do otherwise."""
        return (self.wishes.flip == "short") != (self.width_mm > self.height_mm)


def paper_for(width_mm: float, height_mm: float, wishes: DummyWishes) -> Paper:
    """Turned as it takes most, upright where that is the same; nothing is enlarged."""
    assert wishes.paper is not None, "the paper was chosen before"
    short, long = PAPERS_MM[wishes.paper]

    def scale(paper_width: float, paper_height: float) -> float:
        return min((paper_width - 2 * EDGE_MM) / width_mm, (paper_height - 2 * EDGE_MM) / height_mm, 1.0)

    along = scale(long, short) > scale(short, long) or (scale(long, short) == scale(short, long) and width_mm > height_mm)
    size = (long, short) if along else (short, long)
    return Paper(wishes.paper, *size, scale(*size), wishes)


def cut_marks(area: Box) -> list[Line]:
    marks = []
    for x, outwards_x in ((area.x0, -1), (area.x1, 1)):
        for y, outwards_y in ((area.y0, -1), (area.y1, 1)):
            marks.append(Line("cut", (x + outwards_x * MARK_FROM_MM, y), (x + outwards_x * MARK_TO_MM, y)))
            marks.append(Line("cut", (x, y + outwards_y * MARK_FROM_MM), (x, y + outwards_y * MARK_TO_MM)))
    return marks


def fold_ticks(x: float, area: Box) -> list[Line]:
    """Above and below an upright fold, so that nothing is drawn over the pages."""
    ends = ((area.y0 - MARK_TO_MM, area.y0 - MARK_FROM_MM), (area.y1 + MARK_FROM_MM, area.y1 + MARK_TO_MM))
    return [Line("fold", (x, start), (x, end)) for start, end in ends]
