"""What a dummy looks like before it is drawn: which page lies where on which side of the paper, with its lines and words.

* A booklet: sheets of printer's spreads, to be printed on both sides, folded together, nested and stapled (`imposition`).
* A leaflet: outside and inside of each leaf with the sheet's folds; the inside is turned over from left to right.
* A cover: back, spine and front with the two folds of the spine.
* A leaf: front and back, where there is nothing to fold.

Pages are cut to their trim and get smaller only where the paper is too small. Places on paper are mm from its top-left corner as
the side is read; a side that the printer turns over upside down is drawn so as a whole. Its words and numbers are English,
whatever language is spoken.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

from service.language.wording import plain_number
from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured, unmeasured
from service.product.covers import laid_flat, spine_area
from service.product.spreads import double_pages
from service.proofs.dummy.imposition import BlanksPlace, Sheet, Side, Slot, creep_mm, sheets, with_blanks
from service.rules.edges.margin_folds import fold_line
from service.sheets.model import SpecSheet

PaperName = Literal["A4", "A3", "Letter", "Tabloid"]
Flip = Literal["short", "long"]
DummyKind = Literal["booklet", "leaflet", "cover", "leaf"]
LineKind = Literal["cut", "fold", "staple"]

DUMMY = "service.proofs.dummy.drawn:dummy_pdf"
"""Where it is drawn."""

PAPERS_MM: Mapping[PaperName, tuple[float, float]] = MappingProxyType(
    {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}
)
"""Upright. ISO 216:2007; Letter and Tabloid are ANSI A and B (ASME Y14.1)."""

EDGE_MM = 12.0
"""Left free around the pages for marks and words: desk printers leave some 4 to 5 mm unprinted. Common practice, no source."""
STAPLE_MM = 12.0
"""How long a staple's back is drawn; it lies a quarter and three quarters down the fold. Common practice, no source."""
MARK_FROM_MM, MARK_TO_MM = 1.0, 3.5
"""Where the marks for cutting and folding begin and end, from the trim."""
WORDS_ABOVE_MM, WORDS_BELOW_MM = 4.5, 6.5
"""Baselines of the words above and below the pages."""
THICKEST_LEAF_MM = 1.0
MOST_STAPLED_PAGES = 64
"""On thin paper; on thicker paper fewer. Common practice, no source."""
_TRADE_IN_INCHES = {"US", "CA"}


@dataclass(frozen=True)
class DummyWishes:
    paper: PaperName | None = None
    """None: A4, or Letter where the sheet is for North America."""
    flip: Flip = "short"
    """The edge of the paper about which the printer turns it over."""
    blanks: BlanksPlace = "end"
    caliper_mm: float = 0.0
    """Of a leaf; 0: no creep compensation."""


@dataclass(frozen=True)
class Placement:
    page: int
    media_mm: Box
    """As it was measured, in the page's ruler mm."""
    shown_mm: Box
    """What of the page is shown, in its ruler mm."""
    at_mm: tuple[float, float]
    """Where the top-left corner of that comes to lie on the paper."""


@dataclass(frozen=True)
class Line:
    kind: LineKind
    start_mm: tuple[float, float]
    end_mm: tuple[float, float]


@dataclass(frozen=True)
class Words:
    text: str
    at_mm: tuple[float, float]
    """Of the baseline: its start, or its middle where `centred`."""
    centred: bool
    most_mm: float
    """How much room there is; longer words are set smaller."""


@dataclass(frozen=True)
class Face:
    """One side of a sheet of paper."""

    placements: tuple[Placement, ...]
    lines: tuple[Line, ...]
    words: tuple[Words, ...]
    upside_down: bool = False


@dataclass(frozen=True)
class Dummy:
    kind: DummyKind
    paper: PaperName
    width_mm: float
    height_mm: float
    scale: float
    faces: tuple[Face, ...]
    """Front and back of each sheet in turn; a single one is printed on one side."""
    flip: Flip
    blanks: tuple[int, ...]
    """Numbers of the pages of the booklet that were added."""
    changes: tuple[str, ...]
    """What is different from the file, a sentence each."""

    @property
    def both_sides(self) -> bool:
        return len(self.faces) > 1

    @property
    def sheets(self) -> int:
        return (len(self.faces) + 1) // 2


@dataclass(frozen=True)
class _Reader:
    """One page as it is read: a page of the file, or half of a spread."""

    page: Page
    area_mm: Box


@dataclass(frozen=True)
class _Paper:
    name: PaperName
    width_mm: float
    height_mm: float
    scale: float
    wishes: DummyWishes

    @property
    def back_upside_down(self) -> bool:
        """The reader turns a sheet over from left to right, about an upright edge; the printer may do otherwise."""
        return (self.wishes.flip == "short") != (self.width_mm > self.height_mm)


def plan_dummy(pages: Sequence[Page], sheet: SpecSheet, wishes: DummyWishes) -> Dummy | Unmeasured:
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


def usual_paper(sheet: SpecSheet) -> PaperName:
    return "Letter" if sheet.regions and set(sheet.regions) <= _TRADE_IN_INCHES else "A4"


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


def _booklet(readers: Sequence[_Reader], wishes: DummyWishes, *, spreads: bool) -> Dummy | Unmeasured:
    width, height = max(one.area_mm.width for one in readers), max(one.area_mm.height for one in readers)
    paper = _paper(2 * width, height, wishes)
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
    notes = (*_scale_told(paper), *_blanks_told(blanks, wishes.blanks), *_creep_told(creep, wishes.caliper_mm))
    binder = _Binder(paper, readers, {slot: at for at, slot in enumerate(order, start=1) if slot}, width, height)
    faces: list[Face] = []
    for sheet in all_sheets:
        told = f"Sheet {sheet.number} of {len(all_sheets)},"
        front = " ".join((f"{told} front.", *(notes if sheet.number == 1 else ())))
        faces += [binder.face(sheet, sheet.front, front), binder.face(sheet, sheet.back, f"{told} back.")]
    changes = (*notes, *(("Spreads were cut into their two pages.",) if spreads else ()), *_thickness_told(len(order)))
    return _dummy("booklet", paper, faces, changes, blanks)


@dataclass(frozen=True)
class _Binder:
    """Puts pages next to the fold in the middle of the paper."""

    paper: _Paper
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
        lines = [*_cut_marks(area), *_ticks(fold, area)]
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


def _flat(kind: DummyKind, pages: Sequence[Page], sheet: SpecSheet, wishes: DummyWishes) -> Dummy:
    """Each page on a side of its own; the second of two is the back of the first."""
    paper = _paper(max(page.trim_width_mm for page in pages), max(page.trim_height_mm for page in pages), wishes)
    notes = _scale_told(paper)
    faces = []
    for at, page in enumerate(pages):
        told = f"Sheet {at // 2 + 1} of {(len(pages) + 1) // 2}, {'back' if at % 2 else 'front'}."
        told = " ".join((told, *(notes if at == 0 else ()), *(_spine_told(page, sheet) if kind == "cover" else ())))
        faces.append(_flat_face(page, _folds(kind, page, sheet), told, paper, back=at % 2 == 1))
    if len(faces) > 1 and len(faces) % 2:
        faces.append(Face((), (), ()))  # so that the next copy does not begin on the back of this one
    changes = (*notes, *(("An empty side was added at the end.",) if len(pages) > 1 and len(pages) % 2 else ()))
    return _dummy(kind, paper, faces, changes, ())


def _flat_face(page: Page, folds: Sequence[Box], told: str, paper: _Paper, *, back: bool) -> Face:
    trim, scale = page.boxes_mm.trim, paper.scale
    x, y = (paper.width_mm - trim.width * scale) / 2, (paper.height_mm - trim.height * scale) / 2
    area = Box(x, y, x + trim.width * scale, y + trim.height * scale)

    def on_paper(place: tuple[float, float]) -> tuple[float, float]:
        return x + (place[0] - trim.x0) * scale, y + (place[1] - trim.y0) * scale

    lines = [*_cut_marks(area)]
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


def _spine_told(page: Page, sheet: SpecSheet) -> tuple[str, ...]:
    spine = spine_area(page, sheet.spine) if sheet.spine else None
    return (f"The spine is {plain_number(spine.width)} mm wide before scaling.",) if spine else ()


# --- What all have in common --------------------------------------------------------------------------------------------


def _paper(width_mm: float, height_mm: float, wishes: DummyWishes) -> _Paper:
    """Turned as it takes most, upright where that is the same; nothing is enlarged."""
    assert wishes.paper is not None, "the paper was chosen before"
    short, long = PAPERS_MM[wishes.paper]

    def scale(paper_width: float, paper_height: float) -> float:
        return min((paper_width - 2 * EDGE_MM) / width_mm, (paper_height - 2 * EDGE_MM) / height_mm, 1.0)

    along = scale(long, short) > scale(short, long) or (scale(long, short) == scale(short, long) and width_mm > height_mm)
    size = (long, short) if along else (short, long)
    return _Paper(wishes.paper, *size, scale(*size), wishes)


def _cut_marks(area: Box) -> list[Line]:
    marks = []
    for x, outwards_x in ((area.x0, -1), (area.x1, 1)):
        for y, outwards_y in ((area.y0, -1), (area.y1, 1)):
            marks.append(Line("cut", (x + outwards_x * MARK_FROM_MM, y), (x + outwards_x * MARK_TO_MM, y)))
            marks.append(Line("cut", (x, y + outwards_y * MARK_FROM_MM), (x, y + outwards_y * MARK_TO_MM)))
    return marks


def _ticks(x: float, area: Box) -> list[Line]:
    """Above and below an upright fold, so that nothing is drawn over the pages."""
    ends = ((area.y0 - MARK_TO_MM, area.y0 - MARK_FROM_MM), (area.y1 + MARK_FROM_MM, area.y1 + MARK_TO_MM))
    return [Line("fold", (x, start), (x, end)) for start, end in ends]


def _dummy(kind: DummyKind, paper: _Paper, faces: Sequence[Face], changes: tuple[str, ...], blanks: tuple[int, ...]) -> Dummy:
    flip = paper.wishes.flip
    printing = f"Print on both sides, turned over about the {flip} edge, " if len(faces) > 1 else "Print on one side, "
    told = (
        "Each page is cut to its trim; bleed and marks, links, scripts and attachments are left out.",
        *changes,
        f"{printing}at 100 % without fitting to the page.",
        "A dummy shows order, size and folds, not colour; the printer's own proof and terms decide.",
    )
    return Dummy(kind, paper.name, paper.width_mm, paper.height_mm, paper.scale, tuple(faces), flip, blanks, told)


def _scale_told(paper: _Paper) -> tuple[str, ...]:
    if paper.scale >= 1:
        return (f"In its real size on {paper.name}.",)
    return (f"Made smaller to fit {paper.name}: {plain_number(100 * paper.scale)} % of its real size.",)


def _blanks_told(blanks: tuple[int, ...], place: BlanksPlace) -> tuple[str, ...]:
    if not blanks:
        return ()
    where = {"end": "at the end", "before-last": "before the last page", "after-first": "after the first page"}[place]
    count = "1 blank page was" if len(blanks) == 1 else f"{len(blanks)} blank pages were"
    return (f"{count} added {where}, to make the count a multiple of 4: {', '.join(map(str, blanks))}.",)


def _thickness_told(count: int) -> tuple[str, ...]:
    if count <= MOST_STAPLED_PAGES:
        return ()
    told = f"{count} pages are many for one stapled booklet, which rarely has more than {MOST_STAPLED_PAGES}"
    return (f"{told}: ask the printer how it is to be bound.",)


def _creep_told(creep: float, caliper_mm: float) -> tuple[str, ...]:
    if not creep:
        return ()
    return (
        f"Pages are moved towards the fold by {plain_number(caliper_mm, 3)} mm for each sheet further in, "
        f"{plain_number(creep, 2)} mm on the innermost; what reaches across the fold there is cut off.",
    )
