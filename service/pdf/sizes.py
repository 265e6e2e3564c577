"""A look at the pages' boxes alone: how large each page is trimmed and how much bleed it has. What it paints is not measured.

For the question which product a file could be; a check measures everything (`service.pdf.measure`).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pikepdf

from service.pdf.crop_marks import crop_marks_of
from service.pdf.document import measure_document
from service.pdf.measurements import Failure, Measurements, Page, Question, Unmeasured
from service.pdf.opening import OpenedPdf, opened
from service.pdf.page_boxes import boxes_declared, boxes_in_force, read_page, ruler
from service.pdf.reading_errors import READING_ERRORS
from service.pdf.resources import Shared
from service.pdf.trim_finding import bleed_around, find_trim

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
        return Unmeasured(f"Page {number} is damaged and cannot be read.")
    to_mm = ruler(trim_pt, declared.rotation, declared.user_unit)
    boxes = boxes_in_force(declared, trim_pt, to_mm)
    bleed_declared = declared.in_force_pt("bleed") is not None
    return Page(
        number=number,
        rotation=declared.rotation,
        user_unit=declared.user_unit,
        declared_boxes=boxes_declared(declared, to_mm),
        boxes_mm=boxes,
        trim_source=source,
        bleed_declared=bleed_declared,
        bleed_mm=bleed_around(boxes, bleed_declared=bleed_declared),
        content=_NOT_ASKED,
        bleed_reach_mm=_NOT_ASKED,
        ink_max_percent=_NOT_ASKED,
        annotations=_NOT_ASKED,
        crop_marks_mm=_NOT_ASKED,
    )
