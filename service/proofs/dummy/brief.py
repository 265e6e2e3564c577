"""What whoever draws a dummy is told: which page lies where on which side of the paper, with its lines and words.

Places on paper are mm from its top-left corner as the side is read; a side that the printer turns over upside down is drawn so as
a whole. Plain records, no PDF library; `plan` makes them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box
from service.proofs.dummy.wishes import Flip, PaperName

DummyKind = Literal["booklet", "leaflet", "cover", "leaf"]
LineKind = Literal["cut", "fold", "staple"]

DUMMY = "service.proofs.dummy.drawn:dummy_pdf"
"""Where it is drawn."""


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
