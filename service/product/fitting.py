"""Which way of a product a file was made: its size among those that are taken, and its scale."""

from __future__ import annotations

from collections.abc import Sequence

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.product.spreads import accepts, double_pages, single_size
from service.sheets.model import SpecSheet
from service.sheets.variants import variants, with_parts_of


def fitted(sheet: SpecSheet, pages: Sequence[Page]) -> SpecSheet:
    """The variant of the sheet that most pages are, or else that they come nearest to; the first where nothing tells."""
    ways = tuple(with_parts_of(way, len(pages)) for way in variants(sheet))
    if len(ways) == 1 or not pages:
        return ways[0]
    return min(ways, key=lambda way: _unlikeness(way, pages))


def fitted_to(sheet: SpecSheet, measurements: Measurements) -> SpecSheet:
    pages = measurements.pages
    return fitted(sheet, () if isinstance(pages, Unmeasured) else pages)


def _unlikeness(way: SpecSheet, pages: Sequence[Page]) -> tuple[int, int, float]:
    doubles = double_pages(pages, way.trim) if way.pages else frozenset[int]()
    exact, told = _pages_of(way, pages, doubles)
    return -exact, -told, round(_off(way, pages[0], doubles), 4)


def _pages_of(way: SpecSheet, pages: Sequence[Page], doubles: frozenset[int]) -> tuple[int, int]:
    """How many pages have the size of the product, halves of spreads too; and how many are at least told as spreads of it."""
    assert way.trim
    exact = sum(accepts(way.trim.on(page.number), *single_size(page, doubles)) for page in pages)
    return exact, sum(page.number in doubles for page in pages)


def _off(way: SpecSheet, page: Page, doubles: frozenset[int]) -> float:
    """How far the page is from this size, turned as it fits best, as a share: the same at every scale."""
    assert way.trim
    found = sorted(single_size(page, doubles))
    own = way.trim.on(page.number)
    asked = sorted((own.width_mm, own.height_mm))
    return max(abs(one / other - 1) for one, other in zip(found, asked, strict=True))
