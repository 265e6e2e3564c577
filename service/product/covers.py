"""A cover laid out flat: back, spine, front. Which pages are one, and where its spine lies."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.sheets.model import SpineAsked

FLAT_FROM = 1.5
"""A page wider than so many cover pages holds both. Ours, no source."""


def laid_flat(pages: Iterable[Page], spine: SpineAsked) -> list[Page]:
    """The pages that hold back and front side by side."""
    return [page for page in pages if page.trim_width_mm > FLAT_FROM * spine.page_width_mm]


def spine_asked_mm(spine: SpineAsked) -> float | None:
    """How thick the book is: its leaves and the cover twice; None where the order does not say.

    Common practice, no source; glue and pressure change it by some tenths of a millimetre, which the tolerance takes up.
    """
    if spine.inner_pages is None or spine.caliper_mm is None:
        return None
    return ceil(spine.inner_pages / 2) * spine.caliper_mm + 2 * spine.cover_caliper_mm


def spine_area(page: Page, spine: SpineAsked) -> Box | None:
    """What lies between two pages of the asked width, in the middle of the sheet; None where nothing does."""
    trim = page.boxes_mm.trim
    left, right = trim.x0 + spine.page_width_mm, trim.x1 - spine.page_width_mm
    return Box(left, trim.y0, right, trim.y1) if left <= right else None


def spine_folds(area: Box) -> tuple[Box, Box]:
    """The two folds of a spine with this area."""
    return area._replace(x1=area.x0), area._replace(x0=area.x1)
