"""Rules on the trimmed size, and on where it was found."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from service.language.spoken import say, say_many, to_say, translated
from service.language.wording import asked_size, millimetres, number, on_which, page_list, quoted, size
from service.pdf.facts.page import Page
from service.product.fitting import SAME_SHAPE
from service.product.spreads import accepts, double_pages, single_size
from service.product.with_bleed import bleed_in_size
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.edges.shown_trim import disagreeing
from service.rules.product_asked import SizeAsked, size_asked
from service.rules.seen import Pages, pages_of
from service.sheets.model import Part, SpecSheet, TrimAsked

_FOUND = {
    "trim_box": to_say("from the TrimBox"),
    "art_box": to_say("from the ArtBox"),
    "crop_marks": to_say("from the crop marks in the artwork"),
    "crop_box": to_say("from the CropBox"),
    "media_minus_bleed": to_say("from the whole page less an even bleed"),
    "media_box": to_say("from the whole page"),
}


def _not_the_product(pages: Pages, asked: SizeAsked) -> Iterator[tuple[Page, float, float]]:
    """Pages whose size is not accepted, with the size that was compared: of a spread, that of one half. A part has its own."""
    doubles = double_pages(pages, asked.trim) if asked.spreads_known else frozenset()
    for page in pages:
        width, height = single_size(page, doubles)
        if not accepts(asked.trim.on(page.number), width, height):
            yield page, width, height


@rule(
    "trim.size",
    needs=pages_of,
    asks=size_asked,
    asked_by="trim",
    level="must",
    source="ISO 32000-2:2020, 14.11.2 (page boundaries)",
    measured={
        "width_mm": "trimmed width (of one half of a spread)",
        "height_mm": "trimmed height",
        "source": "where the trim was found",
        **LEFT_OUT,
    },
    required={"width_mm": "width of the product", "height_mm": "height of the product", "tolerance_mm": "allowed difference"},
)
def trim_size(pages: Pages, asked: SizeAsked) -> Iterator[Outcome]:
    """Every page is trimmed to the size of the product.

    Why: another size is cut through the artwork, scaled, or keeps a white edge.
    Remedy: set the document to the product's size and export again without scaling.
    Knows: the trim as measured, where it was found, rotation and user unit. Width and height may be swapped (pages.orientation
    judges that); of reader spreads each half is compared. Pages that have a size of their own in the sheet (trim.parts), such as
    the first and the last two, are compared with that.
    Cannot know: a size that the printer has agreed to by letter.
    """
    groups: dict[tuple[float, float, str, Part | None], list[tuple[Page, float, float]]] = {}
    for page, width, height in _not_the_product(pages, asked):
        part = asked.trim.part_on(page.number)
        groups.setdefault((round(width, 1), round(height, 1), page.trim_source, part), []).append((page, width, height))
    for (_, _, source, part), items in groups.items():
        wrong, (_, width, height) = [page for page, _, _ in items], items[0]
        numbers, trim = tuple(page.number for page in wrong), asked.trim.on(wrong[0].number)
        product = asked_size(trim.width_mm, trim.height_mm)
        found, tolerance = size(width, height), millimetres(trim.tolerance_mm)
        yield Finding(
            message=_off(numbers, found, product, say(_FOUND[source]), tolerance, part),
            remedy=" ".join(_resized(trim, width, height, product, source)),
            measured={"width_mm": round(width, 2), "height_mm": round(height, 2), "source": source},
            required={"width_mm": trim.width_mm, "height_mm": trim.height_mm, "tolerance_mm": trim.tolerance_mm},
            pages=numbers,
            places=trim_places(wrong),
        )


def _off(numbers: tuple[int, ...], found: str, product: str, from_where: str, tolerance: str, part: Part | None) -> str:
    count, pages = len(numbers), page_list(numbers)
    if part is None:
        return say_many(
            "Page {pages} measures {found} ({from_where}); the product is {product}, give or take {tolerance}.",
            "Pages {pages} measure {found} ({from_where}); the product is {product}, give or take {tolerance}.",
            count, pages=pages, found=found, from_where=from_where, product=product, tolerance=tolerance,
        )
    return say_many(
        "Page {pages} measures {found} ({from_where}); the printer asks for {asked} there ({part}), give or take {tolerance}.",
        "Pages {pages} measure {found} ({from_where}); the printer asks for {asked} there ({part}), give or take {tolerance}.",
        count, pages=pages, found=found, from_where=from_where, asked=product, part=quoted(translated(part.name)),
        tolerance=tolerance,
    )


def _resized(trim: TrimAsked, width_mm: float, height_mm: float, product: str, source: str) -> Iterator[str]:
    """Sentences; the first where the pages of a folded product come one by one, or where the bleed was taken for the page."""
    if (bleed := bleed_in_size(trim, width_mm, height_mm)) is not None:
        yield say(
            "That is {bleed} more than the product on every side: probably its bleed was made part of the page. Do not scale it.",
            bleed=millimetres(bleed),
        )
        yield say("Set the document to {product}, and let the bleed lie beyond it.", product=product)
        return
    if accepts(trim, 2 * width_mm, height_mm) and trim.width_mm >= trim.height_mm:
        yield say("This is just half of the product, which is laid out flat: put two such pages side by side on one.")
    yield say("Set the document to {product} and export at 100 %, without 'fit to page'.", product=product)
    if source != "trim_box":
        yield say("Export with a TrimBox, so that the trim need not be worked out.")


@rule(
    "trim.scale",
    needs=pages_of,
    asks=size_asked,
    asked_by="trim",
    level="should",
    source="common practice, no source",
    measured={"percent": "the page's size as a share of the product's", "width_mm": "trimmed width (of one half of a spread)",
              "height_mm": "trimmed height", **LEFT_OUT},
    required={"percent": "100", "width_mm": "width of the product", "height_mm": "height of the product"},
)
def trim_scale(pages: Pages, asked: SizeAsked) -> Iterator[Outcome]:
    """No page is a scaled version of the product.

    Why: 'fit to page' shrinks everything, type and bleed included; what is enlarged again at the printer's loses resolution.
    Remedy: switch 'fit to page' off and export at 100 %.
    Knows: pages whose width and height are both off by the same share. A page that is larger by the same few millimetres on
    every side holds its bleed, and one whose crop marks or cut line stand elsewhere has another trim: neither must be scaled.
    `trim.size` reports the size itself, as a must; this
    rule says how it may have come about, and is an observation, so that one mistake counts once.
    Cannot know: whether the file is meant to be enlarged, as large posters are.
    """
    groups: dict[tuple[float, Part | None], list[tuple[Page, float, float]]] = {}
    for page, width, height in _not_the_product(pages, asked):
        trim = asked.trim.on(page.number)
        if bleed_in_size(trim, width, height) is not None or disagreeing(page, trim):
            continue
        if (scale := _scale(trim, width, height)) is not None:
            part = asked.trim.part_on(page.number)
            groups.setdefault((round(scale * 100, 1), part), []).append((page, width, height))
    for (percent, _), items in groups.items():
        trim = asked.trim.on(items[0][0].number)
        scaled = [page for page, _, _ in items]
        numbers = tuple(page.number for page in scaled)
        yield Finding(
            message=say_many(
                "Page {pages} has the shape of the product at {percent} % of its size.",
                "Pages {pages} have the shape of the product at {percent} % of its size.",
                len(numbers),
                pages=page_list(numbers),
                percent=number(percent),
            ),
            remedy=say(
                "If 'fit to page' or 'scale to fit' was on where the PDF was made, switch it off and export at 100 %; if the "
                "layout itself has this size, scale it to {percent} % and look at pictures and bleed again.",
                percent=number(100 / percent * 100),
            ),
            measured={"percent": percent, "width_mm": round(items[0][1], 2), "height_mm": round(items[0][2], 2)},
            required={"percent": 100, "width_mm": trim.width_mm, "height_mm": trim.height_mm},
            pages=numbers,
            places=trim_places(scaled),
        )


def _scale(trim: TrimAsked, width_mm: float, height_mm: float) -> float | None:
    """The share of the product's size that both directions have; None where they differ."""
    either_way = [(trim.width_mm, trim.height_mm)]
    if trim.orientation == "any":
        either_way.append((trim.height_mm, trim.width_mm))
    for asked_width, asked_height in either_way:
        across, down = width_mm / asked_width, height_mm / asked_height
        if min(across, down) > 0 and abs(across / down - 1) <= SAME_SHAPE:
            return sqrt(across * down)
    return None


@rule(
    "trim.declared",
    needs=pages_of,
    asks=lambda sheet: sheet if sheet.purpose == "print" else None,
    asked_by="always, for print",
    level="should",
    source="ISO 32000-2:2020, 14.11.2 (TrimBox); ISO 15930 (PDF/X asks for TrimBox or ArtBox, prefers TrimBox)",
    measured={"source": "where the trim was found instead", "width_mm": "trimmed width of the first such page",
              "height_mm": "its trimmed height", **LEFT_OUT},
    required={"source": "trim_box"},
)
def trim_declared(pages: Pages, _: SpecSheet) -> Iterator[Outcome]:
    """Every page says where it is trimmed.

    Why: without a TrimBox the printer has to guess where to cut, and so does every measurement of this check.
    Remedy: export with a print preset, which writes the TrimBox; do not pass the PDF through a print dialogue.
    Knows: whether the page has a TrimBox, and from what else the trim was worked out.
    Cannot know: whether the trim that was worked out is the one that was meant.
    """
    groups: dict[str, list[Page]] = {}
    for page in pages:
        if page.trim_source != "trim_box":
            groups.setdefault(page.trim_source, []).append(page)
    for source, guessed in groups.items():
        numbers, first = tuple(page.number for page in guessed), guessed[0]
        yield Finding(
            message=say_many(
                "Page {pages} has no TrimBox (the box that says where to cut); the trim was taken {from_where}: {found}.",
                "Pages {pages} have no TrimBox (the box that says where to cut); the trim was taken {from_where}: {found}.",
                len(numbers),
                pages=page_list(numbers),
                from_where=say(_FOUND[source]),
                found=_size_found(guessed),
            ),
            remedy=" ".join(_declare_it(guessed)),
            measured={"source": source, "width_mm": round(first.trim_width_mm, 2), "height_mm": round(first.trim_height_mm, 2)},
            required={"source": "trim_box"},
            pages=numbers,
            places=trim_places(guessed),
        )


def _declare_it(pages: list[Page]) -> Iterator[str]:
    """Sentences; the second where a CropBox was passed over that shows less than the trimmed page."""
    yield say(
        "Export with a print preset of your layout program: it writes the TrimBox. Check that the size found here is the one you "
        "mean."
    )
    shown = [one.box for page in pages for one in page.declared_boxes if one.name == "crop"]
    trim = pages[0].boxes_mm.trim
    if pages[0].trim_source in ("media_box", "media_minus_bleed") and (less := [one for one in shown if not one.contains(trim)]):
        yield say(
            "The CropBox shows only {found} of the page: set it to the whole page too, as some programs place a page by it.",
            found=size(less[0].width, less[0].height),
        )


def _size_found(pages: list[Page]) -> str:
    """Of all these pages, or of the first one where they differ."""
    first = pages[0]
    found = size(first.trim_width_mm, first.trim_height_mm)
    alike = all(size(page.trim_width_mm, page.trim_height_mm) == found for page in pages)
    return found if alike else on_which(found, first.number, [page.number for page in pages])
