"""The rule on pictures with more pixels than the print can show."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from service.language.spoken import say, say_many
from service.language.wording import number, on_pages
from service.pdf.facts.painted.images import Image
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.image.image import PPI_SLACK, Found, Sort, is_contone, is_judged, pages_with, places_of
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import ImagesAsked, Resolution

USELESS_CONTONE_PPI, USELESS_BILEVEL_PPI = 450.0, 3600.0
"""More than this prints no better. Common practice, no source."""

HARMLESS_PX = 250_000
"""A picture of fewer pixels weighs nothing, however fine it is; a sheet's own maximum counts for it too. Ours, no source."""


@rule(
    "image.excess",
    needs=contents_of,
    asks=lambda sheet: sheet.images if sheet.images and (sheet.images.contone or sheet.images.bilevel) else None,
    asked_by="images.contone_ppi, images.bilevel_ppi: their maximum, else the common limits",
    level="should",
    source="common practice, no source",
    measured={"ppi": "highest resolution as placed", "images": "how many pictures have more than they need", **LEFT_OUT},
    required={"maximum_ppi": "resolution beyond which nothing is gained"},
)
def image_excess(pages: PagesWithContent, images: ImagesAsked) -> Iterator[Outcome]:
    """Pictures have no more pixels than the print can show.

    Why: they make the file heavy and slow, and print no better; some are sharpened for another size.
    Remedy: let the export reduce pictures to the printer's preferred resolution, or reduce them in the image editor.
    Knows: pixels over printed length in both directions. Without a maximum in the sheet the common limits hold (450 ppi, 3600 ppi
    for 1-bit pictures), and only for pictures of some size.
    Cannot know: a picture that is to be enlarged later.
    """
    sorts: tuple[tuple[Sort, Resolution | None, float], ...] = (
        ("picture", images.contone, USELESS_CONTONE_PPI),
        ("line art", images.bilevel, USELESS_BILEVEL_PPI),
    )
    found: dict[Sort, Found] = {sort: [] for sort, _, _ in sorts}
    for page, content in pages:
        for image in content.images:
            sort, asked, useless = sorts[0] if is_contone(image) else sorts[1]
            if asked is not None and is_judged(image) and _has_too_many(image, asked.maximum_ppi, useless):
                found[sort].append((page.number, image))
    for sort, asked, useless in sorts:
        if found[sort] and asked is not None:
            yield _too_many_pixels(found[sort], sort, asked, asked.maximum_ppi or useless)


def _has_too_many(image: Image, maximum_ppi: float | None, useless_ppi: float) -> bool:
    if not isfinite(image.ppi):
        return False
    if maximum_ppi is not None:
        return image.ppi > maximum_ppi * (1 + PPI_SLACK)
    return image.ppi > useless_ppi * (1 + PPI_SLACK) and image.width_px * image.height_px >= HARMLESS_PX


def _too_many_pixels(found: Found, sort: Sort, asked: Resolution, limit_ppi: float) -> Finding:
    most = max(image.ppi for _, image in found)
    wanted = asked.preferred_ppi or asked.minimum_ppi or limit_ppi
    return Finding(
        message=_more_than_needed(found, sort, number(most, 0), number(limit_ppi, 0)),
        remedy=say(
            "Let the export reduce pictures to {wanted} ppi; keep your originals as they are.",
            wanted=number(wanted, 0),
        ),
        measured={"ppi": round(most, 1), "images": len(found)},
        required={"maximum_ppi": limit_ppi},
        pages=pages_with(found),
        places=places_of(found),
        level="should" if asked.maximum_ppi is None else None,
    )


def _more_than_needed(found: Found, sort: Sort, most: str, limit: str) -> str:
    if sort == "line art":
        return say_many(
            "{count} line-art picture {on_pages} has {most} ppi at the printed size; more than {limit} ppi prints no better.",
            "{count} line-art pictures {on_pages} have up to {most} ppi at the printed size; more than {limit} ppi prints no "
            "better.",
            len(found),
            on_pages=on_pages(pages_with(found)),
            most=most,
            limit=limit,
        )
    return say_many(
        "{count} picture {on_pages} has {most} ppi at the printed size; more than {limit} ppi prints no better.",
        "{count} pictures {on_pages} have up to {most} ppi at the printed size; more than {limit} ppi prints no better.",
        len(found),
        on_pages=on_pages(pages_with(found)),
        most=most,
        limit=limit,
    )
