"""From what a caller wishes of a dummy to its brief: which page lies where on which side of the paper.

* A booklet: sheets of printer's spreads, to be printed on both sides, folded together, nested and stapled (`booklet`).
* A leaflet: outside and inside of each leaf with the sheet's folds; the inside is turned over from left to right (`flat`).
* A cover: back, spine and front with the two folds of the spine.
* A leaf: front and back, where there is nothing to fold.

Pages are cut to their trim and get smaller only where the paper is too small.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.product.covers import laid_flat
from service.product.fitting import fitted
from service.product.spreads import readers_pages
from service.proofs.dummy.booklet import booklet
from service.proofs.dummy.faces import DummyBrief
from service.proofs.dummy.flat import flat
from service.proofs.dummy.wishes import DummyWishes, PaperName
from service.sheets.model import SpecSheet

DUMMY = "service.proofs.dummy.drawn:dummy_pdf"
"""Where it is drawn."""

_TRADE_IN_INCHES = {"US", "CA"}


def dummy_brief(pages: Sequence[Page], sheet: SpecSheet, wishes: DummyWishes) -> DummyBrief | Unmeasured:
    """The dummy of these pages for a product of that sheet, or why there is none."""
    if not pages:
        return Unmeasured("The file has no page that a dummy could be made of.")
    sheet = fitted(sheet, pages)
    wishes = wishes if wishes.paper else replace(wishes, paper=usual_paper(sheet))
    covers = laid_flat(pages, sheet.spine) if sheet.spine else []
    if covers:
        return flat("cover", covers, sheet, wishes)
    if sheet.folds:
        return flat("leaflet", pages, sheet, wishes)
    readers = readers_pages(pages, sheet.trim)
    if len(readers) <= 2:
        return flat("leaf", pages, sheet, wishes)
    return booklet(readers, wishes, spreads=len(readers) > len(pages))


def usual_paper(sheet: SpecSheet) -> PaperName:
    return "Letter" if sheet.regions and set(sheet.regions) <= _TRADE_IN_INCHES else "A4"
