"""From what a caller wishes of a dummy to its brief: which page lies where on which side of the paper.

* A booklet: sheets of printer's spreads, to be printed on both sides, folded together, nested and stapled (`imposition`).
* A leaflet: outside and inside of each leaf with the sheet's folds; the inside is turned over from left to right.
* A cover: back, spine and front with the two folds of the spine.
* A leaf: front and back, where there is nothing to fold.

Pages are cut to their trim and get smaller only where the paper is too small.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from service.pdf.facts.document_facts import Unmeasured, unmeasured
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Page
from service.product.covers import laid_flat, spine_area
from service.product.spreads import double_pages
from service.proofs.dummy.brief import DummyBrief, DummyKind, Face, Line, Placement, Words
from service.proofs.dummy.imposition import Sheet, Side, Slot, creep_mm, sheets, with_blanks
from service.proofs.dummy.marks_and_words import (
    MARK_TO_MM,
    WORDS_ABOVE_MM,
    WORDS_BELOW_MM,
    blanks_told,
    creep_told,
    cut_marks,
    fold_ticks,
    scale_told,
    spine_told,
    thickness_told,
)
from service.proofs.dummy.paper import Paper, paper_for, usual_paper
from service.proofs.dummy.wishes import DummyWishes
from service.rules.edges.margin_folds import fold_line
from service.sheets.model import SpecSheet

STAPLE_MM = 12.0
"""How long a staple's back is drawn; it lies a quarter and three quarters down the fold. Common practice, no source."""


@dataclass(frozen=True)
class _Reader:
    """One page as it is read: a page of the file, or half of a spread."""

    page: Page
    area_mm: Box


def dummy_brief(pages: Sequence[Page], sheet: SpecSheet, wishes: DummyWishes) -> DummyBrief | Unmeasured:
    """The dummy of these pages for a product of that sheet, or why there is none."""
    if not pages:
        return Unmeasured("The file has no page that a dummy could be made of.")
    wishes = wishes if wishes.paper else replace(wishes, paper=usual_paper(sheet))
    covers = laid_flat(pages, sheet.spine) if sheet.spine else []
    if covers:
        return _flat("cover", covers, sheet, wishes)
    if sheet.folds:
        return _flat("leaflet", pages, sheet, wishes)
    readers = _readers(pages, sheet)
    if len(readers) <= 2:
        return _flat("leaf", pages, sheet, wishes)
    return _booklet(readers, wishes, spreads=len(readers) > len(pages))


def _readers(pages: Sequence[Page], sheet: SpecSheet) -> list[_Reader]:
    doubles = double_pages(pages, sheet.trim)
    readers = []
    for page in pages:
        trim = page.boxes_mm.trim
        if page.number in doubles:
            middle = (trim.x0 + trim.x1) / 2
            readers += [_Reader(page, trim._replace(x1=middle)), _Reader(page, trim._replace(x0=middle))]
        else:
            readers.append(_Reader(page, trim))
    return readers


# --- Booklets -----------------------------------------------------------------------------------------------------------


def _booklet(readers: Sequence[_Reader], wishes: DummyWishes, *, spreads: bool) -> DummyBrief | Unmeasured:
    width, height = max(one.area_mm.width for one in readers), max(one.area_mm.height for one in readers)
    paper = paper_for(2 * width, height, wishes)
    order = with_blanks(len(readers), wishes.blanks)
    all_sheets = sheets(order)
    creep = creep_mm(len(all_sheets), wishes.caliper_mm)
    if creep >= min(one.area_mm.width for one in readers) * paper.scale / 2:
        return unmeasured(
            "Leaves of {caliper} mm would push the innermost of {count} sheets out by {creep} mm: such a booklet cannot be "
            "folded together. Ask for a smaller caliper.",
            caliper=round(wishes.caliper_mm, 3),
            count=len(all_sheets),
            creep=round(creep, 1),
        )
    blanks = tuple(at for at, slot in enumerate(order, start=1) if slot is None)
    notes = (*scale_told(paper), *blanks_told(blanks, wishes.blanks), *creep_told(creep, wishes.caliper_mm))
    binder = _Binder(paper, readers, {slot: at for at, slot in enumerate(order, start=1) if slot}, width, height)
    faces: list[Face] = []
    for sheet in all_sheets:
        told = f"Sheet {sheet.number} of {len(all_sheets)},"
        front = " ".join((f"{told} front.", *(notes if sheet.number == 1 else ())))
        faces += [binder.face(sheet, sheet.front, front), binder.face(sheet, sheet.back, f"{told} back.")]
    changes = (*notes, *(("Spreads were cut into their two pages.",) if spreads else ()), *thickness_told(len(order)))
    return _brief("booklet", paper, faces, changes, blanks)


@dataclass(frozen=True)
class _Binder:
    """Puts pages next to the fold in the middle of the paper."""

    paper: Paper
    readers: Sequence[_Reader]
    numbers: Mapping[int, int]
    """Of the file's pages as read → their places in the booklet."""
    width_mm: float
    height_mm: float
    """Of the largest page, unscaled."""

    def face(self, sheet: Sheet, side: Side, told: str) -> Face:
        paper, fold = self.paper, self.paper.width_mm / 2
        creep = creep_mm(sheet.number, paper.wishes.caliper_mm)
        half, tall = self.width_mm * paper.scale, self.height_mm * paper.scale
        area = Box(fold - half + creep, (paper.height_mm - tall) / 2, fold + half - creep, (paper.height_mm + tall) / 2)
        placed = [self._page(slot, left, creep) for slot, left in ((side.left, True), (side.right, False)) if slot]
        lines = [*cut_marks(area), *fold_ticks(fold, area)]
        if sheet.number == 1 and side is sheet.front:
            quarters = (area.y0 + area.height / 4, area.y1 - area.height / 4)
            lines += [Line("staple", (fold, y - STAPLE_MM / 2), (fold, y + STAPLE_MM / 2)) for y in quarters]
        words = [
            Words(told, (area.x0, area.y0 - WORDS_ABOVE_MM), centred=False, most_mm=area.width),
            *(self._number(slot, x, area) for slot, x in ((side.left, fold - half / 2), (side.right, fold + half / 2))),
        ]
        upside_down = side is sheet.back and paper.back_upside_down
        return Face(tuple(placed), tuple(lines), tuple(words), upside_down)

    def _page(self, slot: int, left: bool, creep: float) -> Placement:
        """It loses at the fold what it is moved by: there it would lie on the page beside it."""
        reader, scale = self.readers[slot - 1], self.paper.scale
        area, lost = reader.area_mm, creep / scale
        shown = area._replace(x1=area.x1 - lost) if left else area._replace(x0=area.x0 + lost)
        x = self.paper.width_mm / 2 - (shown.width * scale if left else 0)
        y = (self.paper.height_mm - shown.height * scale) / 2
        return Placement(reader.page.number, reader.page.boxes_mm.media, shown, (x, y))

    def _number(self, slot: Slot, x: float, area: Box) -> Words:
        text = f"page {self.numbers[slot]}" if slot else "blank page, added"
        return Words(text, (x, area.y1 + WORDS_BELOW_MM), centred=True, most_mm=area.width / 2)


# --- What is not nested -------------------------------------------------------------------------------------------------


def _flat(kind: DummyKind, pages: Sequence[Page], sheet: SpecSheet, wishes: DummyWishes) -> DummyBrief:
    """Each page on a side of its own; the second of two is the back of the first."""
    paper = paper_for(max(page.trim_width_mm for page in pages), max(page.trim_height_mm for page in pages), wishes)
    notes = scale_told(paper)
    faces = []
    for at, page in enumerate(pages):
        told = f"Sheet {at // 2 + 1} of {(len(pages) + 1) // 2}, {'back' if at % 2 else 'front'}."
        told = " ".join((told, *(notes if at == 0 else ()), *(spine_told(page, sheet) if kind == "cover" else ())))
        faces.append(_flat_face(page, _folds(kind, page, sheet), told, paper, back=at % 2 == 1))
    if len(faces) > 1 and len(faces) % 2:
        faces.append(Face((), (), ()))  # so that the next copy does not begin on the back of this one
    changes = (*notes, *(("An empty side was added at the end.",) if len(pages) > 1 and len(pages) % 2 else ()))
    return _brief(kind, paper, faces, changes, ())


def _flat_face(page: Page, folds: Sequence[Box], told: str, paper: Paper, *, back: bool) -> Face:
    trim, scale = page.boxes_mm.trim, paper.scale
    x, y = (paper.width_mm - trim.width * scale) / 2, (paper.height_mm - trim.height * scale) / 2
    area = Box(x, y, x + trim.width * scale, y + trim.height * scale)

    def on_paper(place: tuple[float, float]) -> tuple[float, float]:
        return x + (place[0] - trim.x0) * scale, y + (place[1] - trim.y0) * scale

    lines = [*cut_marks(area)]
    for fold in folds:
        (x0, y0), (x1, y1) = on_paper((fold.x0, fold.y0)), on_paper((fold.x1, fold.y1))
        beyond_x, beyond_y = (0.0, MARK_TO_MM) if x0 == x1 else (MARK_TO_MM, 0.0)
        lines.append(Line("fold", (x0 - beyond_x, y0 - beyond_y), (x1 + beyond_x, y1 + beyond_y)))
    words = (
        Words(told, (area.x0, area.y0 - WORDS_ABOVE_MM), centred=False, most_mm=area.width),
        Words(f"page {page.number}", ((area.x0 + area.x1) / 2, area.y1 + WORDS_BELOW_MM), centred=True, most_mm=area.width),
    )
    return Face(
        (Placement(page.number, page.boxes_mm.media, trim, (x, y)),), tuple(lines), words, back and paper.back_upside_down
    )


def _folds(kind: DummyKind, page: Page, sheet: SpecSheet) -> list[Box]:
    """Lines across the page, in its ruler mm."""
    if kind == "cover" and sheet.spine:
        spine = spine_area(page, sheet.spine)
        return [] if spine is None else [spine._replace(x1=spine.x0), spine._replace(x0=spine.x1)]
    return [line for fold in sheet.folds if (line := fold_line(fold, page))] if kind == "leaflet" else []


# --- What all have in common --------------------------------------------------------------------------------------------


def _brief(kind: DummyKind, paper: Paper, faces: Sequence[Face], changes: tuple[str, ...], blanks: tuple[int, ...]) -> DummyBrief:
    flip = paper.wishes.flip
    printing = f"Print on both sides, turned over about the {flip} edge, " if len(faces) > 1 else "Print on one side, "
    told = (
        "Each page is cut to its trim; bleed and marks, links, scripts and attachments are left out.",
        *changes,
        f"{printing}at 100 % without fitting to the page.",
        "A dummy shows order, size and folds, not colour; the printer's own proof and terms decide.",
    )
    return DummyBrief(kind, paper.name, paper.width_mm, paper.height_mm, paper.scale, tuple(faces), flip, blanks, told)
