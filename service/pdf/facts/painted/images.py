"""Pictures as placed on a page, and what stands in for one that is not in the file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured

ImageKind = Literal["contone", "bilevel", "mask"]


@dataclass(frozen=True)
class Image:
    """An image as placed on the page; drawn twice, it is two."""

    box_mm: Box
    """Around its unit square after every matrix, not cut by clips."""
    visible_box_mm: Box
    """The part that clips and the media leave."""
    width_px: int
    height_px: int
    ppi_x: float
    """Pixels over the placed length of its own x direction; `ppi_y` likewise."""
    ppi_y: float
    kind: ImageKind
    """`contone`; `bilevel`: 1 bit a pixel; `mask`: a stencil, painted in the current colour."""
    space: str
    """Colour space as written, as in `ColorUse.written`; for a stencil that of the paint."""
    bits: int
    filter: str | None
    """The last filter of the stream, 'DCTDecode'; None where it is stored bare."""
    jpeg_quality: int | Unmeasured | None
    """Estimated from the quantisation tables, 1–100; None where the image is no JPEG."""
    inline: bool
    stored_bytes: int | Unmeasured
    """Of its data as the file holds it."""

    @property
    def ppi(self) -> float:
        """The lower of the two directions."""
        return min(self.ppi_x, self.ppi_y)


@dataclass(frozen=True)
class StandIn:
    """Something placed in the layout whose real content is not in the file."""

    kind: Literal["missing object", "OPI"]
    box_mm: Box
