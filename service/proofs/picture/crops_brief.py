"""What whoever draws a report's picture crops and small pictures of whole pages is told: plain records, no PDF library.

All of one check are drawn in one call (`draw_crops`), each page once. What comes back is taken apart by `read_crops`,
which trusts nothing: it may come from a compromised process.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass

from service.pdf.facts.geometry import MM_PER_INCH, Box
from service.pdf.facts.page import Page
from service.proofs.picture.page_brief import Line, Mark, PageToShow, page_to_show, picture_area, size_px
from service.proofs.picture.rgb_png import rgb_png

CROPS = "service.proofs.picture.crops:draw_crops"
"""Where they are made."""

MOST_CROPS = 200
"""In one call; what comes after is not made."""
MOST_CROP_PIXELS = 1_500_000
"""Of one crop: one that is larger is not made."""

CROP_WIDTH, CROP_HEIGHT = 340, 260
"""Pixels that a crop fills at most, times its scale."""
THUMBNAIL_HEIGHT, WIDEST_THUMBNAIL = 260, 520
HIGHEST_CROP_PPI = 300.0
LEAST_CROP_MM = 30.0
"""Less of a page does not tell where one is. Ours, no source; so are the next ones."""
AROUND_PLACES = 0.35
"""Surroundings on each side, of the longer side of what is shown."""
LEAST_AROUND_MM = 6.0
SPREAD = 0.6
"""Places that fill so much of the page in both directions are shown on the whole page."""
SLIMMEST = 2.5
"""Times as long as wide is a crop at most."""


@dataclass(frozen=True)
class CropBrief:
    """A piece of a page with what is marked upon it."""

    page: PageToShow
    area_mm: Box
    ppi: float
    marks: tuple[Mark, ...] = ()
    lines: tuple[Line, ...] = ()
    scale: float = 2.0
    """Of line widths and markers: device pixels for each pixel of the layout."""

    @property
    def size_px(self) -> tuple[int, int]:
        return size_px(self.area_mm, self.ppi)


@dataclass(frozen=True)
class CropsBrief:
    crops: tuple[CropBrief, ...]
    seconds: float = 30.0
    """After so long those that are left are not made."""


def crop_area(page: Page, boxes: Sequence[Box]) -> Box:
    """The piece of the page that shows these places with their surroundings; the whole page where they are spread, or none."""
    whole, trim = picture_area(page), page.boxes_mm.trim
    seen = [cut for box in boxes if (cut := box.intersection(whole))]
    if not seen:
        return whole
    places = Box.around(point for box in seen for point in ((box.x0, box.y0), (box.x1, box.y1)))
    if places.width > SPREAD * trim.width and places.height > SPREAD * trim.height:
        return whole
    around = max(LEAST_AROUND_MM, AROUND_PLACES * max(places.width, places.height))
    grown = places.grown(around)
    width = max(grown.width, LEAST_CROP_MM, grown.height / SLIMMEST)
    height = max(grown.height, LEAST_CROP_MM, grown.width / SLIMMEST)
    x0, x1 = _within(places.x0 + places.width / 2, width, whole.x0, whole.x1)
    y0, y1 = _within(places.y0 + places.height / 2, height, whole.y0, whole.y1)
    return Box(x0, y0, x1, y1)


def crop_brief(page: Page, mark: Mark, *, scale: float = 2.0) -> CropBrief:
    """The piece of the page around a finding's places, with the trim drawn."""
    area = crop_area(page, mark.boxes_mm)
    ppi = min(_ppi_that_fits(area, CROP_WIDTH * scale, CROP_HEIGHT * scale), HIGHEST_CROP_PPI)
    return CropBrief(page_to_show(page), area, ppi, (mark,), (Line("trim", page.boxes_mm.trim),), scale)


def thumbnail_brief(page: Page, *, height: int = THUMBNAIL_HEIGHT) -> CropBrief:
    """The whole page as it is once cut, small."""
    trim = page.boxes_mm.trim
    return CropBrief(page_to_show(page), trim, _ppi_that_fits(trim, WIDEST_THUMBNAIL * height / THUMBNAIL_HEIGHT, height))


def _ppi_that_fits(area: Box, width: float, height: float) -> float:
    return MM_PER_INCH * min(width / max(area.width, 0.1), height / max(area.height, 0.1))


def _within(middle: float, length: float, least: float, most: float) -> tuple[float, float]:
    """A stretch about the middle, moved where it would reach beyond the ends."""
    length = min(length, most - least)
    start = min(max(middle - length / 2, least), most - length)
    return start, start + length


# --- The container ----------------------------------------------------------------------------------------------------


def pack_crops(pictures: Sequence[bytes | None]) -> bytes:
    """Each with its length before it (four bytes, the highest first); 0 for one that could not be made."""
    return b"".join(struct.pack(">I", len(one or b"")) + (one or b"") for one in pictures)


def read_crops(data: bytes, brief: CropsBrief) -> tuple[bytes | None, ...]:
    """The pictures in the order of the brief, None for one that could not be made.

    Raises ValueError where the bytes are not what ours draws.
    """
    pictures: list[bytes | None] = []
    at = 0
    for crop in brief.crops:
        if at + 4 > len(data):
            raise ValueError("the pictures are cut off")
        (length,) = struct.unpack_from(">I", data, at)
        at += 4
        if length > len(data) - at:
            raise ValueError("a picture is cut off")
        pictures.append(rgb_png(data[at : at + length], crop.size_px) if length else None)
        at += length
    if at != len(data):
        raise ValueError("there is more than the brief has")
    return tuple(pictures)
