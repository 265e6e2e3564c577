"""Which way of a product a file was made: its size among those that are taken, and its scale."""

from __future__ import annotations

from collections.abc import Sequence

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.product.spreads import accepts, double_pages, single_size
from service.sheets.model import SpecSheet
from service.sheets.variants import in_single_pages, variants, with_parts_of

SAME_SHAPE = 0.003
"""Two ratios that differ by less are one scale: 'fit to page' keeps the shape to a rounding. Common practice, no source."""

SHRUNK_BY = (0.02, 0.15)
"""How far 'fit to page' takes a page from its size; what is nearer or further off has its shape by chance. Ours, no source."""


def fitted(sheet: SpecSheet, pages: Sequence[Page]) -> SpecSheet:
    """The variant of the sheet that most pages are, or else whose shape they have, or that they come nearest to; the first where
    nothing tells.
    """
    ways = tuple(with_parts_of(way, len(pages)) for way in variants(sheet))
    if len(ways) == 1 or not pages:
        return ways[0]
    return min(ways, key=lambda way: _unlikeness(way, pages))


def fitted_to(sheet: SpecSheet, measurements: Measurements) -> SpecSheet:
    pages = measurements.pages
    return fitted(sheet, () if isinstance(pages, Unmeasured) else pages)


def _unlikeness(way: SpecSheet, pages: Sequence[Page]) -> tuple[int, int, bool, float]:
    """A page that was shrunk comes nearer to a smaller size that is taken as well, but keeps the shape of its own."""
    doubles = double_pages(pages, way.trim) if way.pages and not in_single_pages(way) else frozenset[int]()
    exact, told = _pages_of(way, pages, doubles)
    across, down = _shares(way, pages[0], doubles)
    off = max(abs(across - 1), abs(down - 1))
    shrunk = abs(across - down) <= SAME_SHAPE * down and SHRUNK_BY[0] <= off <= SHRUNK_BY[1]
    return -exact, -told, not shrunk, round(off, 4)


def _pages_of(way: SpecSheet, pages: Sequence[Page], doubles: frozenset[int]) -> tuple[int, int]:
    """How many pages have the size of the product, halves of spreads too; and how many are at least told as spreads of it."""
    assert way.trim
    exact = sum(accepts(way.trim.on(page.number), *single_size(page, doubles)) for page in pages)
    return exact, sum(page.number in doubles for page in pages)


def _shares(way: SpecSheet, page: Page, doubles: frozenset[int]) -> tuple[float, float]:
    """Of this size's shorter and longer side, what the page has of them, turned as it fits best: the same at every scale."""
    assert way.trim
    found = sorted(single_size(page, doubles))
    own = way.trim.on(page.number)
    shorter, longer = sorted((own.width_mm, own.height_mm))
    return found[0] / shorter, found[1] / longer
