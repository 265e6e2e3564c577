"""A booklet: sheets of printer's spreads, to be printed on both sides, folded together, nested and stapled (`imposition`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from service.language.spoken import say
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured, unmeasured
from service.product.spreads import ReadersPage
from service.proofs.dummy.faces import (
    WORDS_ABOVE_MM,
    WORDS_BELOW_MM,
    DummyBrief,
    Face,
    Line,
    Paper,
    Placement,
    Words,
    cut_marks,
    fold_ticks,
    paper_for,
)
from service.proofs.dummy.imposition import Sheet, Side, Slot, creep_mm, sheets, with_blanks
from service.proofs.dummy.telling import blanks_told, creep_told, page_told, scale_told, side_told, thickness_told, told_dummy
from service.proofs.dummy.wishes import DummyWishes

STAPLE_MM = 12.0
"""How long a staple's back is drawn; it lies a quarter and three quarters down the fold. Common practice, no source."""


def booklet(readers: Sequence[ReadersPage], wishes: DummyWishes, *, spreads: bool) -> DummyBrief | Unmeasured:
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
        front, back = (side_told(sheet.number, len(all_sheets), back=back) for back in (False, True))
        front = " ".join((front, *(notes if sheet.number == 1 else ())))
        faces += [binder.face(sheet, sheet.front, front), binder.face(sheet, sheet.back, back)]
    changes = (*notes, *((say("Spreads were cut into their two pages."),) if spreads else ()), *thickness_told(len(order)))
    return told_dummy("booklet", paper, faces, changes, blanks)


@dataclass(frozen=True)
class _Binder:
    """Puts pages next to the fold in the middle of the paper."""

    paper: Paper
    readers: Sequence[ReadersPage]
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
        text = page_told(self.numbers[slot]) if slot else say("blank page, added")
        return Words(text, (x, area.y1 + WORDS_BELOW_MM), centred=True, most_mm=area.width / 2)
