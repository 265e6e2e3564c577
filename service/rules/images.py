"""Rules on pictures."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil, isfinite

from service.pdf.measurements import Image, Measurements
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, Place, contents_of, rule
from service.rules.wording import counted, number, pages_named, ppi_under, size
from service.sheets.model import ImagesAsked, Resolution

PPI_SLACK = 0.005
"""A picture of 300 ppi by arithmetic is not low (design of the contract, slack). Common practice, no source."""

SMALLEST_JUDGED_PX = 64
"""Pictures with fewer pixels in either direction are patterns, rules and dots. Common practice, no source."""

MM_PER_INCH = 25.4

LINE_ART = "line-art picture"
"""What messages call a picture of 1 bit a pixel, stencils included."""


@rule(
    "image.resolution",
    asks=lambda sheet: sheet.images if sheet.images and asks_pixels(sheet.images.contone) else None,
    asked_by="images.contone_ppi",
    level="must",
    source="ISO 32000-2:2020, 8.9.5.1 (an image fills the unit square); the limits are the printer's",
    measured={"ppi": "lowest resolution as placed", "images": "how many pictures are too low", **LEFT_OUT},
    required={"minimum_ppi": "least resolution as placed", "preferred_ppi": "resolution that prints well"},
)
def image_resolution(measurements: Measurements, images: ImagesAsked) -> Iterator[Outcome]:
    """Pictures have enough pixels for the size at which they are printed.

    Why: too few pixels show as blur or steps; an e-mail or web picture looks sharp on screen and soft on paper.
    Remedy: place the original picture, or place this one smaller. Enlarging the pixel count in an image editor adds nothing.
    Knows: pixels over printed length in both directions, after every scaling, for each visible picture of grey or colour.
    Cannot know: whether the pixels are sharp, or were enlarged before. Pictures under 64 pixels either way are left out.
    """
    yield from _judge_resolution(measurements, images.contone or Resolution(), is_contone, "picture")


@rule(
    "image.resolution-bilevel",
    asks=lambda sheet: sheet.images if sheet.images and asks_pixels(sheet.images.bilevel) else None,
    asked_by="images.bilevel_ppi",
    level="must",
    source="ISO 32000-2:2020, 8.9.5.1 (an image fills the unit square); the limits are the printer's",
    measured={"ppi": "lowest resolution as placed", "images": "how many 1-bit pictures are too low", **LEFT_OUT},
    required={"minimum_ppi": "least resolution as placed", "preferred_ppi": "resolution that prints well"},
)
def image_resolution_bilevel(measurements: Measurements, images: ImagesAsked) -> Iterator[Outcome]:
    """Line art of 1 bit a pixel has enough pixels for smooth edges.

    Why: a pixel of line art is either ink or paper; too few of them show as steps on every slanted line.
    Remedy: scan or export the line art at a higher resolution, or place it as vectors.
    Knows: pixels over printed length of every visible picture of 1 bit, stencil masks included.
    Cannot know: whether it was enlarged from fewer pixels. Pictures under 64 pixels either way are left out.
    """
    yield from _judge_resolution(measurements, images.bilevel or Resolution(), is_bilevel, LINE_ART)


def is_contone(image: Image) -> bool:
    return image.kind == "contone"


def is_bilevel(image: Image) -> bool:
    """A stencil counts too: its edges are as hard."""
    return image.kind in ("bilevel", "mask")


def asks_pixels(asked: Resolution | None) -> bool:
    return asked is not None and (asked.minimum_ppi, asked.preferred_ppi) != (None, None)


def is_judged(image: Image) -> bool:
    return min(image.width_px, image.height_px) >= SMALLEST_JUDGED_PX


def _judge_resolution(
    measurements: Measurements, asked: Resolution, counts: Callable[[Image], bool], noun: str
) -> Iterator[Outcome]:
    low: list[tuple[int, Image]] = []
    soft: list[tuple[int, Image]] = []
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for image in content.images:
            if not counts(image) or not is_judged(image):
                continue
            if _below(image.ppi, asked.minimum_ppi):
                low.append((page.number, image))
            elif _below(image.ppi, asked.preferred_ppi):
                soft.append((page.number, image))
    if low:
        yield _too_few_pixels(low, asked, asked.minimum_ppi or 0, noun, preferred=False)
    if soft:
        yield _too_few_pixels(soft, asked, asked.preferred_ppi or 0, noun, preferred=True)


def _below(ppi: float, limit: float | None) -> bool:
    return limit is not None and ppi < limit * (1 - PPI_SLACK)


def _too_few_pixels(found: list[tuple[int, Image]], asked: Resolution, limit: float, noun: str, *, preferred: bool) -> Finding:
    """One finding for all pictures under one limit; the worst is described."""
    found = sorted(found, key=lambda one: one[1].ppi)
    worst_page, worst = found[0]
    pages = tuple(sorted({number_ for number_, _ in found}))
    where, at = f"on {pages_named(pages)}", f" (page {worst_page})" if len(pages) > 1 else ""
    lowest = f"{'' if len(found) == 1 else 'as little as '}{ppi_under(worst.ppi, limit)}{at}"
    wish = "prints better from" if preferred else "asks for at least"
    return Finding(
        message=f"{counted(len(found), noun)} {where} {'has' if len(found) == 1 else 'have'} {lowest} at the printed size; "
        f"{f'a {noun}' if preferred else 'the printer'} {wish} {number(limit, 0)} ppi.",
        remedy=_remedy(worst, worst_page, asked.preferred_ppi or limit, limit),
        measured={"ppi": round(worst.ppi, 1), "images": len(found)},
        required={"preferred_ppi": limit} if preferred else {"minimum_ppi": limit},
        pages=pages,
        places=tuple(Place(number_, image.visible_box_mm) for number_, image in found),
        preferred=preferred,
    )


def _remedy(image: Image, page: int, wanted_ppi: float, limit_ppi: float) -> str:
    """Pixels for the placed size, and the placed size for the pixels."""
    if not (image.ppi_x > 0 and image.ppi_y > 0 and isfinite(image.ppi_x) and isfinite(image.ppi_y)):
        return f"Place a larger original of the picture on page {page}."
    width_mm, height_mm = image.width_px / image.ppi_x * MM_PER_INCH, image.height_px / image.ppi_y * MM_PER_INCH
    shrink = image.ppi / limit_ppi
    return (
        f"The picture on page {page} is {image.width_px} × {image.height_px} pixels, printed {size(width_mm, height_mm)}: "
        "place an original of at least "
        f"{_pixels(width_mm, wanted_ppi)} × {_pixels(height_mm, wanted_ppi)} pixels, or print it at "
        f"{size(width_mm * shrink, height_mm * shrink)} or smaller. "
        f"See that the export does not reduce pictures below {number(limit_ppi, 0)} ppi."
    )


def _pixels(length_mm: float, ppi: float) -> int:
    """Whole pixels; a ten-thousandth over is arithmetic, not another pixel."""
    return ceil(length_mm / MM_PER_INCH * ppi - 1e-4)
