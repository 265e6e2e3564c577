"""What a caller may wish of a dummy."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.proofs.dummy.imposition import BlanksPlace

PaperName = Literal["A4", "A3", "Letter", "Tabloid"]
Flip = Literal["short", "long"]
THICKEST_LEAF_MM = 1.0


@dataclass(frozen=True)
class DummyWishes:
    paper: PaperName | None = None
    """None: A4, or Letter where the sheet is for North America."""
    flip: Flip = "short"
    """The edge of the paper about which the printer turns it over."""
    blanks: BlanksPlace = "end"
    caliper_mm: float = 0.0
    """Of a leaf; 0: no creep compensation."""
