"""The rule on pictures that were stretched more in one direction."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from service.language.spoken import say, say_many
from service.language.wording import number, on_pages, on_which, size
from service.pdf.facts.geometry import MM_PER_INCH
from service.pdf.facts.page import Page
from service.pdf.facts.painted.images import Image
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule
from service.rules.image.image import Found, is_contone, is_judged, pages_with, places_of
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import SpecSheet

MOST_STRETCH = 1.05
"""One direction printed a twentieth longer than the other shows in faces and circles. Common practice, no source."""

FAX_PIXELS = (8.04 / 3.85, 15.4 / 8.04)
"""How oblong the pixels of a fax are, for it to look natural: 8.04 pixels a millimetre across and 3.85 (standard) or 15.4
lines down; the 7.7 of 'fine' are nearly square (ITU-T T.4, from memory)."""

FAX_WITHIN = 0.02
"""How far a picture may be from that: a letter's width in pixels is rounded. Ours, no source."""

OBLONG_FROM, SHARE_OF_PAGE = 1.8, 0.9
"""A picture that fills so much of the page, and has that many more pixels one way, was scanned like this: by hand nobody pulls a
whole page so far. Ours, no source."""


@rule(
    "image.distorted",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="should",
    source="common practice, no source; ISO 32000-2:2020, 8.9.5.1 (an image fills the unit square)",
    measured={"percent": "how much longer one direction is printed than the other, at the worst", "images": "how many pictures",
              **LEFT_OUT},
    required={"percent": "most that does not show"},
)
def image_distorted(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """Pictures keep their shape.

    Why: a picture that was pulled by one side shows fat or thin faces and oval wheels.
    Remedy: set both scalings of the picture to the same percentage, and crop instead.
    Knows: the resolution of each picture of grey or colour along both of its own directions. The oblong pixels of a fax, and
    of a scan that fills the page, are no distortion.
    Cannot know: another picture with oblong pixels, or one that is stretched on purpose, as a gradient or a texture.
    """
    found: Found = []
    for page, content in pages:
        stretched = (
            one
            for one in content.images
            if is_contone(one) and is_judged(one) and _stretch(one) > MOST_STRETCH and not _has_oblong_pixels(one, page)
        )
        found += [(page.number, image) for image in stretched]
    if found:
        yield _out_of_shape(found)


def _out_of_shape(found: Found) -> Finding:
    """One finding for all stretched pictures; the worst is described."""
    page_number, worst = max(found, key=lambda one: _stretch(one[1]))
    wide = worst.ppi_x < worst.ppi_y
    percent = round((_stretch(worst) - 1) * 100, 1)
    height_mm = worst.height_px / (worst.ppi_x if wide else worst.ppi_y) * MM_PER_INCH
    width_mm = worst.width_px / (worst.ppi_x if wide else worst.ppi_y) * MM_PER_INCH
    if wide:
        more = say("{percent} % more in width", percent=number(percent))
    else:
        more = say("{percent} % more in height", percent=number(percent))
    return Finding(
        message=say_many(
            "{count} picture {on_pages} has been stretched: {more}.",
            "{count} pictures {on_pages} have been stretched: up to {more}.",
            len(found),
            on_pages=on_pages(pages_with(found)),
            more=on_which(more, page_number, pages_with(found)),
        ),
        remedy=say_many(
            "Scale the picture by the same percentage in width and in height. On page {page} it keeps its shape at {size}; crop "
            "what is too much.",
            "Scale each picture by the same percentage in width and in height. The one that is stretched most (page "
            "{page}) keeps its shape at {size}; crop what is too much.",
            len(found),
            page=page_number,
            size=size(width_mm, height_mm),
        ),
        measured={"percent": percent, "images": len(found)},
        required={"percent": round((MOST_STRETCH - 1) * 100, 1)},
        pages=pages_with(found),
        places=places_of(found),
    )


def _has_oblong_pixels(image: Image, page: Page) -> bool:
    """It was sampled more finely one way, and is placed so that it looks natural."""
    stretch, box, trim = _stretch(image), image.box_mm, page.boxes_mm.trim
    fills_the_page = min(box.width / trim.width, box.height / trim.height) >= SHARE_OF_PAGE if trim.area else False
    fax = any(abs(stretch / oblong - 1) <= FAX_WITHIN for oblong in FAX_PIXELS)
    return fax or (fills_the_page and stretch >= OBLONG_FROM)


def _stretch(image: Image) -> float:
    """How many times one direction is printed longer than the other; 1 where that cannot be said."""
    low, high = sorted((image.ppi_x, image.ppi_y))
    return high / low if low > 0 and isfinite(high) else 1.0
