"""Rules on pictures."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil, isfinite
from typing import Literal

from service.language.spoken import say, say_many
from service.language.wording import by, number, on_pages, on_which, ppi_under, size
from service.pdf.facts.geometry import MM_PER_INCH, SLACK_MM, Box
from service.pdf.facts.painted.images import Image
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import ImagesAsked, Resolution

PPI_SLACK = 0.005
"""A picture of 300 ppi by arithmetic is not low (design of the contract, slack). Common practice, no source."""

SMOOTH_PERCENT = 1.0
"""A step of tone that shows no edge. Common practice, no source; ours to draw the line here, as the eye sees more or less by the
tone, the light and the distance.
"""
STEP_ROUNDING_PERCENT = 100 / 255
"""What 8 bits can add to a step: either pixel is up to half of theirs off."""

SMALLEST_JUDGED_PX = 64
"""Pictures with fewer pixels in either direction are patterns, rules and dots. Common practice, no source."""

Found = list[tuple[int, Image]]
"""Pictures of one cause, each with the number of its page."""

Sort = Literal["picture", "line art"]
"""What messages call a picture: line art is of 1 bit a pixel, stencils included."""


@rule(
    "image.resolution",
    needs=contents_of,
    asks=lambda sheet: sheet.images if sheet.images and asks_pixels(sheet.images.contone) else None,
    asked_by="images.contone_ppi",
    level="must",
    source="ISO 32000-2:2020, 8.9.5.1 (an image fills the unit square); the limits are the printer's",
    measured={"ppi": "lowest resolution as placed", "images": "how many pictures are too low",
              "step_percent": "largest step of tone between pixels, of pictures that are smooth tones", **LEFT_OUT},
    required={"minimum_ppi": "least resolution as placed", "preferred_ppi": "resolution that prints well"},
)
def image_resolution(pages: PagesWithContent, images: ImagesAsked) -> Iterator[Outcome]:
    """Pictures have enough pixels for the size at which they are printed.

    Why: too few pixels show as blur or steps; an e-mail or web picture looks sharp on screen and soft on paper.
    Remedy: place the original picture, or place this one smaller. Enlarging the pixel count in an image editor adds nothing.
    Knows: pixels over printed length in both directions, after every scaling, for each visible picture of grey or colour. A
    gradient that an export made a picture of, with steps of tone up to 1 % from pixel to pixel, is an observation at most; one
    flat colour is nothing.
    Cannot know: whether the pixels are sharp, or were enlarged before. Pictures under 64 pixels either way are left out.
    """
    yield from _judge_resolution(pages, images.contone or Resolution(), is_contone, "picture")


@rule(
    "image.resolution-bilevel",
    needs=contents_of,
    asks=lambda sheet: sheet.images if sheet.images and asks_pixels(sheet.images.bilevel) else None,
    asked_by="images.bilevel_ppi",
    level="must",
    source="ISO 32000-2:2020, 8.9.5.1 (an image fills the unit square); the limits are the printer's",
    measured={"ppi": "lowest resolution as placed", "images": "how many 1-bit pictures are too low", **LEFT_OUT},
    required={"minimum_ppi": "least resolution as placed", "preferred_ppi": "resolution that prints well"},
)
def image_resolution_bilevel(pages: PagesWithContent, images: ImagesAsked) -> Iterator[Outcome]:
    """Line art of 1 bit per pixel has enough pixels for smooth edges.

    Why: a pixel of line art is either ink or paper; too few of them show as steps on every slanted line.
    Remedy: scan or export the line art at a higher resolution, or place it as vectors.
    Knows: pixels over printed length of every visible picture of 1 bit, stencil masks included.
    Cannot know: whether it was enlarged from fewer pixels. Pictures under 64 pixels either way are left out.
    """
    yield from _judge_resolution(pages, images.bilevel or Resolution(), is_bilevel, "line art")


def is_contone(image: Image) -> bool:
    return image.kind == "contone"


def is_bilevel(image: Image) -> bool:
    """A stencil counts too: its edges are as hard."""
    return image.kind in ("bilevel", "mask")


def asks_pixels(asked: Resolution | None) -> bool:
    return asked is not None and (asked.minimum_ppi, asked.preferred_ppi) != (None, None)


def is_judged(image: Image) -> bool:
    return min(image.width_px, image.height_px) >= SMALLEST_JUDGED_PX


def pages_with(found: Found) -> tuple[int, ...]:
    return tuple(sorted({page for page, _ in found}))


def places_of(found: Found) -> tuple[Place, ...]:
    return tuple(Place(page, image.visible_box_mm) for page, image in found)


def _judge_resolution(
    pages: PagesWithContent, asked: Resolution, counts: Callable[[Image], bool], sort: Sort
) -> Iterator[Outcome]:
    low: Found = []
    soft: Found = []
    smooth: Found = []
    for page, content in pages:
        for image in content.images:
            if not counts(image) or not is_judged(image) or _is_shape_of_another(image, content.images):
                continue
            step = None if isinstance(image.step_percent, Unmeasured) or not is_contone(image) else image.step_percent
            if step is not None and step <= SMOOTH_PERCENT + STEP_ROUNDING_PERCENT:
                if step > 0 and _below(image.ppi, asked.minimum_ppi):
                    smooth.append((page.number, image))
            elif _below(image.ppi, asked.minimum_ppi):
                low.append((page.number, image))
            elif _below(image.ppi, asked.preferred_ppi):
                soft.append((page.number, image))
    if low:
        yield _too_few_pixels(low, asked, asked.minimum_ppi or 0, sort, preferred=False)
    if smooth:
        yield _smooth_tones(smooth, asked.minimum_ppi or 0)
    if soft:
        yield _too_few_pixels(soft, asked, asked.preferred_ppi or 0, sort, preferred=True)


def _is_shape_of_another(image: Image, images: tuple[Image, ...]) -> bool:
    """A stencil in the very frame of a picture of grey or colour belongs to it, and is judged by it."""
    return image.kind == "mask" and any(is_contone(one) and _same_frame(one.box_mm, image.box_mm) for one in images)


def _same_frame(one: Box, other: Box) -> bool:
    return all(abs(a - b) <= SLACK_MM for a, b in zip(one, other, strict=True))


def _below(ppi: float, limit: float | None) -> bool:
    return limit is not None and ppi < limit * (1 - PPI_SLACK)


def _too_few_pixels(found: Found, asked: Resolution, limit: float, sort: Sort, *, preferred: bool) -> Finding:
    """One finding for all pictures under one limit; the worst is described."""
    found = sorted(found, key=lambda one: one[1].ppi)
    worst_page, worst = found[0]
    pages = pages_with(found)
    lowest = on_which(ppi_under(worst.ppi, limit), worst_page, pages)
    return Finding(
        message=_wished(_found(len(found), pages, lowest, sort), number(limit, 0), sort, preferred),
        remedy=_remedy(worst, worst_page, asked.preferred_ppi or limit, limit),
        measured={"ppi": round(worst.ppi, 1), "images": len(found)},
        required={"preferred_ppi": limit} if preferred else {"minimum_ppi": limit},
        pages=pages,
        places=places_of(found),
        preferred=preferred,
    )


def _smooth_tones(found: Found, limit: float) -> Finding:
    """Pictures whose pixels nobody tells apart: an observation, whatever the rule's level."""
    worst_page, worst = min(found, key=lambda one: one[1].ppi)
    step = max(one.step_percent for _, one in found if not isinstance(one.step_percent, Unmeasured))
    pages = pages_with(found)
    return Finding(
        message=say_many(
            "{found}; at least {limit} ppi is asked for. It is a smooth tone, such as a gradient that was made a picture: from "
            "one pixel to the next the tone changes by {step} % at most, and no edges of pixels should show.",
            "{found}; at least {limit} ppi is asked for. They are smooth tones, such as gradients that were made pictures: from "
            "one pixel to the next the tone changes by {step} % at most, and no edges of pixels should show.",
            len(found),
            found=_found(len(found), pages, on_which(ppi_under(worst.ppi, limit), worst_page, pages), "picture"),
            limit=number(limit, 0),
            step=number(step, 1),
        ),
        remedy=say(
            "Leave it so if it looks even in a proof. If the printer wants no such pictures, export again so that gradients stay "
            "gradients."
        ),
        measured={"ppi": round(worst.ppi, 1), "images": len(found), "step_percent": round(step, 2)},
        required={"minimum_ppi": limit},
        pages=pages,
        places=places_of(found),
        preferred=True,
    )


def _found(count: int, pages: tuple[int, ...], lowest: str, sort: Sort) -> str:
    """What was found, a clause without its full stop."""
    if sort == "line art":
        return say_many(
            "{count} line-art picture {on_pages} has {lowest} at the printed size",
            "{count} line-art pictures {on_pages} have as little as {lowest} at the printed size",
            count,
            on_pages=on_pages(pages),
            lowest=lowest,
        )
    return say_many(
        "{count} picture {on_pages} has {lowest} at the printed size",
        "{count} pictures {on_pages} have as little as {lowest} at the printed size",
        count,
        on_pages=on_pages(pages),
        lowest=lowest,
    )


def _wished(found: str, limit: str, sort: Sort, preferred: bool) -> str:
    if not preferred:
        return say("{found}; at least {limit} ppi is asked for.", found=found, limit=limit)
    if sort == "line art":
        return say("{found}; a line-art picture prints better from {limit} ppi.", found=found, limit=limit)
    return say("{found}; a picture prints better from {limit} ppi.", found=found, limit=limit)


def _remedy(image: Image, page: int, wanted_ppi: float, limit_ppi: float) -> str:
    """Pixels for the placed size, and the placed size for the pixels."""
    if not (image.ppi_x > 0 and image.ppi_y > 0 and isfinite(image.ppi_x) and isfinite(image.ppi_y)):
        return say("Place a larger original of the picture on page {page}.", page=page)
    width_mm, height_mm = image.width_px / image.ppi_x * MM_PER_INCH, image.height_px / image.ppi_y * MM_PER_INCH
    shrink = image.ppi / limit_ppi
    found = by(str(image.width_px), str(image.height_px))
    needed = by(str(_pixels(width_mm, wanted_ppi)), str(_pixels(height_mm, wanted_ppi)))
    told: dict[str, str | int] = {
        "page": page,
        "found": found,
        "size": size(width_mm, height_mm),
        "needed": needed,
        "smaller": size(width_mm * shrink, height_mm * shrink),
        "limit": number(limit_ppi, 0),
    }
    if wanted_ppi <= limit_ppi:
        return say(
            "The picture on page {page} is {found} pixels, printed {size}: place an original of at least {needed} pixels, or "
            "print it at {smaller} or smaller. See that the export does not reduce pictures below {limit} ppi.",
            **told,
        )
    return say(
        "The picture on page {page} is {found} pixels, printed {size}: place an original of {needed} pixels ({wanted} ppi), of "
        "{least} at the least ({limit} ppi), or print it at {smaller} or smaller. See that the export does not reduce pictures "
        "below {limit} ppi.",
        **told,
        wanted=number(wanted_ppi, 0),
        least=by(str(_pixels(width_mm, limit_ppi)), str(_pixels(height_mm, limit_ppi))),
    )


def _pixels(length_mm: float, ppi: float) -> int:
    """Whole pixels; a ten-thousandth over is arithmetic, not another pixel."""
    return ceil(length_mm / MM_PER_INCH * ppi - 1e-4)
