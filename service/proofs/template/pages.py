"""Which pages an empty document has, and what stands on them as guides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from service.language.spoken import say, to_say
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured, unmeasured
from service.product.flat_pages import FlatPage, single_page
from service.proofs.report.sheet import pages_asked
from service.sheets.model import PagesAsked, SpecSheet

MOST_PAGES = 1000
_USUAL_PAGES = 2
Guide = Literal["trim", "margin", "fold", "area"]

_NOT_SO_MANY = to_say("The sheet takes no file of {pages} pages. It takes {asked}.")


def guide_words() -> str:
    """Stands on the layer, so that guides which get printed are noticed: also by this service."""
    return say("Placeholder text: delete this layer before you export.")


def template_pages(sheet: SpecSheet, count: int | None = None) -> tuple[FlatPage, ...] | Unmeasured:
    """Each page of the document; `count` None: the fewest pages that the sheet takes, or front and back where it takes both."""
    number = _usual_count(sheet.pages) if count is None else count
    if sheet.spine is not None:
        number = 1 if count is None else count
    if not _takes(sheet.pages, number):
        return unmeasured(_NOT_SO_MANY, pages=str(number), asked=_counts_said(sheet.pages))
    pages = []
    for one in range(1, number + 1):
        page = single_page(sheet, one, number)
        if isinstance(page, Unmeasured):
            return page
        pages.append(page)
    return tuple(pages)


def guides_of(page: FlatPage) -> Iterator[tuple[Guide, Box]]:
    """Lines (without width or height) and rectangles, in mm from the corner of the trim."""
    yield "trim", page.trim_mm
    if page.margin_mm and 2 * page.margin_mm < min(page.trim_mm.width, page.trim_mm.height):
        yield "margin", page.trim_mm.grown(-page.margin_mm)
    for fold in page.folds:
        yield "fold", fold.line_mm
    for area in page.areas:
        yield "area", area.box_mm


def _usual_count(pages: PagesAsked | None) -> int:
    if pages is None:
        return 1
    if pages.allowed:
        return max((one for one in pages.allowed if one <= _USUAL_PAGES), default=min(pages.allowed))
    multiple = pages.multiple_of or 1
    return -(-(pages.minimum or 1) // multiple) * multiple


def _takes(pages: PagesAsked | None, count: int) -> bool:
    if not 1 <= count <= MOST_PAGES:
        return False
    if pages is None:
        return True
    return (
        (not pages.allowed or count in pages.allowed)
        and count >= (pages.minimum or 1)
        and count <= (pages.maximum or MOST_PAGES)
        and count % (pages.multiple_of or 1) == 0
    )


def _counts_said(pages: PagesAsked | None) -> str:
    return "; ".join(pages_asked(pages)) if pages else str(MOST_PAGES)
