"""One flat page on the paper of a drawing: outline, bleed, margin, folds, spine and areas, with their measures around it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from service.language.spoken import say, translated
from service.pdf.facts.geometry import SLACK_MM, Box
from service.product.flat_pages import FlatPage, FoldAcross
from service.proofs.drawing.measures import ROW_MM, measured, words_width
from service.proofs.drawing.shapes import SMALL_TYPE_MM, TYPE_MM, Area, Segment, Shape, Words

Length = Callable[[float], str]
"""How a length is written: in mm or in inches."""

_TITLE_MM = 7.0
_LEADER_MM = 6.0
_LINE_MM = TYPE_MM * 1.5


@dataclass(frozen=True)
class Face:
    page: FlatPage
    title: str
    scale: float
    length: Length

    def size_mm(self) -> tuple[float, float]:
        """Of the paper that the page takes with its measures."""
        left, top, right, bottom = self._around()
        trim = self.page.trim_mm
        return left + trim.width * self.scale + right, top + trim.height * self.scale + bottom

    def shapes(self, x: float, y: float) -> Iterator[Shape]:
        """With the top-left corner of its paper there."""
        left, top, _, _ = self._around()
        on_paper = _Placed(x + left, y + top, self.scale)
        yield Words(self.title, (x + left, y + TYPE_MM + 1), anchor="start")
        yield from self._product(on_paper)
        yield from self._measures(on_paper)
        yield from self._leaders(on_paper)

    def _around(self) -> tuple[float, float, float, float]:
        """What stands left, above, right and below of the trim, in mm of paper."""
        bleed, rows = self.page.bleed_mm * self.scale, len(self._rows())
        columns = 1 + (len(self._heights()) > 1)
        said = max((words_width(one) for one in self._told()), default=0.0)
        areas = len(self.page.areas)
        return (
            bleed + ROW_MM * columns + 4,
            _TITLE_MM + bleed + ROW_MM * rows + 4,
            bleed + ROW_MM * areas + _LEADER_MM + said + 4,
            bleed + ROW_MM * areas + 5,
        )

    # --- What is there ----------------------------------------------------------------------------------------------------

    def _product(self, on_paper: _Placed) -> Iterator[Shape]:
        page = self.page
        if page.bleed_mm:
            yield Area(on_paper.box(page.trim_mm.grown(page.bleed_mm)), "bleed")
        for area in page.areas:
            placed = on_paper.box(area.box_mm)
            yield Area(placed, "narrow", tinted=True)
            yield from _inside(placed, translated(area.name))
        for single in self._singles():
            if page.margin_mm and 2 * page.margin_mm < min(single.width, single.height):
                yield Area(on_paper.box(single.grown(-page.margin_mm)), "margin")
        yield Area(on_paper.box(page.trim_mm), "outline")
        for fold in self._folds():
            line = on_paper.box(fold.line_mm)
            yield Segment((line.x0, line.y0), (line.x1, line.y1), "fold")

    def _singles(self) -> list[Box]:
        """What the margin is measured in: each page, where two face each other or a spine lies between."""
        trim, page = self.page.trim_mm, self.page
        if page.gutter_mm is not None:
            return [trim._replace(x1=page.gutter_mm), trim._replace(x0=page.gutter_mm)]
        if page.spine_mm is not None:
            return [trim._replace(x1=page.spine_mm.x0), trim._replace(x0=page.spine_mm.x1)]
        return [trim]

    def _folds(self) -> list[FoldAcross]:
        page = self.page
        if page.gutter_mm is None:
            return list(page.folds)
        return [FoldAcross(Box(page.gutter_mm, page.trim_mm.y0, page.gutter_mm, page.trim_mm.y1), None)]

    # --- Its measures -----------------------------------------------------------------------------------------------------

    def _rows(self) -> list[list[float]]:
        """The edges (x) that each row above the product measures between, from the product outwards."""
        trim = self.page.trim_mm
        folds = sorted(fold.line_mm.x0 for fold in self._folds() if fold.line_mm.width == 0)
        whole = [trim.x0, trim.x1]
        return [[trim.x0, *folds, trim.x1], whole] if folds else [whole]

    def _heights(self) -> list[list[float]]:
        trim = self.page.trim_mm
        folds = sorted(fold.line_mm.y0 for fold in self._folds() if fold.line_mm.width > 0)
        whole = [trim.y0, trim.y1]
        return [[trim.y0, *folds, trim.y1], whole] if folds else [whole]

    def _measures(self, on_paper: _Placed) -> Iterator[Shape]:
        trim, bleed = on_paper.box(self.page.trim_mm), self.page.bleed_mm * self.scale
        for at, edges in enumerate(self._rows(), 1):
            yield from measured([on_paper.x(one) for one in edges], self._texts(edges), trim.y0 - bleed - at * ROW_MM, trim.y0)
        for at, edges in enumerate(self._heights(), 1):
            heights = [on_paper.y(one) for one in edges]
            yield from measured(heights, self._texts(edges), trim.x0 - bleed - at * ROW_MM, trim.x0, upright=True)
        for at, area in enumerate(self.page.areas, 1):
            box, below, beside = area.box_mm, trim.y1 + bleed + at * ROW_MM, trim.x1 + bleed + at * ROW_MM
            edges, heights = _from(self.page.trim_mm.x0, box.x0, box.x1), _from(self.page.trim_mm.y0, box.y0, box.y1)
            yield from measured([on_paper.x(one) for one in edges], self._texts(edges), below, trim.y1 + bleed)
            yield from measured([on_paper.y(one) for one in heights], self._texts(heights), beside, trim.x1 + bleed, upright=True)

    def _texts(self, edges: Sequence[float]) -> list[str]:
        return [self.length(end - start) for start, end in pairwise(edges)]

    # --- What cannot be measured in the drawing, because it is too small at this scale ----------------------------------------

    def _told(self) -> list[str]:
        page, said = self.page, []
        if page.bleed_mm:
            said.append(say("bleed {length}", length=self.length(page.bleed_mm)))
        said.append(say("trimmed edge"))
        if page.margin_mm:
            said.append(say("safety margin {length}", length=self.length(page.margin_mm)))
        return said

    def _leaders(self, on_paper: _Placed) -> Iterator[Shape]:
        """A thin line from each edge to its name, at the right near the top (ISO 128-2's leader lines)."""
        page, trim = self.page, on_paper.box(self.page.trim_mm)
        depths = [page.bleed_mm] if page.bleed_mm else []
        depths += [0.0, *([-page.margin_mm] if page.margin_mm else [])]
        x = trim.x1 + (page.bleed_mm * self.scale) + ROW_MM * len(page.areas) + _LEADER_MM
        for at, (depth, text) in enumerate(zip(depths, self._told(), strict=True)):
            y = trim.y0 + (page.margin_mm or 0) * self.scale + 3 + at * _LINE_MM
            yield Segment((trim.x1 + depth * self.scale, y), (x, y), "narrow")
            yield Words(text, (x + 1, y + TYPE_MM * 0.35), anchor="start")


@dataclass(frozen=True)
class _Placed:
    """From mm of the product to mm of paper."""

    x0: float
    y0: float
    scale: float

    def x(self, mm: float) -> float:
        return self.x0 + mm * self.scale

    def y(self, mm: float) -> float:
        return self.y0 + mm * self.scale

    def box(self, box: Box) -> Box:
        return Box(self.x(box.x0), self.y(box.y0), self.x(box.x1), self.y(box.y1))


def _from(edge: float, start: float, end: float) -> list[float]:
    """The distance from the edge as well, where there is one."""
    return [edge, start, end] if start - edge > SLACK_MM else [start, end]


def _inside(area: Box, name: str) -> Iterator[Words]:
    """The name of an area where it fits."""
    room = area.width - 2
    if words_width(name, SMALL_TYPE_MM) <= room and area.height > SMALL_TYPE_MM * 1.5:
        middle = (area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2 + SMALL_TYPE_MM / 3
        yield Words(name, middle, size_mm=SMALL_TYPE_MM)
