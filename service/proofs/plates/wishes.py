"""What a caller may wish of a page's ink plates."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.proofs.wishes import PAGE_PPI

PageBox = Literal["bleed", "trim", "media"]
PlatesArea = Literal[PageBox, "picture"]
"""`picture`: pixel for pixel what the picture of the page covers (`picture_area`), white where there is no paper."""
PlateLook = Literal["grey", "hue"]
TotalLook = Literal["grey", "scale"]
USUAL_LOOK: Literal["grey"] = "grey"


@dataclass(frozen=True)
class PlatesWishes:
    area: PlatesArea = "bleed"
    ppi: int = PAGE_PPI.usual
