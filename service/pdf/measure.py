"""Measure a PDF: the document, then every page, its boxes first and its content after them.

One page that cannot be read does not take the others along: it keeps its number, and what is not known of it says why.
It knows no sheet. `Question` tells it which sizes to try where a page declares no trim.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pikepdf

from service.language.sentences import Sentence, sentence
from service.pdf.content.resources import Shared
from service.pdf.document.standard_facts import with_standard_facts
from service.pdf.document.whole import measure_document
from service.pdf.facts.geometry import Box, Matrix, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page, PageBoxes
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import BeyondLimits, Failure, Unmeasured
from service.pdf.gather.page_content import PAGE_NESTED_TOO_DEEP, page_content
from service.pdf.pages.annotations import annotations_of
from service.pdf.pages.boxed_page import boxed_page
from service.pdf.pages.crop_marks import crop_marks_of, marked_box
from service.pdf.pages.page_boxes import LETTER_PT, DeclaredPage, boxes_in_force, read_page, ruler
from service.pdf.pages.trim_finding import find_trim
from service.pdf.plates.areas.page_facts import with_plates
from service.pdf.plates.page_plates import plates_of_page
from service.pdf.plates.separation import Plates
from service.pdf.question import Question
from service.pdf.reading.opening import ENDS_EARLY, NESTED_TOO_DEEP, OpenedPdf, capped, new_damage, opened
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import is_cut_off

Progress = Callable[[str, int, int], None]
"""Told after each page: the stage ('pages'), how many are done, how many there are."""

_NOTHING_ASKED = Question()
_NO_PLATES = Unmeasured("Separations were not made.")


def silent(stage: str, done: int, total: int) -> None:
    """Progress that nobody wants to hear of."""


@dataclass(frozen=True)
class MeasuredPage:
    page: Page
    slips: tuple[Sentence, ...]
    """What was left out or assumed, each to follow the words 'Page 3:'."""
    ruler: Matrix | None = None
    """From default user space to ruler mm; None for a page that cannot be read."""


def measure(path: Path, question: Question = _NOTHING_ASKED, progress: Progress = silent) -> Measurements:
    """Everything that can be known of the file. Raises OSError where it cannot be read from the disk."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return Measurements.unreadable(path.stat().st_size, pdf)
        document = measure_document(pdf)
        shared = _shared(pdf.pdf)
        measured = []
        for number, page in enumerate(pdf.pdf.pages, start=1):  # by index, each page would cost as many steps as there are pages
            measured.append(_measure_page(pdf, page, number, question, shared))
            progress("pages", number, pdf.page_count)
        pages = tuple(one.page for one in measured)
        document = with_standard_facts(document, pdf, pages, {one.page.number: one.ruler for one in measured if one.ruler})
        damage = capped((*document.damage, *_slips_of(measured)))
        return Measurements(replace(document, damage=damage), pages)


def _shared(pdf: pikepdf.Pdf) -> Shared | Unmeasured:
    """What the walks of all pages share."""
    try:
        return Shared(pdf)
    except READING_ERRORS:
        return Unmeasured("The list of the file's layers is damaged: what prints cannot be told.")


def _measure_page(
    opened_pdf: OpenedPdf, page: pikepdf.Page, number: int, question: Question, shared: Shared | Unmeasured
) -> MeasuredPage:
    try:
        declared = read_page(page.obj, has_size=number not in opened_pdf.without_size)
    except READING_ERRORS:
        return _unreadable_page(number)
    trim_pt, source = find_trim(declared, question, _crop_marks(page.obj, declared, shared))
    boxed, to_mm = boxed_page(declared, number, trim_pt, source, _NO_PLATES)
    content = _content(opened_pdf, page.obj, to_mm, boxed.boxes_mm, shared)
    noticed = new_damage(opened_pdf)
    damage = tuple(one for one in noticed if one != NESTED_TOO_DEEP)
    if NESTED_TOO_DEEP in noticed:
        content = PAGE_NESTED_TOO_DEEP
    elif ENDS_EARLY in damage and not isinstance(content, BeyondLimits) and _is_cut_off(page.obj):
        content = Unmeasured("The page's content is cut off in the file: what came after is lost.")
    measured = replace(
        boxed,
        content=content,
        annotations=annotations_of(page.obj, to_mm, shared),
        crop_marks_mm=content if isinstance(content, Unmeasured) else marked_box(content.mark_lines),
    )
    plates = _plates(opened_pdf.pdf, page.obj, declared, measured, shared)
    return MeasuredPage(with_plates(measured, plates, question), (*declared.slips, *damage), to_mm)


def _plates(
    pdf: pikepdf.Pdf, page: pikepdf.Dictionary, declared: DeclaredPage, measured: Page, shared: Shared | Unmeasured
) -> Plates | Unmeasured:
    """A page whose content is not known whole has no plates that could be trusted."""
    if isinstance(measured.content, Unmeasured):
        return measured.content
    if isinstance(shared, Unmeasured):
        return shared
    media_mm = measured.boxes_mm.media
    return plates_of_page(
        pdf, page, declared.media_pt, media_mm, declared.rotation, declared.user_unit, measured.content, shared
    )


def _crop_marks(page: pikepdf.Dictionary, declared: DeclaredPage, shared: Shared | Unmeasured) -> Box | None:
    """Looked for only where the page does not say itself where it is trimmed."""
    says = declared.in_force_pt("trim") or declared.in_force_pt("art")
    return None if says or isinstance(shared, Unmeasured) else crop_marks_of(page, declared, shared)


def _content(
    opened_pdf: OpenedPdf, page: pikepdf.Dictionary, to_mm: Matrix, boxes: PageBoxes, shared: Shared | Unmeasured
) -> Content | Unmeasured:
    """From the walk, unless what the page had to paint is lost: an empty page would then be a false one."""
    try:
        lost = _lost_content(opened_pdf, page)
    except READING_ERRORS:
        lost = Unmeasured("The page is damaged and its content cannot be read.")
    if lost:
        return lost
    if isinstance(shared, Unmeasured):
        return shared
    return page_content(page, to_mm, boxes, shared)


def _lost_content(opened_pdf: OpenedPdf, page: pikepdf.Dictionary) -> Unmeasured | None:
    parts = _content_parts(page)
    if not parts:  # an empty page is allowed (ISO 32000-2:2020, Table 31), unless parts of the file are gone
        return Unmeasured("The file is damaged and nothing of the page's content is left.") if opened_pdf.rebuilt else None
    if not all(isinstance(one, pikepdf.Stream) for one in parts):
        return Unmeasured("Some of the page's content is named in the file and cannot be found.")
    return None


def _content_parts(page: pikepdf.Dictionary) -> list[object]:
    contents = page.get("/Contents")
    if isinstance(contents, pikepdf.Array):
        return list(contents)
    return [] if contents is None else [contents]


def _is_cut_off(page: pikepdf.Dictionary) -> bool:
    """Whether the page's own content ends before its end; what it draws in turn (forms, patterns) is not looked at."""
    try:
        return any(is_cut_off(one) for one in _content_parts(page) if isinstance(one, pikepdf.Stream))
    except READING_ERRORS:
        return True


def _unreadable_page(number: int) -> MeasuredPage:
    """A page of which not even the boxes can be read: the size is an assumption, and says so."""
    declared = DeclaredPage({}, 0, 1.0, ())
    to_mm = ruler(LETTER_PT, 0, 1.0)
    why = Unmeasured("The page is damaged and cannot be read.")
    page = Page(
        number=number,
        rotation=0,
        user_unit=1.0,
        declared_boxes=(),
        boxes_mm=boxes_in_force(declared, LETTER_PT, to_mm),
        trim_source="media_box",
        bleed_declared=False,
        bleed_mm=Sides(0.0, 0.0, 0.0, 0.0),
        content=why,
        bleed_reach_mm=why,
        ink_max_percent=why,
        annotations=why,
        crop_marks_mm=why,
        plates=_NO_PLATES,
    )
    return MeasuredPage(page, (sentence("the page is damaged and cannot be read."),))


def _slips_of(measured: list[MeasuredPage]) -> Iterator[Sentence]:
    """Each slip once, with the pages that have it."""
    pages_with: dict[Sentence, list[int]] = {}
    for one in measured:
        for slip in one.slips:
            pages_with.setdefault(slip, []).append(one.page.number)
    for slip, numbers in pages_with.items():
        first = ", ".join(str(number) for number in numbers[:3])
        if len(numbers) == 1:
            yield sentence("Page {page}: {slip}", page=first, slip=slip)
        elif len(numbers) <= 3:
            yield sentence("Pages {pages}: {slip}", pages=first, slip=slip)
        else:
            yield sentence("Pages {pages} and {count} more: {slip}", pages=first, count=len(numbers) - 3, slip=slip)
