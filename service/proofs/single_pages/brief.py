"""Where spreads are cut into single pages, and which boxes each page gets: plain records, worked out from the measurements.

* A spread is cut in the middle of its trim. Each half keeps what lies outside the trim on its own sides; across the cut it
  takes as much of the neighbour as the bleed is deep, so that a cut that is a little off shows the picture going on.
* A page that says itself where it is trimmed and how far it bleeds is left as it is.
* A box that is missing is written as it was measured. Where no BleedBox says how deep the bleed is, the paper beyond the trim
  may hold marks as well: no more than the printer's bleed is then taken for bleed.
* TrimBox and ArtBox exclude each other in PDF/X (ISO 15930-7:2010, from memory): an ArtBox gives way to the TrimBox.

A trim that was worked out is a likely one. Compare it with the layout before you print.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from service.language.spoken import say, say_many, to_say
from service.language.wording import pages_phrase
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.page import Page, TrimSource
from service.product.fitting import fitted
from service.product.spreads import double_pages
from service.proofs.single_pages.wishes import SinglePagesWishes, spreads_named
from service.proofs.wishes import understood
from service.sheets.model import SpecSheet

SINGLE_PAGES = "service.proofs.single_pages.drawn:single_pages_pdf"
"""Where they are made."""

USUAL_BLEED_MM = 3.0
"""Where the sheet names no bleed and the file has no BleedBox. Common practice, no source."""

_FOUND = {
    "trim_box": to_say("the TrimBox"), "art_box": to_say("the ArtBox"), "crop_marks": to_say("the crop marks"),
    "crop_box": to_say("the CropBox"), "media_minus_bleed": to_say("the size of the page less its bleed"),
    "media_box": to_say("the whole page"),
}


@dataclass(frozen=True)
class Cut:
    """One page that is to come out; each box in ruler mm of the page that it is cut from. None: the box stays as it is."""

    media_mm: Box | None
    crop_mm: Box | None
    bleed_mm: Box | None
    trim_mm: Box | None

    @property
    def changes(self) -> bool:
        return any((self.media_mm, self.crop_mm, self.bleed_mm, self.trim_mm))


@dataclass(frozen=True)
class PageCuts:
    number: int
    media_mm: Box
    """As measured: what leads from ruler mm back to the page's own units."""
    cuts: tuple[Cut, ...]
    """One, or the left and the right half as displayed."""
    trim_source: TrimSource

    @property
    def is_spread(self) -> bool:
        return len(self.cuts) == 2


@dataclass(frozen=True)
class SinglePagesBrief:
    pages: tuple[PageCuts, ...]

    @property
    def changes(self) -> tuple[str, ...]:
        """What the boxes of the new file owe to us; the file itself names more, such as scripts that were left out."""
        return tuple(_changes(self))


def single_pages_brief(pages: Sequence[Page], sheet: SpecSheet, wishes: SinglePagesWishes) -> SinglePagesBrief:
    """Raises `WishesRefused`."""
    named, sheet = wishes.spreads, fitted(sheet, pages)
    found = understood(
        spreads=lambda: double_pages(pages, sheet.trim) if named is None else spreads_named(named, len(pages)),
    )
    return cut_apart(pages, found["spreads"], sheet.bleed.advised_mm if sheet.bleed else None)


def cut_apart(pages: Sequence[Page], spreads: Iterable[int], bleed_mm: float | None) -> SinglePagesBrief:
    """`spreads`: numbers of the pages to cut in two. `bleed_mm`: what the printer asks for, where that is known."""
    spreads = frozenset(spreads)
    cut = (
        PageCuts(
            page.number,
            page.boxes_mm.media,
            _halves(page, bleed_mm) if page.number in spreads else (_whole(page, bleed_mm),),
            page.trim_source,
        )
        for page in pages
    )
    return SinglePagesBrief(tuple(cut))


def _whole(page: Page, bleed_mm: float | None) -> Cut:
    trim = None if page.trim_source == "trim_box" else page.boxes_mm.trim
    return Cut(None, None, None if page.bleed_declared else _bleed_box(page, bleed_mm), trim)


def _halves(page: Page, bleed_mm: float | None) -> tuple[Cut, Cut]:
    trim, media, bleed = page.boxes_mm.trim, page.boxes_mm.media, _bleed_box(page, bleed_mm)
    middle = (trim.x0 + trim.x1) / 2
    left_in = min(trim.x0 - bleed.x0 if bleed_mm is None else bleed_mm, trim.x1 - middle)
    right_in = min(bleed.x1 - trim.x1 if bleed_mm is None else bleed_mm, middle - trim.x0)
    crop = page.boxes_mm.crop if page.declared("crop") else None
    left = Cut(
        media._replace(x1=middle + left_in),
        crop and _or(crop._replace(x1=middle + min(left_in, max(0.0, trim.x0 - crop.x0))), media._replace(x1=middle + left_in)),
        bleed._replace(x1=middle + left_in),
        trim._replace(x1=middle),
    )
    right = Cut(
        media._replace(x0=middle - right_in),
        crop and _or(crop._replace(x0=middle - min(right_in, max(0.0, crop.x1 - trim.x1))), media._replace(x0=middle - right_in)),
        bleed._replace(x0=middle - right_in),
        trim._replace(x0=middle),
    )
    return left, right


def _or(box: Box, otherwise: Box) -> Box:
    """The box, unless nothing is left of it."""
    return box if box.width > 0 and box.height > 0 else otherwise


def _bleed_box(page: Page, bleed_mm: float | None) -> Box:
    """The bleed around the trim, as deep on each side as it was measured."""
    depth = page.bleed_mm
    if not page.bleed_declared and page.trim_source != "media_minus_bleed":
        most = USUAL_BLEED_MM if bleed_mm is None else bleed_mm
        depth = Sides(*(min(most, side) for _, side in depth.items()))
    trim = page.boxes_mm.trim
    return Box(trim.x0 - depth.left, trim.y0 - depth.top, trim.x1 + depth.right, trim.y1 + depth.bottom)


# --- What was changed, in sentences ---------------------------------------------------------------------------------------


def _changes(brief: SinglePagesBrief) -> Iterator[str]:
    spreads = [page.number for page in brief.pages if page.is_spread]
    if spreads:
        yield say_many(
            "{pages} was cut in the middle into two pages: {count} pages in all, each with its own boxes. Across the cut the "
            "bleed is taken from the neighbour page, whose content stays in the file beyond the paper's edge.",
            "{pages} were cut in the middle into two pages each: {count} pages in all, each with its own boxes. Across the cut "
            "the bleed is taken from the neighbour page, whose content stays in the file beyond the paper's edge.",
            len(spreads),
            pages=pages_phrase(spreads),
            count=sum(len(page.cuts) for page in brief.pages),
        )
    for source in dict.fromkeys(page.trim_source for page in brief.pages):
        told = [page.number for page in brief.pages if page.trim_source == source and page.cuts[0].trim_mm]
        if told and source == "media_box":
            yield say(
                "{pages}: a TrimBox was written, as large as the whole page. If the page holds bleed, that is too "
                "large: compare it with your layout.",
                pages=pages_phrase(told),
            )
        elif told and source != "trim_box":
            yield say(
                "{pages}: a TrimBox was written, from {source}. Compare it with your layout.",
                pages=pages_phrase(told),
                source=say(_FOUND[source]),
            )
    with_box = [page for page in brief.pages if not page.is_spread and page.cuts[0].bleed_mm]
    bare = [page.number for page in with_box if page.trim_source == "media_box"]
    bled = [page.number for page in with_box if page.number not in bare]
    if bare:
        yield say("{pages}: a BleedBox was written, as large as the TrimBox: no bleed was found.", pages=pages_phrase(bare))
    if bled:
        yield say("{pages}: a BleedBox was written, from what the page has beyond its trim.", pages=pages_phrase(bled))
    if not any(cut.changes for page in brief.pages for cut in page.cuts):
        yield say("No page is a spread, and every page has its boxes: pages are as they were.")
