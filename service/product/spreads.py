"""Reader spreads: which pages of the file hold two pages of the reader side by side.

* With a trimmed size in the sheet, a double page is one that is twice as wide as the single page, in an orientation that the
  sheet takes. A page that already has the single size is never a double page.
* Without one, pages twice as wide as the smallest page of the file are double: a cover alone, then spreads. Where all pages
  have one size, nothing can be told.
* A double page counts as two reader's pages, and each half is compared with the single size.

It does not know printer's spreads (imposed pages such as 12|1): by size they are the same as reader spreads.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.sheets.model import TrimAsked

SPREAD_LIKENESS = 0.01
"""How far each half may differ from the single page and still be told as its spread: an A4 sheet is a spread of A5 though its
half is 148.5 mm wide. Whether the half is right is for `trim.size` to say. Common practice, no source."""

FLAT_FROM = 1.9
"""A part so many times as wide as the other pages lies flat: it holds two of them. Ours, no source."""


@dataclass(frozen=True)
class ReadersPage:
    """One page as it is read: a page of the file, or half of a spread."""

    page: Page
    area_mm: Box
    """Of the trimmed page, in ruler mm."""


def accepts(trim: TrimAsked, width_mm: float, height_mm: float) -> bool:
    """Whether the size is the product's, width and height swapped included (`pages.orientation` judges that)."""
    return any(
        _same(width_mm, width, trim.tolerance_mm) and _same(height_mm, height, trim.tolerance_mm)
        for width, height in _both_ways(trim)
    )


def accepts_page(trim: TrimAsked, page: Page) -> bool:
    """Whether the page has the size that is asked of it, of a part its own."""
    return accepts(trim.on(page.number), page.trim_width_mm, page.trim_height_mm)


def lies_across(trim: TrimAsked, page: Page) -> bool:
    """Whether the page is the product with width and height swapped."""
    trim = trim.on(page.number)
    stands = abs(page.trim_width_mm - trim.width_mm) <= trim.tolerance_mm + SLACK_MM
    return not stands and _same(page.trim_width_mm, trim.height_mm, trim.tolerance_mm) and _same(
        page.trim_height_mm, trim.width_mm, trim.tolerance_mm
    )


def double_pages(pages: Iterable[Page], trim: TrimAsked | None) -> frozenset[int]:
    """Numbers of the pages that hold two pages side by side."""
    pages = tuple(pages)
    if trim is None:
        smallest = min(pages, key=lambda page: page.trim_width_mm * page.trim_height_mm, default=None)
        singles = [(smallest.trim_width_mm, smallest.trim_height_mm)] if smallest else []
        return frozenset(page.number for page in pages if _is_double(page, singles))
    return frozenset(page.number for page in pages if not accepts_page(trim, page) and _is_double(page, _singles(trim, page)))


def parts_laid_flat(pages: Iterable[Page], trim: TrimAsked | None) -> frozenset[int]:
    """Numbers of the pages of parts that hold two of the other pages side by side, as a cover does that is laid out flat."""
    if trim is None:
        return frozenset()
    found = ((page.number, trim.part_on(page.number)) for page in pages)
    return frozenset(number for number, part in found if part and part.width_mm >= FLAT_FROM * trim.width_mm)


def single_size(page: Page, doubles: frozenset[int]) -> tuple[float, float]:
    """Width and height of one reader's page of this page, mm: half of a double page."""
    return page.trim_width_mm / (2 if page.number in doubles else 1), page.trim_height_mm


def readers_pages(pages: Iterable[Page], trim: TrimAsked | None) -> list[ReadersPage]:
    """In the order in which they are read: the left half of a spread before its right one."""
    pages = tuple(pages)
    doubles = double_pages(pages, trim)
    found = []
    for page in pages:
        area = page.boxes_mm.trim
        if page.number in doubles:
            middle = (area.x0 + area.x1) / 2
            found += [ReadersPage(page, area._replace(x1=middle)), ReadersPage(page, area._replace(x0=middle))]
        else:
            found.append(ReadersPage(page, area))
    return found


def _singles(trim: TrimAsked, page: Page) -> list[tuple[float, float]]:
    """Sizes of one page of the product, here two of which a double page may hold."""
    asked = trim.on(page.number)
    return [(width, height) for width, height in _both_ways(asked) if _takes(asked, width, height)]


def _both_ways(trim: TrimAsked) -> tuple[tuple[float, float], tuple[float, float]]:
    return (trim.width_mm, trim.height_mm), (trim.height_mm, trim.width_mm)


def _takes(trim: TrimAsked, width_mm: float, height_mm: float) -> bool:
    return {"any": True, "portrait": width_mm <= height_mm, "landscape": width_mm >= height_mm}[trim.orientation]


def _is_double(page: Page, singles: Iterable[tuple[float, float]]) -> bool:
    half, height = page.trim_width_mm / 2, page.trim_height_mm
    return any(
        _same(half, one, SPREAD_LIKENESS * one) and _same(height, other, SPREAD_LIKENESS * other) for one, other in singles
    )


def _same(found_mm: float, asked_mm: float, tolerance_mm: float) -> bool:
    return abs(found_mm - asked_mm) <= tolerance_mm + SLACK_MM
