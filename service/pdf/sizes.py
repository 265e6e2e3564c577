"""A look at the pages' boxes alone: how large each page is trimmed and how much bleed it has. What it paints is not measured.

For the question which product a file could be; a check measures everything (`service.pdf.measure`).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pikepdf

from service.pdf.content.resources import Shared
from service.pdf.document.whole import measure_document
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Failure, Unmeasured, unmeasured
from service.pdf.pages.boxed_page import boxed_page
from service.pdf.pages.crop_marks import crop_marks_of
from service.pdf.pages.page_boxes import read_page
from service.pdf.pages.trim_finding import find_trim
from service.pdf.question import Question
from service.pdf.reading.opening import OpenedPdf, opened
from service.pdf.reading.reading_errors import READING_ERRORS

_NOT_ASKED = Unmeasured("Only the sizes of the pages were asked for.")
MOST_PAGES_WITH_MARKS = 8
"""Pages without a declared trim on which crop marks are looked for: what the first ones do not show, later ones hardly will."""


def measure_sizes(path: Path, question: Question, progress: Callable[[str, int, int], None]) -> Measurements:
    """As `measure`, without content. Raises OSError where the file cannot be read from the disk."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return Measurements.unreadable(path.stat().st_size, pdf)
        document = measure_document(pdf)
        pages = []
        for number, page in enumerate(pdf.pdf.pages, start=1):
            measured = _page(pdf, page.obj, number, question)
            if isinstance(measured, Unmeasured):
                return Measurements(document, measured)
            pages.append(measured)
            progress("pages", number, pdf.page_count)
        return Measurements(document, tuple(pages))


def _page(pdf: OpenedPdf, page: pikepdf.Dictionary, number: int, question: Question) -> Page | Unmeasured:
    try:
        declared = read_page(page, has_size=number not in pdf.without_size)
        says = declared.in_force_pt("trim") or declared.in_force_pt("art")
        marked = None if says or number > MOST_PAGES_WITH_MARKS else crop_marks_of(page, declared, Shared(pdf.pdf))
        trim_pt, source = find_trim(declared, question, marked)
    except READING_ERRORS:
        return unmeasured("Page {page} is damaged and cannot be read.", page=str(number))
    return boxed_page(declared, number, trim_pt, source, _NOT_ASKED)[0]
