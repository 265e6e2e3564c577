"""Several pieces that a cutting line cuts out of one page, such as the labels of a sheet: each with an outline of its own.

* A piece is what a line encloses, if it is large enough. A line around the whole page is that of the page, and what it encloses
  besides counts; a line within a piece is a part of it.
* Ink that stands at the outline of a piece is followed outwards, as at that of a page (see `outline`); the shallowest counts.
* Text belongs to the piece that it stands on, if only in part. What stands on none is waste, and nothing is said of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import MOST_PLACES
from service.pdf.facts.plates import Outline
from service.pdf.plates.areas.frame import Frame
from service.pdf.plates.areas.outline import (
    ALIKE_MM,
    LINE_FROM,
    MOST_TEXTS,
    NEAR_MM,
    SAME_AS_TRIM_MM,
    Edge,
    edge_of,
    enclosed,
    least_inside,
    reach_of,
)
from service.pdf.plates.areas.regions import Mask, regions_apart
from service.pdf.plates.areas.total_ink import Total
from service.pdf.plates.separation import Coverage

SMALLEST_SIDE_MM = 5.0
"""What a line encloses is a piece from this width and height on: a sticker printer publishes 6 mm as the least that he cuts."""
MOST_PIECES = 200
"""The largest ones; further ones are not looked at."""
AROUND_MM = 1.5
"""How far inside the page's own edge a line is still that of the page. Ours, no source."""
ROOM_MM = 3.0
"""Left free around a piece, so that its slope is seen on all sides."""
_GRID = np.linspace(0.0, 1.0, 9)


@dataclass(frozen=True)
class _Piece:
    box: Box
    edge: Edge
    shape: Mask
    frame: Frame
    """Of the shape, which is a part of the plates with some room around it."""


def pieces_of(
    line: Coverage, total: Total, frame: Frame, trim: Box, may_be_white: Sequence[Box], texts: Sequence[Box]
) -> Outline | None:
    """All pieces told as one; None where the line cuts nothing out. `texts`: boxes around their ink."""
    pieces = list(_pieces(line, frame, trim))
    if not pieces:
        return None
    ends = [reach_of(one.edge, total, frame, may_be_white) for one in pieces]
    least = min((reach for reach, _ in ends if reach is not None), default=None)
    shallow = [boxes for reach, boxes in ends if reach is not None and least is not None and reach <= least + ALIKE_MM]
    stops = [box for boxes in shallow for box in boxes]
    inside = [_inside_mm(pieces, one) if at < MOST_TEXTS else NEAR_MM for at, one in enumerate(texts)]
    return Outline(least, tuple(stops[:MOST_PLACES]), tuple(inside))


def _pieces(line: Coverage, frame: Frame, trim: Box) -> Iterator[_Piece]:
    room = ceil(ROOM_MM / min(frame.width, frame.height))
    shape = _inside_the_page(line >= LINE_FROM, frame, trim)
    for region, own in regions_apart(shape, MOST_PIECES, round(SMALLEST_SIDE_MM**2 / 2 / frame.pixel_mm2)):
        box = frame.box(region, (slice(0, None), slice(0, None)))
        if min(box.width, box.height) < SMALLEST_SIDE_MM:
            continue
        cut = line[region.row0 : region.row1, region.column0 : region.column1] * own
        shown = np.pad(own, room)
        across, down = room * frame.width, room * frame.height
        area = Box(box.x0 - across, box.y0 - down, box.x1 + across, box.y1 + down)
        around = Frame(area, shown.shape)
        edge = edge_of(shown, np.pad(cut, room), around)
        if len(edge.points):
            yield _Piece(box, edge, shown, around)


def _inside_the_page(line: Mask, frame: Frame, trim: Box) -> Mask:
    """What the line encloses; without that around the page itself."""
    shape = enclosed(line)
    rows, columns = np.flatnonzero(shape.any(axis=1)), np.flatnonzero(shape.any(axis=0))
    if not len(rows):
        return shape
    x0, y0 = frame.area.x0 + columns[0] * frame.width, frame.area.y0 + rows[0] * frame.height
    x1, y1 = frame.area.x0 + (columns[-1] + 1) * frame.width, frame.area.y0 + (rows[-1] + 1) * frame.height
    off = max(abs(a - b) for a, b in zip((x0, y0, x1, y1), trim, strict=True))
    if off > SAME_AS_TRIM_MM + max(frame.width, frame.height):
        return shape
    outermost, _ = max(regions_apart(shape, 1), key=lambda one: one[0].pixels)
    if outermost.row1 - outermost.row0 < len(rows) or outermost.column1 - outermost.column0 < len(columns):
        return shape  # pieces in all corners, and no line around them
    return enclosed(line & _eroded(shape, ceil(AROUND_MM / min(frame.width, frame.height))))


def _eroded(shape: Mask, steps: int) -> Mask:
    for _ in range(steps):
        wide = np.pad(shape, 1)
        shape = wide[1:-1, 1:-1] & wide[:-2, 1:-1] & wide[2:, 1:-1] & wide[1:-1, :-2] & wide[1:-1, 2:]
    return shape


def _inside_mm(pieces: Sequence[_Piece], text: Box) -> float:
    """How far inside its piece the text stays at least, negative beyond; `NEAR_MM` for what is deeper or on no piece."""
    on = [(_share_on(one, text), one) for one in pieces if _meet(one.box, text)]
    share, piece = max(on, key=lambda one: one[0], default=(0, None))
    return least_inside(piece.edge, piece.shape, piece.frame, text) if piece is not None and share else NEAR_MM


def _share_on(piece: _Piece, text: Box) -> int:
    """How many points of a grid over the text lie on the piece."""
    columns = np.floor((text.x0 + _GRID * text.width - piece.frame.area.x0) / piece.frame.width).astype(np.int64)
    rows = np.floor((text.y0 + _GRID * text.height - piece.frame.area.y0) / piece.frame.height).astype(np.int64)
    rows = rows[(rows >= 0) & (rows < piece.shape.shape[0])]
    columns = columns[(columns >= 0) & (columns < piece.shape.shape[1])]
    return int(piece.shape[np.ix_(rows, columns)].sum())


def _meet(one: Box, other: Box) -> bool:
    return one.x0 < other.x1 and other.x0 < one.x1 and one.y0 < other.y1 and other.y0 < one.y1
