"""The rule on pictures that were compressed so hard that it shows."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import number, on_pages
from service.pdf.facts.painted.images import Image
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.image.image import Found, is_contone, is_judged, pages_with, places_of
from service.rules.seen import PagesWithContent, contents_of, not_measured_on
from service.sheets.model import SpecSheet

COARSEST_JPEG_QUALITY = 60
"""Below this, on the scale of ITU-T T.81's example tables, squares and smears show beside edges. Common practice, no source:
presets for e-mail and screen give some 25 to 50, presets for print 80 and more."""

FEWEST_JPX_BITS = 0.3
"""Bits per pixel of JPEG 2000 below which blur shows in a photograph. Common practice, no source."""


@rule(
    "image.compression",
    needs=contents_of,
    asks=lambda sheet: sheet if sheet.purpose == "print" else None,
    asked_by="always, for print",
    level="should",
    source="common practice, no source; ITU-T T.81, Annex K.1 (the tables that the quality is estimated from)",
    measured={"quality": "lowest estimated JPEG quality, 1 to 100", "bits_per_pixel": "fewest bits a pixel of JPEG 2000",
              "images": "how many pictures", **LEFT_OUT},
    required={"quality": "lowest quality without visible traces", "bits_per_pixel": "fewest bits without visible traces"},
)
def image_compression(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """Pictures are not compressed so hard that it shows.

    Why: the preset for e-mail throws away detail; squares and smears show beside edges and in skies, sharpest on good paper.
    Remedy: export with a preset for print, at a high or the highest picture quality, from the original pictures.
    Knows: the quality of each JPEG, estimated from its tables, and how many bits a pixel JPEG 2000 leaves.
    Cannot know: damage done before the last compression, or that a picture without detail can bear any compression.
    """
    by_jpeg: list[tuple[int, Image, int]] = []
    by_jpx: list[tuple[int, Image, float]] = []
    for page, content in pages:
        for image in (one for one in content.images if is_contone(one) and is_judged(one)):
            quality, bits = image.jpeg_quality, _jpx_bits(image)
            for unknown in (one for one in (quality, bits) if isinstance(one, Unmeasured)):
                yield not_measured_on((page.number,), unknown)
            if isinstance(quality, int) and quality < COARSEST_JPEG_QUALITY:
                by_jpeg.append((page.number, image, quality))
            if isinstance(bits, float) and bits < FEWEST_JPX_BITS:
                by_jpx.append((page.number, image, bits))
    if by_jpeg:
        yield _saved_as_jpeg([(page, image) for page, image, _ in by_jpeg], min(quality for _, _, quality in by_jpeg))
    if by_jpx:
        yield _saved_as_jpx([(page, image) for page, image, _ in by_jpx], round(min(bits for _, _, bits in by_jpx), 2))


def _jpx_bits(image: Image) -> float | Unmeasured | None:
    """None where it is no JPEG 2000."""
    if image.filter != "JPXDecode":
        return None
    if isinstance(image.stored_bytes, Unmeasured):
        return image.stored_bytes
    return image.stored_bytes * 8 / (image.width_px * image.height_px)


def _saved_as_jpeg(found: Found, worst: int) -> Finding:
    message = say_many(
        "{count} picture {on_pages} has been saved as JPEG with a quality of about {quality} of 100; below {limit} it shows in "
        "print.",
        "{count} pictures {on_pages} have been saved as JPEG with a quality of about {quality} of 100; below {limit} it shows in "
        "print.",
        len(found),
        on_pages=on_pages(pages_with(found)),
        quality=worst,
        limit=number(COARSEST_JPEG_QUALITY),
    )
    return _compressed(found, message, "quality", worst, COARSEST_JPEG_QUALITY)


def _saved_as_jpx(found: Found, fewest_bits: float) -> Finding:
    message = say_many(
        "{count} picture {on_pages} has been compressed with JPEG 2000 to {bits} bits per pixel; below {limit} it "
        "shows in print.",
        "{count} pictures {on_pages} have been compressed with JPEG 2000 to {bits} bits per pixel; below {limit} it shows in "
        "print.",
        len(found),
        on_pages=on_pages(pages_with(found)),
        bits=number(fewest_bits, 2),
        limit=number(FEWEST_JPX_BITS),
    )
    return _compressed(found, message, "bits_per_pixel", fewest_bits, FEWEST_JPX_BITS)


def _compressed(found: Found, message: str, key: str, value: float, limit: float) -> Finding:
    return Finding(
        message=message,
        remedy=say(
            "Export again with a preset for print and high picture quality, from the original pictures; a picture that was "
            "saved hard before does not get better by saving it again."
        ),
        measured={key: value, "images": len(found)},
        required={key: limit},
        pages=pages_with(found),
        places=places_of(found),
    )
