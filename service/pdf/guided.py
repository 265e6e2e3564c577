"""A look at a printer's empty document: the boxes of its pages, and the guides on them. No artwork is measured."""

from __future__ import annotations

from pathlib import Path

import pikepdf

from service.pdf.content.resources import Shared
from service.pdf.facts.guides import GuidedPage, GuidedPages
from service.pdf.facts.unknown import Failure, Unmeasured, unmeasured
from service.pdf.pages.boxed_page import boxed_page
from service.pdf.pages.crop_marks import crop_marks_of
from service.pdf.pages.guides import guide_shapes
from service.pdf.pages.page_boxes import read_page
from service.pdf.pages.trim_finding import find_trim
from service.pdf.question import Question
from service.pdf.reading.opening import OpenedPdf, opened
from service.pdf.reading.reading_errors import READING_ERRORS

MOST_PAGES = 8
"""That are looked at: an empty document shows on its first pages what it asks."""
_NOT_ASKED = Unmeasured("Only the guides of the pages were asked for.")


def look_at_guides(path: Path) -> GuidedPages | Failure | Unmeasured:
    """Raises OSError where the file cannot be read from the disk."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf
        pages = []
        for number, page in enumerate(pdf.pdf.pages, start=1):
            if number > MOST_PAGES:
                break
            looked_at = _page(pdf, page.obj, number)
            if isinstance(looked_at, Unmeasured):
                return looked_at
            pages.append(looked_at)
        return GuidedPages(tuple(pages), pdf.page_count)


def _page(pdf: OpenedPdf, page: pikepdf.Dictionary, number: int) -> GuidedPage | Unmeasured:
    shared = Shared(pdf.pdf)
    try:
        declared = read_page(page, has_size=number not in pdf.without_size)
        says = declared.in_force_pt("trim") or declared.in_force_pt("art")
        trim_pt, source = find_trim(declared, Question(), None if says else crop_marks_of(page, declared, shared))
    except READING_ERRORS:
        return unmeasured("Page {page} is damaged and cannot be read.", page=str(number))
    boxed, to_mm = boxed_page(declared, number, trim_pt, source, _NOT_ASKED)
    boxes = boxed.boxes_mm
    bleed = boxes.bleed if boxed.bleed_declared else None
    return GuidedPage(number, boxes.trim, source, bleed, boxes.media, guide_shapes(page, declared, to_mm, shared))
