"""What whoever makes a client preview is told: which pages, side by side or alone, how fine, how large. No PDF library.

* Reader spreads: the first page alone, then 2 and 3, 4 and 5, … as the reader turns them. Left of a spread is the even page,
  the custom of books that read from left to right (common practice, no source).
* A page that is far wider than the narrowest is taken as a spread already, and stands alone.
* Of chosen pages only those stand side by side that face each other in the whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from service.language.spoken import say
from service.language.wording import pages_counted, ppi, stored_size
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.proofs.preview.wishes import PreviewArrangement, PreviewWishes, bytes_of, watermark_of
from service.proofs.wishes import page_numbers, understood
from service.sheets.model import SpecSheet

PREVIEW = "service.proofs.preview.drawn:preview_pdf"
"""Where it is made."""

BOUND_PRODUCTS = frozenset({"booklet", "book-text", "magazine", "newspaper"})
"""Sheets of these products describe work with pages that face each other."""
_ALREADY_A_SPREAD = 1.8
"""Times the narrowest page. Ours, no source."""


@dataclass(frozen=True)
class PageShown:
    """A page with its boxes as they were measured, ruler mm."""

    number: int
    media_mm: Box
    trim_mm: Box


@dataclass(frozen=True)
class PreviewBrief:
    sheets: tuple[tuple[PageShown, ...], ...]
    """One page or two beside each other."""
    ppi: int
    quality: int
    maximum_bytes: int | None
    """The file is made no larger: pictures are made coarser until it fits."""
    watermark: str

    @property
    def changes(self) -> tuple[str, ...]:
        """What the preview changes, for its own properties and whoever wants it."""
        pages = [one.number for sheet in self.sheets for one in sheet]
        told = [say("Preview for screens, not for printing.")]
        if any(len(sheet) > 1 for sheet in self.sheets):
            told.append(say("{pages} cut to the trim, facing pages side by side.", pages=pages_counted(len(pages))))
        else:
            told.append(say("{pages} cut to the trim.", pages=pages_counted(len(pages))))
        told.append(say("Pictures at {ppi}, JPEG quality {quality}.", ppi=ppi(self.ppi), quality=self.quality))
        if self.maximum_bytes:
            limit = stored_size(self.maximum_bytes, exactly=True)
            told.append(say("They may be coarser, so that the file stays within {limit}.", limit=limit))
        told.append(say("Colours are in sRGB, but for gradients by meshes; overprint is not shown."))
        told.append(say("Hidden layers, comments, links, bookmarks, scripts and attachments are left out."))
        return (*told, *((say("A watermark was added."),) if self.watermark else ()))


def preview_brief(pages: Sequence[Page], sheet: SpecSheet, wishes: PreviewWishes) -> PreviewBrief:
    """Raises `WishesRefused`."""
    found = understood(
        pages=lambda: page_numbers(wishes.pages, len(pages)),
        maximum_size=lambda: bytes_of(wishes.maximum_size) if wishes.maximum_size else None,
        watermark=lambda: watermark_of(wishes.watermark),
    )
    sheets = sheets_of(pages, found["pages"], wishes.arrangement or arrangement_for(sheet))
    return PreviewBrief(sheets, wishes.ppi, wishes.quality, found["maximum_size"], found["watermark"])


def is_bound(sheet: SpecSheet) -> bool:
    """Whether the sheet describes single pages that face each other once bound."""
    return sheet.product in BOUND_PRODUCTS or (sheet.product is None and sheet.pages is not None and sheet.pages.multiple_of == 4)


def arrangement_for(sheet: SpecSheet) -> PreviewArrangement:
    """Where nobody says which."""
    return "spreads" if is_bound(sheet) else "singles"


def sheets_of(
    pages: Sequence[Page], numbers: Sequence[int], arrangement: PreviewArrangement
) -> tuple[tuple[PageShown, ...], ...]:
    """The chosen pages in order, put together where they face each other."""
    narrowest = min(page.trim_width_mm for page in pages)
    sheets: list[tuple[PageShown, ...]] = []
    for number in numbers:
        page = pages[number - 1]
        shown = PageShown(number, page.boxes_mm.media, page.boxes_mm.trim)
        if (
            arrangement == "spreads"
            and number % 2 == 1
            and sheets
            and sheets[-1][0].number == number - 1
            and abs(sheets[-1][0].trim_mm.height - shown.trim_mm.height) <= 1 + SLACK_MM
            and max(shown.trim_mm.width, sheets[-1][0].trim_mm.width) < _ALREADY_A_SPREAD * narrowest
        ):
            sheets[-1] = (sheets[-1][0], shown)
        else:
            sheets.append((shown,))
    return tuple(sheets)
