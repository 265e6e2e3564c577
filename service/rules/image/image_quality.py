"""Rules on what was done to pictures: too many pixels, hard compression, stretching, stand-ins."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from service.language.spoken import say, say_many
from service.language.wording import number, on_pages, on_which, page_list, size
from service.pdf.facts.geometry import MM_PER_INCH
from service.pdf.facts.measurements import Image, Measurements, Unmeasured
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, Place, always, contents_of, not_measured_on, rule
from service.rules.file.file import damage_first
from service.rules.image.image import PPI_SLACK, Sort, asks_pixels, is_contone, is_judged
from service.sheets.model import ImagesAsked, Resolution, SpecSheet

USELESS_CONTONE_PPI, USELESS_BILEVEL_PPI = 450.0, 3600.0
"""More than this prints no better. Common practice, no source."""

HARMLESS_PX = 250_000
"""A picture of fewer pixels weighs nothing, however fine it is; a sheet's own maximum counts for it too. Ours, no source."""

COARSEST_JPEG_QUALITY = 60
"""Below this, on the scale of ITU-T T.81's example tables, squares and smears show beside edges. Common practice, no source:
presets for e-mail and screen give some 25 to 50, presets for print 80 and more."""

FEWEST_JPX_BITS = 0.3
"""Bits a pixel of JPEG 2000 below which blur shows in a photograph. Common practice, no source."""

MOST_STRETCH = 1.05
"""One direction printed a twentieth longer than the other shows in faces and circles. Common practice, no source."""

PROXY_PPI, PROXY_PX = 100.0, 320
"""A picture of at most so many pixels either way, blown up below so many ppi, is likely a stand-in. Common practice, no
source."""

Found = list[tuple[int, Image]]


def _pages(found: Found) -> tuple[int, ...]:
    return tuple(sorted({page for page, _ in found}))


def _places(found: Found) -> tuple[Place, ...]:
    return tuple(Place(page, image.visible_box_mm) for page, image in found)


# --- Too many pixels --------------------------------------------------------------------------------------------------


@rule(
    "image.excess",
    asks=lambda sheet: sheet.images if sheet.images and (sheet.images.contone or sheet.images.bilevel) else None,
    asked_by="images.contone_ppi, images.bilevel_ppi: their maximum, else the common limits",
    level="should",
    source="common practice, no source",
    measured={"ppi": "highest resolution as placed", "images": "how many pictures have more than they need", **LEFT_OUT},
    required={"maximum_ppi": "resolution beyond which nothing is gained"},
)
def image_excess(measurements: Measurements, images: ImagesAsked) -> Iterator[Outcome]:
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
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
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
        pages=_pages(found),
        places=_places(found),
        level="should" if asked.maximum_ppi is None else None,
    )


def _more_than_needed(found: Found, sort: Sort, most: str, limit: str) -> str:
    if sort == "line art":
        return say_many(
            "{count} line-art picture {on_pages} has {most} ppi at the printed size; more than {limit} ppi prints no better.",
            "{count} line-art pictures {on_pages} have up to {most} ppi at the printed size; more than {limit} ppi prints no "
            "better.",
            len(found),
            on_pages=on_pages(_pages(found)),
            most=most,
            limit=limit,
        )
    return say_many(
        "{count} picture {on_pages} has {most} ppi at the printed size; more than {limit} ppi prints no better.",
        "{count} pictures {on_pages} have up to {most} ppi at the printed size; more than {limit} ppi prints no better.",
        len(found),
        on_pages=on_pages(_pages(found)),
        most=most,
        limit=limit,
    )


# --- Compression ------------------------------------------------------------------------------------------------------


@rule(
    "image.compression",
    asks=lambda sheet: sheet if sheet.purpose == "print" else None,
    asked_by="always, for print",
    level="should",
    source="common practice, no source; ITU-T T.81, Annex K.1 (the tables that the quality is estimated from)",
    measured={"quality": "lowest estimated JPEG quality, 1 to 100", "bits_per_pixel": "fewest bits a pixel of JPEG 2000",
              "images": "how many pictures", **LEFT_OUT},
    required={"quality": "lowest quality without visible traces", "bits_per_pixel": "fewest bits without visible traces"},
)  # fmt: skip
def image_compression(measurements: Measurements, _: SpecSheet) -> Iterator[Outcome]:
    """Pictures are not compressed so hard that it shows.

    Why: the preset for e-mail throws away detail; squares and smears show beside edges and in skies, sharpest on good paper.
    Remedy: export with a preset for print, at a high or the highest picture quality, from the original pictures.
    Knows: the quality of each JPEG, estimated from its tables, and how many bits a pixel JPEG 2000 leaves.
    Cannot know: damage done before the last compression, or that a picture without detail can bear any compression.
    """
    by_jpeg: list[tuple[int, Image, int]] = []
    by_jpx: list[tuple[int, Image, float]] = []
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
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
        on_pages=on_pages(_pages(found)),
        quality=worst,
        limit=number(COARSEST_JPEG_QUALITY),
    )
    return _compressed(found, message, "quality", worst, COARSEST_JPEG_QUALITY)


def _saved_as_jpx(found: Found, fewest_bits: float) -> Finding:
    message = say_many(
        "{count} picture {on_pages} has been compressed with JPEG 2000 to {bits} bits a pixel; below {limit} it shows in print.",
        "{count} pictures {on_pages} have been compressed with JPEG 2000 to {bits} bits a pixel; below {limit} it shows in "
        "print.",
        len(found),
        on_pages=on_pages(_pages(found)),
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
        pages=_pages(found),
        places=_places(found),
    )


# --- Stretching -------------------------------------------------------------------------------------------------------


@rule(
    "image.distorted",
    asks=always,
    asked_by="always",
    level="should",
    source="common practice, no source; ISO 32000-2:2020, 8.9.5.1 (an image fills the unit square)",
    measured={"percent": "how much longer one direction is printed than the other, at the worst", "images": "how many pictures",
              **LEFT_OUT},
    required={"percent": "most that does not show"},
)  # fmt: skip
def image_distorted(measurements: Measurements, _: SpecSheet) -> Iterator[Outcome]:
    """Pictures keep their shape.

    Why: a picture that was pulled by one side shows fat or thin faces and oval wheels.
    Remedy: set both scalings of the picture to the same percentage, and crop instead.
    Knows: the resolution of each picture of grey or colour along both of its own directions.
    Cannot know: a picture with oblong pixels, or one that is stretched on purpose, as a gradient or a texture.
    """
    found: Found = []
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        stretched = (one for one in content.images if is_contone(one) and is_judged(one) and _stretch(one) > MOST_STRETCH)
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
            on_pages=on_pages(_pages(found)),
            more=on_which(more, page_number, _pages(found)),
        ),
        remedy=say(
            "Set both scalings to the same percentage. The picture on page {page} keeps its shape at {size}; crop what is too "
            "much.",
            page=page_number,
            size=size(width_mm, height_mm),
        ),
        measured={"percent": percent, "images": len(found)},
        required={"percent": round((MOST_STRETCH - 1) * 100, 1)},
        pages=_pages(found),
        places=_places(found),
    )


def _stretch(image: Image) -> float:
    """How many times one direction is printed longer than the other; 1 where that cannot be said."""
    low, high = sorted((image.ppi_x, image.ppi_y))
    return high / low if low > 0 and isfinite(high) else 1.0


# --- Stand-ins --------------------------------------------------------------------------------------------------------


@rule(
    "image.proxy",
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 14.11.7 (OPI, deprecated) and 8.8 (XObjects); small pictures: common practice, no source",
    measured={"kind": "missing object, OPI or small picture", "objects": "how many",
              "ppi": "lowest resolution of the small pictures", **LEFT_OUT},
    required={"kind": "the picture itself"},
)  # fmt: skip
def image_proxy(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:
    """Every picture is in the file itself, not a stand-in for it.

    Why: what the layout only pointed at does not travel with the PDF: it prints coarse, or as a hole.
    Remedy: relink missing pictures in the layout (its list of links shows them) and export with full-resolution pictures.
    Knows: objects that the page calls for and the file lacks, references to pictures elsewhere (OPI), and where a
    print sheet asks for no resolution, very small pictures that are blown up: only an observation.
    Cannot know: a stand-in of good resolution, or a small picture that is meant to be small.
    """
    found: dict[str, list[Place]] = {}
    small: Found = []
    resolution_is_judged = sheet.purpose != "print" or (sheet.images is not None and asks_pixels(sheet.images.contone))
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for stand_in in content.stand_ins:
            found.setdefault(stand_in.kind, []).append(Place(page.number, stand_in.box_mm))
        if not resolution_is_judged:
            small += [(page.number, image) for image in content.images if _is_small_and_blown_up(image)]
    for kind, places in found.items():
        pages = tuple(sorted({place.page for place in places}))
        yield Finding(
            message=_stands_in(kind, pages, len(places)),
            remedy=damage_first(measurements)
            + say("Find the missing links in the layout, relink them, and export with pictures at full resolution."),
            measured={"kind": kind, "objects": len(places)},
            required={"kind": "the picture itself"},
            pages=pages,
            places=tuple(places),
        )
    if small:
        yield _blown_up(small)


def _stands_in(kind: str, pages: tuple[int, ...], places: int) -> str:
    outcome = say_many("{count} place would print coarse or empty", "{count} places would print coarse or empty", places)
    if kind == "OPI":
        return say_many(
            "Page {pages} holds a reference to a picture elsewhere (OPI): {outcome}.",
            "Pages {pages} hold references to pictures elsewhere (OPI): {outcome}.",
            len(pages),
            pages=page_list(pages),
            outcome=outcome,
        )
    return say_many(
        "Page {pages} calls for an object that is not in the file: {outcome}.",
        "Pages {pages} call for objects that are not in the file: {outcome}.",
        len(pages),
        pages=page_list(pages),
        outcome=outcome,
    )


def _is_small_and_blown_up(image: Image) -> bool:
    few = max(image.width_px, image.height_px) <= PROXY_PX
    return is_contone(image) and is_judged(image) and few and image.ppi < PROXY_PPI * (1 - PPI_SLACK)


def _blown_up(small: Found) -> Finding:
    lowest = min(image.ppi for _, image in small)
    return Finding(
        message=say_many(
            "{count} small picture {on_pages} has been blown up to as little as {ppi} ppi: is it a stand-in for the real one?",
            "{count} small pictures {on_pages} have been blown up to as little as {ppi} ppi: is it a stand-in for the real one?",
            len(small),
            on_pages=on_pages(_pages(small)),
            ppi=number(lowest, 0),
        ),
        remedy=say("Look at the layout's list of links; relink what is missing or only previewed, and export again."),
        measured={"kind": "small picture", "objects": len(small), "ppi": round(lowest, 1)},
        required={"kind": "the picture itself"},
        pages=_pages(small),
        places=_places(small),
        level="should",
    )
