"""Drawn upon a picture: the page's boxes, the outlines of places, numbered markers. Every width grows with the picture's scale.

* Trim solid, bleed long dashes, quiet zone dots, folds dash and dot: dark with a white halo, so as to be seen on any artwork.
* must: solid outline, filled diamond; should: dashed outline, hollow circle. Shape, colour and number, never colour alone.
* Straight lines lie on whole pixels and stay sharp; what is round or slanted is drawn four times as large and made smaller.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil, floor, hypot
from typing import Literal

from PIL import Image, ImageDraw

from service.pdf.facts.geometry import Box
from service.proofs.picture.markers.lettering import font
from service.proofs.picture.markers.marker_places import Found, Marker, markers_for
from service.proofs.picture.page_brief import Frame, Line, LineStyle, Mark
from service.sheets.model import Level

Color = tuple[int, int, int]

INK: Color = (38, 35, 31)
MUTED: Color = (100, 93, 84)
PAPER: Color = (253, 251, 247)
WHITE: Color = (255, 255, 255)
LEVEL_COLORS: dict[Level, Color] = {"must": (168, 58, 8), "should": (11, 92, 143)}

MARKER_REACH = 11.0
"""Of a marker with its halo, px at scale 1."""
_DIAMOND, _CIRCLE = 9.5, 8.5
_FINER = 4
_LEAST_WEIGHT, _WEIGHT_FOR_PPI = 1.2, 0.0125
"""Where a whole page is shown small, its lines are thinner than its markers ask for, so that they hide no text."""
_SAME = 3
"""Places whose edges are no farther apart share an outline, that of the first finding: their markers tell them apart."""
_ALMOST_FULL = 1.6
"""Places of one finding that lie so close that their outlines would meet are outlined together where that adds little: times
their own areas. It is done for shapes of a small drawing and for lines of text, not for large pictures."""
_CLOSE, _SMALL_DRAWING, _LINE_OF_TEXT = 2.5, 110, 30

_DASHES: dict[LineStyle | Literal["dashed"], tuple[float, ...]] = {
    "trim": (),
    "bleed": (11, 5),
    "quiet": (1.6, 4.4),
    "fold": (9, 4, 1.6, 4),
    "dashed": (5, 3.5),
}
"""On and off, px at scale 1; nothing: unbroken."""


def mark_up(picture: Image.Image, frame: Frame, lines: Sequence[Line], marks: Sequence[Mark], scale: float) -> None:
    """Draw everything upon the picture."""
    weight = min(scale, max(_LEAST_WEIGHT, _WEIGHT_FOR_PPI * frame.ppi))
    pen = Pen(picture, scale, weight)
    for line in lines:
        pen.line(frame.px(line.box_mm), line.style)
    found = [Found(mark.number, mark.level, _simplified([frame.px(box) for box in mark.boxes_mm], weight)) for mark in marks]
    drawn: list[Box] = []
    for one in found:
        for box in one.boxes:
            if not any(_about_the_same(box, other, weight) for other in drawn):
                pen.outline(box, one.level)
                drawn.append(box)
    markers = markers_for(found, picture.size, MARKER_REACH * scale)
    for marker in markers:
        pen.leader(marker)
    for marker in markers:
        pen.marker(marker.at, marker.number, marker.level)


def _about_the_same(one: Box, other: Box, scale: float) -> bool:
    return all(abs(a - b) <= _SAME * scale for a, b in zip(one, other, strict=True))


def _simplified(boxes: Sequence[Box], scale: float) -> tuple[Box, ...]:
    """A drawing of many small shapes is one place to look at; the frame that four strips form stays four strips."""
    groups: list[tuple[Box, float]] = []
    for box in boxes:
        grown, area = box, box.grown(_CLOSE * scale).area
        again = True
        while again:
            again = False
            for other, other_area in groups:
                union = grown.union(other)
                fits = union.grown(_CLOSE * scale).area <= _ALMOST_FULL * (area + other_area)
                if fits and _is_one_to_look_at(grown, other, scale):
                    groups.remove((other, other_area))
                    grown, area, again = union, area + other_area, True
                    break
        groups.append((grown, area))
    return tuple(box for box, _ in groups)


def _is_one_to_look_at(one: Box, other: Box, scale: float) -> bool:
    if not one.grown(_CLOSE * scale).intersection(other.grown(_CLOSE * scale)):
        return False
    union = one.union(other)
    return max(union.width, union.height) <= _SMALL_DRAWING * scale or min(one.height, other.height) <= _LINE_OF_TEXT * scale


class Pen:
    """Draws on one picture; all measures in px, styles at the picture's scale."""

    def __init__(self, picture: Image.Image, scale: float, weight: float | None = None) -> None:
        """`weight` is the scale of straight lines."""
        self.picture, self.scale = picture, scale
        self.weight = scale if weight is None else weight
        self._draw = ImageDraw.Draw(picture)

    # --- Straight lines -----------------------------------------------------------------------------------------------

    def line(self, box: Box, style: LineStyle) -> None:
        """A box of the page, or a line where it has no width or no height."""
        sides = _edges(box) if min(box.width, box.height) > 0 else iter([box])
        self._strokes((self._within(one) for one in sides if self._meets(one)), self._px(1), INK, _DASHES[style])

    def outline(self, box: Box, level: Level) -> None:
        """Just outside a place, so as to hide nothing of it; never smaller than can be seen."""
        least = 3 * self.weight
        middle_x, middle_y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        across, down = max(box.width / 2 + 1.2 * self.weight, least), max(box.height / 2 + 1.2 * self.weight, least)
        edges = _edges(self._within(Box(middle_x - across, middle_y - down, middle_x + across, middle_y + down)))
        self._strokes(edges, self._px(1.75), LEVEL_COLORS[level], _DASHES["trim" if level == "must" else "dashed"])

    def _meets(self, line: Box) -> bool:
        """Whether it lies on the picture, or at most a hair beside it."""
        return Box(0, 0, *self.picture.size).grown(2 * self.scale).intersection(line) is not None

    def _within(self, box: Box) -> Box:
        """Lines that would lie beyond the picture, or halfway, are drawn at its edge."""
        margin = 2 * self.scale
        right, bottom = max(self.picture.width - margin, margin), max(self.picture.height - margin, margin)
        x0, x1 = (min(max(x, margin), right) for x in (box.x0, box.x1))
        y0, y1 = (min(max(y, margin), bottom) for y in (box.y0, box.y1))
        return Box(x0, y0, x1, y1)

    def _strokes(self, edges: Iterator[Box], width: int, color: Color, dashes: tuple[float, ...]) -> None:
        """All halos first, so that no halo lies on a line."""
        pieces = [_rectangle(piece, width) for edge in edges for piece in _pieces(edge, [one * self.weight for one in dashes])]
        halo = self._px(1)
        for x0, y0, x1, y1 in pieces:
            self._draw.rectangle((x0 - halo, y0 - halo, x1 + halo - 1, y1 + halo - 1), fill=WHITE)
        for x0, y0, x1, y1 in pieces:
            self._draw.rectangle((x0, y0, x1 - 1, y1 - 1), fill=color)

    def _px(self, at_scale_1: float) -> int:
        return max(1, round(at_scale_1 * self.weight))

    # --- Round and slanted --------------------------------------------------------------------------------------------

    def marker(self, at: tuple[float, float], number: int, level: Level) -> None:
        color = LEVEL_COLORS[level]
        if level == "must":
            self._soft(at, _diamond_shape((_DIAMOND + 1.5) * self.scale), WHITE)
            self._soft(at, _diamond_shape(_DIAMOND * self.scale), color)
        else:
            self._soft(at, _circle_shape((_CIRCLE + 1.5) * self.scale), WHITE)
            self._soft(at, _circle_shape(_CIRCLE * self.scale), color)
            self._soft(at, _circle_shape((_CIRCLE - 1.6) * self.scale), WHITE)
        text = str(number)
        face = font((9.5 if len(text) == 1 else 8.5 if len(text) == 2 else 6.5) * self.scale, bold=True)
        self._draw.text(at, text, fill=WHITE if level == "must" else color, font=face, anchor="mm")

    def leader(self, marker: Marker) -> None:
        if marker.leads_to is None:
            return
        (x0, y0), (x1, y1) = marker.at, marker.leads_to
        middle = (x0 + x1) / 2, (y0 + y1) / 2
        ends = (x0 - middle[0], y0 - middle[1]), (x1 - middle[0], y1 - middle[1])
        for width, color in ((3.6, WHITE), (1.6, LEVEL_COLORS[marker.level])):
            self._soft(middle, _line_shape(ends, width * self.scale), color)

    def _soft(self, at: tuple[float, float], shape: Shape, color: Color) -> None:
        """A shape about a point, its edge smooth."""
        reach, drawn = shape
        left, top = floor(at[0] - reach[0]) - 1, floor(at[1] - reach[1]) - 1
        width, height = ceil(2 * reach[0]) + 3, ceil(2 * reach[1]) + 3
        large = Image.new("L", (width * _FINER, height * _FINER), 0)
        drawn(ImageDraw.Draw(large), (at[0] - left) * _FINER, (at[1] - top) * _FINER)
        self.picture.paste(color, (left, top), large.reduce(_FINER))


Shape = tuple[tuple[float, float], Callable[[ImageDraw.ImageDraw, float, float], None]]
"""How far it reaches from its middle across and down, and what draws it about a point, `_FINER` times as large."""


def _diamond_shape(reach: float) -> Shape:
    def drawn(draw: ImageDraw.ImageDraw, x: float, y: float) -> None:
        r = reach * _FINER
        draw.polygon([(x - r, y), (x, y - r), (x + r, y), (x, y + r)], fill=255)

    return (reach, reach), drawn


def _circle_shape(reach: float) -> Shape:
    def drawn(draw: ImageDraw.ImageDraw, x: float, y: float) -> None:
        r = reach * _FINER
        draw.ellipse((x - r, y - r, x + r, y + r), fill=255)

    return (reach, reach), drawn


def _line_shape(ends: tuple[tuple[float, float], tuple[float, float]], width: float) -> Shape:
    def drawn(draw: ImageDraw.ImageDraw, x: float, y: float) -> None:
        points = [(x + end[0] * _FINER, y + end[1] * _FINER) for end in ends]
        draw.line(points, fill=255, width=round(width * _FINER))

    return (abs(ends[0][0]) + width, abs(ends[0][1]) + width), drawn


def _edges(box: Box) -> Iterator[Box]:
    """Top, right, bottom, left."""
    x0, y0, x1, y1 = box
    yield from (Box(x0, y0, x1, y0), Box(x1, y0, x1, y1), Box(x0, y1, x1, y1), Box(x0, y0, x0, y1))


def _pieces(edge: Box, dashes: Sequence[float]) -> Iterator[Box]:
    """The dashes of a level or upright line; the gaps are stretched so that it begins and ends with a dash."""
    length = hypot(edge.width, edge.height)
    if not dashes or length <= sum(dashes):
        yield edge
        return
    level = edge.height == 0
    every = sum(dashes)
    stretched = (length - dashes[0]) / max(1, round((length - dashes[0]) / every)) / every
    start = 0.0
    while start < length - 0.5:
        at = start
        for place, part in enumerate(dashes):
            part *= stretched
            if place % 2 == 0 and at < length - 0.5:
                end = min(at + part, length)
                yield (
                    Box(edge.x0 + at, edge.y0, edge.x0 + end, edge.y0)
                    if level
                    else Box(edge.x0, edge.y0 + at, edge.x0, edge.y0 + end)
                )
            at += part
        start = at


def _rectangle(line: Box, width: int) -> tuple[int, int, int, int]:
    """Whole pixels about a line, its ends included."""
    half = width / 2
    x0, y0 = round(line.x0 - half), round(line.y0 - half)
    return x0, y0, max(round(line.x1 - half) + width, x0 + width), max(round(line.y1 - half) + width, y0 + width)
