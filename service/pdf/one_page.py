"""One page measured: its boxes first and its content after them, then its plates.

A page that cannot be read keeps its number, and what is not known of it says why.
"""

from __future__ import annotations

from dataclasses import replace

import pikepdf

from service.language.sentences import sentence
from service.pdf.content.resources import Shared
from service.pdf.document.standard_facts import profiles_in_use
from service.pdf.facts.geometry import Box, Matrix, Sides
from service.pdf.facts.page import Page, PageBoxes, TrimSource
from service.pdf.facts.painted.content import Content
from service.pdf.facts.parts import PagePart
from service.pdf.facts.unknown import NOT_LOOKED_AT, BeyondLimits, NotAsked, Unmeasured
from service.pdf.gather.page_content import PAGE_NESTED_TOO_DEEP, page_content
from service.pdf.pages.annotations import annotations_of
from service.pdf.pages.boxed_page import boxed_page
from service.pdf.pages.crop_marks import crop_marks_of, marked_box
from service.pdf.pages.page_boxes import LETTER_PT, DeclaredPage, boxes_in_force, read_page, ruler
from service.pdf.pages.trim_finding import find_trim
from service.pdf.plates.areas.page_facts import with_plates
from service.pdf.plates.page_plates import PlatesOfFile
from service.pdf.plates.separation import Plates
from service.pdf.question import Question
from service.pdf.reading.opening import ENDS_EARLY, NESTED_TOO_DEEP, OpenedPdf, new_damage
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import is_cut_off

_NO_PLATES = Unmeasured("Separations were not made.")
PLAIN_INK = NotAsked("Separations were not asked for: the page's plain colours tell what matters of its ink.")


class ForAllPages:
    """What the measuring of all pages shares."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self.shared: Shared | Unmeasured
        try:
            self.shared = Shared(pdf)
            self.plates = PlatesOfFile(pdf, self.shared)
        except READING_ERRORS:
            self.shared = Unmeasured("The list of the file's layers is damaged: what prints cannot be told.")


def measured_page(
    opened_pdf: OpenedPdf, page: pikepdf.Page, number: int, question: Question, of_file: ForAllPages
) -> PagePart:
    shared = of_file.shared
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
    plates = _plates(page.obj, declared, measured, question, of_file)
    whole = with_plates(measured, plates, question)
    profiles = profiles_in_use(opened_pdf.pdf, content)
    later = [one for one in new_damage(opened_pdf) if one not in (NESTED_TOO_DEEP, *damage)]  # or the next page would tell it
    if (noticed or later) and not isinstance(shared, Unmeasured):
        shared.drawn_forms.clear()  # each page tells the damage of what it draws
    return PagePart(whole, (*declared.slips, *damage, *later), profiles)


def boxed_page_alone(
    opened_pdf: OpenedPdf, page: pikepdf.Page, number: int, question: Question, of_file: ForAllPages
) -> PagePart:
    """The page's boxes, for a page of which the rest is lost."""
    try:
        declared, trim_pt, source = _trimmed(opened_pdf, page, number, question, of_file.shared)
    except READING_ERRORS:
        return _unreadable_page(number)
    return PagePart(boxed_page(declared, number, trim_pt, source, NOT_LOOKED_AT)[0], declared.slips, ())


def ruler_of_page(
    opened_pdf: OpenedPdf, page: pikepdf.Page, number: int, question: Question, of_file: ForAllPages
) -> Matrix | None:
    """From default user space to ruler mm; None for a page that cannot be read."""
    try:
        declared, trim_pt, _ = _trimmed(opened_pdf, page, number, question, of_file.shared)
    except READING_ERRORS:
        return None
    return ruler(trim_pt, declared.rotation, declared.user_unit)


def _trimmed(
    opened_pdf: OpenedPdf, page: pikepdf.Page, number: int, question: Question, shared: Shared | Unmeasured
) -> tuple[DeclaredPage, Box, TrimSource]:
    """Raises what reading raises."""
    declared = read_page(page.obj, has_size=number not in opened_pdf.without_size)
    return declared, *find_trim(declared, question, _crop_marks(page.obj, declared, shared))


def _plates(
    page: pikepdf.Dictionary, declared: DeclaredPage, measured: Page, question: Question, of_file: ForAllPages
) -> Plates | Unmeasured:
    """A page whose content is not known whole has no plates that could be trusted."""
    if isinstance(measured.content, Unmeasured):
        return measured.content
    if isinstance(of_file.shared, Unmeasured):
        return of_file.shared
    if question.answered_by(measured.content.plain_ink_percent) and of_file.plates.converts_by_formula:
        return PLAIN_INK
    media_mm = measured.boxes_mm.media
    return of_file.plates.of_page(
        page, declared.media_pt, media_mm, declared.rotation, declared.user_unit, measured.content
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


def _unreadable_page(number: int) -> PagePart:
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
    return PagePart(page, (sentence("the page is damaged and cannot be read."),), ())
