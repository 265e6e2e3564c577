"""Pictures as placed on a page, and what stands in for one that is not in the file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured

ImageKind = Literal["contone", "bilevel", "mask"]
NOT_DECODED = Unmeasured("The pixels of this picture were not all looked at.")


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
    object_number: int | None
    """Of its object in the file; None for one that stands in the page's content itself."""
    step_percent: float | Unmeasured
    """The largest step from one pixel to the next, of the full tone of a component and of opacity on top of it; beyond 10 % it
    need not be the largest.
    """

    @property
    def ppi(self) -> float:
        """The lower of the two directions."""
        return min(self.ppi_x, self.ppi_y)


@dataclass(frozen=True)
class StandIn:
    """Something placed in the layout whose real content is not in the file."""

    kind: Literal["missing object", "OPI"]
    box_mm: Box
