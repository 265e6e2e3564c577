"""The paper that a dummy is printed on, and how much smaller its pages have to get."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from service.proofs.dummy.wishes import DummyWishes, PaperName
from service.sheets.model import SpecSheet

PAPERS_MM: Mapping[PaperName, tuple[float, float]] = MappingProxyType(
    {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}
)
"""Upright. ISO 216:2007; Letter and Tabloid are ANSI A and B (ASME Y14.1)."""

EDGE_MM = 12.0
"""Left free around the pages for marks and words: desk printers leave some 4 to 5 mm unprinted. Common practice, no source."""
_TRADE_IN_INCHES = {"US", "CA"}


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


def usual_paper(sheet: SpecSheet) -> PaperName:
    return "Letter" if sheet.regions and set(sheet.regions) <= _TRADE_IN_INCHES else "A4"


def paper_for(width_mm: float, height_mm: float, wishes: DummyWishes) -> Paper:
    """Turned as it takes most, upright where that is the same; nothing is enlarged."""
    assert wishes.paper is not None, "the paper was chosen before"
    short, long = PAPERS_MM[wishes.paper]

    def scale(paper_width: float, paper_height: float) -> float:
        return min((paper_width - 2 * EDGE_MM) / width_mm, (paper_height - 2 * EDGE_MM) / height_mm, 1.0)

    along = scale(long, short) > scale(short, long) or (scale(long, short) == scale(short, long) and width_mm > height_mm)
    size = (long, short) if along else (short, long)
    return Paper(wishes.paper, *size, scale(*size), wishes)
