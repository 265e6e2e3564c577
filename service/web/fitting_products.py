"""Where a file has not the size that is asked: which products it would fit, so that a wrong choice is seen as one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from service.language.spoken import translated
from service.pdf.facts.measurements import Measurements
from service.sheets.matching import rank
from service.sheets.model import SpecSheet

SIZE_RULES = frozenset({"trim.size", "pages.count", "pages.multiple"})
"""What a file breaks that was made for another product."""
MOST_PRODUCTS = 3


@dataclass(frozen=True)
class FittingProduct:
    id: str
    title: str


def fitting_products(
    broken: Iterable[str], measurements: Measurements, asked: SpecSheet, sheets: Iterable[SpecSheet]
) -> tuple[FittingProduct, ...]:
    """The best ones, none of them the one that was asked for; none at all where the size is right."""
    if not SIZE_RULES & set(broken):
        return ()
    ones = [sheet for sheet in sheets if sheet.id and sheet.id != asked.id and sheet.purpose == asked.purpose]
    found = [match.sheet for match in rank(measurements, ones) if match.fits][:MOST_PRODUCTS]
    return tuple(FittingProduct(sheet.id or "", translated(sheet.title) or sheet.id or "") for sheet in found)
