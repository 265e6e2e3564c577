"""What is asked of a client preview: which pages, side by side or alone, how fine, how large. Plain records, no PDF library.

* Reader spreads: the first page alone, then 2 and 3, 4 and 5, … as the reader turns them. Left of a spread is the even page,
  the custom of books that read from left to right (common practice, no source).
* A page that is far wider than the narrowest is taken as a spread already, and stands alone.
* Of chosen pages only those stand side by side that face each other in the whole.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.sheets.model import SpecSheet

PREVIEW = "service.proofs.preview.drawn:preview_pdf"
"""Where it is made."""

PreviewArrangement = Literal["spreads", "singles"]
LOWEST_PPI, DEFAULT_PPI, HIGHEST_PPI = 36, 110, 300
LOWEST_QUALITY, DEFAULT_QUALITY, HIGHEST_QUALITY = 20, 60, 95
"""Of the JPEG pictures, on the scale of the common JPEG library (libjpeg)."""
SMALLEST_BYTES = 10_000
LONGEST_WATERMARK = 60

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
class PreviewAsked:
    sheets: tuple[tuple[PageShown, ...], ...]
    """One page or two beside each other."""
    ppi: int = DEFAULT_PPI
    quality: int = DEFAULT_QUALITY
    maximum_bytes: int | None = None
    """The file is made no larger: pictures are made coarser until it fits."""
    watermark: str = ""


class NotUnderstood(ValueError):
    """Something asked for cannot be; the text says what to write."""


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


def numbers_of(text: str | None, count: int) -> tuple[int, ...]:
    """'1-4,9-12' as page numbers, in order, each once; all pages where nothing is written. Raises `NotUnderstood`."""
    if text is None or not text.strip():
        return tuple(range(1, count + 1))
    chosen: set[int] = set()
    for part in text.split(","):
        found = re.fullmatch(r"\s*(\d{1,9})\s*(?:[-\u2013]\s*(\d{1,9})\s*)?", part, re.ASCII)
        if not found:
            raise NotUnderstood("Write pages as numbers and ranges, such as 1-4,9-12.")
        first, last = int(found[1]), int(found[2] or found[1])
        if not 1 <= first <= last:
            raise NotUnderstood(f"'{part.strip()}' is no range of pages: pages count from 1, the lower number comes first.")
        if last > count:
            raise NotUnderstood(f"The file has {count} page{'s' * (count != 1)}, and no page {last}.")
        chosen.update(range(first, last + 1))
    return tuple(sorted(chosen))


_UNITS = {"": 1, "b": 1, "kb": 10**3, "mb": 10**6, "kib": 2**10, "mib": 2**20}


def bytes_of(text: str) -> int:
    """'600kB', '5 MB', '1 MiB' or a number of bytes. Raises `NotUnderstood`."""
    found = re.fullmatch(r"\s*(\d{1,12}(?:\.\d{1,6})?)\s*([a-z]*)\s*", text.lower(), re.ASCII)
    if not found or found[2] not in _UNITS:
        raise NotUnderstood("Write a size with its unit, such as 600kB or 5MB.")
    size = int(float(found[1]) * _UNITS[found[2]])
    if size < SMALLEST_BYTES:
        raise NotUnderstood(f"No preview is as small as that; ask for {SMALLEST_BYTES // 1000} kB or more.")
    return size


def watermark_of(text: str) -> str:
    """One line of letters that the typeface has (Western European). Raises `NotUnderstood`."""
    words = " ".join(text.split())
    if len(words) > LONGEST_WATERMARK:
        raise NotUnderstood(f"Write at most {LONGEST_WATERMARK} letters, such as 'For approval'.")
    try:
        words.encode("cp1252")
    except UnicodeEncodeError as error:
        raise NotUnderstood("The watermark's typeface has Western European letters only; write it with those.") from error
    return words


def told_of(asked: PreviewAsked) -> str:
    """What a preview changes, for its own properties and whoever asks for it; printable ASCII."""
    pages = [one.number for sheet in asked.sheets for one in sheet]
    spreads = any(len(sheet) > 1 for sheet in asked.sheets)
    limit = f", coarser where needed to stay within {asked.maximum_bytes} bytes" if asked.maximum_bytes else ""
    return (
        f"Preview for screens, not for printing. {len(pages)} page{'s' * (len(pages) != 1)} cut to the trim"
        f"{', facing pages side by side' if spreads else ''}; pictures at {asked.ppi} ppi, JPEG quality {asked.quality}{limit}; "
        "colours in sRGB but for gradients by meshes; overprint is not shown; "
        "hidden layers, comments, links, bookmarks, scripts and attachments left out"
        f"{'; watermark added' if asked.watermark else ''}."
    )
