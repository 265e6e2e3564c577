"""The outline that a cutting line draws on its plate, and how ink and text of the page stand to it.

* What the line encloses is what cannot be reached from the edge of the plates without crossing it; its gaps must be closed.
* The outline runs along the middle of the line, to half a pixel (0.13 mm at 100 ppi).
* Ink that stands at the outline is followed outwards at a right angle to it, in steps of a tenth of a millimetre. As at a
  straight edge (see `reach`) only an end that runs along the outline is a stop, and pictures and gradients may be white.
* Of text a side of its ink's box counts by the point of it that lies furthest inside: some of its ink touches each side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import MOST_PLACES
from service.pdf.facts.plates import Outline
from service.pdf.plates.areas.frame import Frame
from service.pdf.plates.areas.reach import INK_FROM
from service.pdf.plates.areas.regions import Mask
from service.pdf.plates.areas.total_ink import Total
from service.pdf.plates.separation import Coverage

LINE_FROM = 20
"""Of 255: a line of 0.1 mm at 100 ppi leaves as much."""
SAME_AS_TRIM_MM = 1.0
"""An outline that ends no further from the trim on every side is that of the page. Ours, no source."""
RECTANGLE_FROM = 0.995
"""The share of its box from which on an outline is a rectangle: the trim says as much. Corners of 3 mm leave 0.2 % of a card."""
CORNER_MM, CORNER_FROM = 5.0, 0.785
"""But for a page so large that its corners are a small share of it: of a square of that side in each corner so much must be
there. π / 4: corners rounded by as much leave just that."""
DEEPEST_MM = 6.0
"""How far ink is followed. Ours, no source."""
NEAR_MM = 16.0
"""How far inside the outline text is told of. Ours, no source."""
STEP_MM, EVERY_MM, INSIDE_MM = 0.1, 0.5, 0.4
"""Outwards, along the outline, and how far inside it ink must stand to stand at it."""
ALIKE_MM = 0.3
"""Ends that go no deeper than the shallowest one and this are told with it."""
SHORTEST_STOP_MM = 2.0
FLAT_SLOPE = 0.1
"""As `reach` has it."""
MOST_TEXTS = 2_000
MOST_ROUNDS = 60
_SAMPLES = np.linspace(0.0, 1.0, 9)

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Edge:
    """Points along the outline, ruler mm, with the direction outwards at each."""

    points: Floats
    outwards: Floats


def outline_of(
    line: Coverage, total: Total, frame: Frame, trim: Box, may_be_white: Sequence[Box], texts: Sequence[Box]
) -> Outline | None:
    """None where the line encloses no page of another shape than the trim. `texts`: boxes around their ink."""
    shape = enclosed(line >= LINE_FROM)
    rows, columns = np.flatnonzero(shape.any(axis=1)), np.flatnonzero(shape.any(axis=0))
    if not len(rows):
        return None
    box = Box(
        frame.area.x0 + columns[0] * frame.width, frame.area.y0 + rows[0] * frame.height,
        frame.area.x0 + (columns[-1] + 1) * frame.width, frame.area.y0 + (rows[-1] + 1) * frame.height,
    )
    off = max(abs(a - b) for a, b in zip(box, trim, strict=True))
    drawn = shape[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    if off > SAME_AS_TRIM_MM + max(frame.width, frame.height) or _is_rectangle(drawn, frame):
        return None
    edge = edge_of(shape, line, frame)
    if not len(edge.points):
        return None
    reach_mm, stops = reach_of(edge, total, frame, may_be_white)
    return Outline(reach_mm, stops, tuple(_inside_mm(edge, shape, frame, texts)))


def _is_rectangle(drawn: Mask, frame: Frame) -> bool:
    """`drawn`: the shape within its own bounds."""
    down, across = max(round(CORNER_MM / frame.height), 1), max(round(CORNER_MM / frame.width), 1)
    ends = (slice(None, down), slice(-down, None)), (slice(None, across), slice(-across, None))
    corners = [float(drawn[row, column].mean()) for row in ends[0] for column in ends[1]]
    return float(drawn.mean()) >= RECTANGLE_FROM and min(corners) >= CORNER_FROM


# --- The shape --------------------------------------------------------------------------------------------------------


def enclosed(line: Mask) -> Mask:
    """The line and what cannot be reached from beyond the plates without crossing it."""
    open_ = np.ones((line.shape[0] + 2, line.shape[1] + 2), dtype=np.bool_)
    open_[1:-1, 1:-1] = ~line
    outside = np.zeros_like(open_)
    outside[0, 0] = True
    for _ in range(MOST_ROUNDS):
        before = int(outside.sum())
        outside = _spread(open_, outside)
        outside = _spread(open_.T, outside.T).T
        if int(outside.sum()) == before:
            break
    found: Mask = ~outside[1:-1, 1:-1]
    return found


def _spread(open_: Mask, outside: Mask) -> Mask:
    """Along each row as far as it is open."""
    blocked = ~open_
    blocked[:, 0] = True  # a row begins a stretch of its own; its first pixel is the frame, and open
    stretch = np.cumsum(blocked.ravel())
    reached = np.bincount(stretch, weights=(outside & open_).ravel(), minlength=int(stretch[-1]) + 1) > 0
    found: Mask = reached[stretch].reshape(open_.shape) & open_
    return found


def edge_of(shape: Mask, line: Coverage, frame: Frame) -> Edge:
    """Pixels of the shape that touch the outside, moved inwards to the middle of the line."""
    padded = np.pad(shape, 1)
    inner = padded[:-2, 1:-1] & padded[2:, 1:-1] & padded[1:-1, :-2] & padded[1:-1, 2:]
    rim = np.argwhere(shape & ~inner)
    soft = _blurred(shape.astype(np.float64), max(round(1.0 / frame.width), 2))
    down, across = (np.asarray(np.gradient(soft, axis=axis)) for axis in (0, 1))
    slope = np.stack([-across[rim[:, 0], rim[:, 1]], -down[rim[:, 0], rim[:, 1]]], axis=1)
    length = np.hypot(slope[:, 0], slope[:, 1])
    known = length > 1e-6
    rim, outwards = rim[known], slope[known] / length[known, None]
    across_mm, down_mm = frame.area.x0 + (rim[:, 1] + 0.5) * frame.width, frame.area.y0 + (rim[:, 0] + 0.5) * frame.height
    middles = np.stack([across_mm, down_mm], axis=1)
    thick = float((line >= LINE_FROM).sum()) * frame.pixel_mm2 / max(len(rim) * frame.width, 1e-6)
    inwards = max(thick - frame.width, 0.0) / 2
    every = max(round(EVERY_MM / frame.width / 2), 1)
    order = np.argsort(np.arctan2(middles[:, 1] - middles[:, 1].mean(), middles[:, 0] - middles[:, 0].mean()), kind="stable")
    chosen = order[::every]
    return Edge((middles - outwards * inwards)[chosen], outwards[chosen])


def _blurred(values: Floats, radius: int) -> Floats:
    """Mean over squares, twice, so that the slope of a stair is that of its line."""
    for _ in range(2):
        for axis in (0, 1):
            width = [(radius + 1, radius) if axis == one else (0, 0) for one in (0, 1)]
            sums = np.cumsum(np.pad(values, width, mode="edge"), axis=axis).swapaxes(0, axis)
            values = ((sums[2 * radius + 1 :] - sums[: -2 * radius - 1]) / (2 * radius + 1)).swapaxes(0, axis)
    return values


# --- Ink at the outline -----------------------------------------------------------------------------------------------


def reach_of(edge: Edge, total: Total, frame: Frame, may_be_white: Sequence[Box]) -> tuple[float | None, tuple[Box, ...]]:
    steps = np.arange(-INSIDE_MM, DEEPEST_MM + STEP_MM / 2, STEP_MM)
    places = edge.points[:, None, :] + edge.outwards[:, None, :] * steps[None, :, None]
    column = np.floor((places[..., 0] - frame.area.x0) / frame.width).astype(np.int64)
    row = np.floor((places[..., 1] - frame.area.y0) / frame.height).astype(np.int64)
    on_plate = (column >= 0) & (row >= 0) & (column < total.shape[1]) & (row < total.shape[0])
    ink = np.zeros(column.shape, dtype=np.bool_)
    ink[on_plate] = total[row[on_plate], column[on_plate]] >= INK_FROM
    for box in may_be_white:
        x, y = places[..., 0], places[..., 1]
        ink |= (x >= box.x0) & (x <= box.x1) & (y >= box.y0) & (y <= box.y1)
    ink |= ~on_plate  # how deep the bleed is as such, bleed.declared knows
    at_line = round(INSIDE_MM / STEP_MM)
    stands = ink[:, : at_line + 1].all(axis=1)
    ends = np.where(ink[:, at_line:].all(axis=1), len(steps) - at_line, np.argmin(ink[:, at_line:], axis=1))
    reach_mm = np.minimum(ends * STEP_MM, DEEPEST_MM)
    if not stands.any():
        return None, ()
    stops = _stretches(edge, stands & (reach_mm < DEEPEST_MM - STEP_MM), reach_mm)
    if not stops:
        return DEEPEST_MM, ()
    depths = [float(np.quantile(reach_mm[part], 0.1)) for part in stops]
    boxes = [Box.around(tuple((round(float(x), 2), round(float(y), 2)) for x, y in edge.points[part])) for part in stops]
    least = min(depths)
    shallow = [box for depth, box in zip(depths, boxes, strict=True) if depth <= least + ALIKE_MM]
    return round(least, 2), tuple(shallow[:MOST_PLACES])


def _stretches(edge: Edge, short: npt.NDArray[np.bool_], reach_mm: Floats) -> list[npt.NDArray[np.int64]]:
    """Parts of the outline along which the ink ends about parallel to it."""
    at = np.flatnonzero(short)
    if not len(at):
        return []
    away = np.hypot(*(edge.points[at[1:]] - edge.points[at[:-1]]).T)
    breaks = np.flatnonzero((np.diff(at) > 1) | (np.abs(np.diff(reach_mm[at])) > FLAT_SLOPE * away + 2 * STEP_MM)) + 1
    found = []
    for part in np.split(at, breaks):
        length = float(np.hypot(*(edge.points[part[1:]] - edge.points[part[:-1]]).T).sum())
        rise = float(np.ptp(reach_mm[part]))
        if length >= SHORTEST_STOP_MM and rise <= FLAT_SLOPE * length + 3 * STEP_MM:
            found.append(part)
    return found


# --- Text at the outline ----------------------------------------------------------------------------------------------


def _inside_mm(edge: Edge, shape: Mask, frame: Frame, texts: Sequence[Box]) -> list[float]:
    """How far inside the outline each text's ink stays at least; negative beyond it, `NEAR_MM` for all that is deeper."""
    return [least_inside(edge, shape, frame, one) if at < MOST_TEXTS else NEAR_MM for at, one in enumerate(texts)]


def least_inside(edge: Edge, shape: Mask, frame: Frame, box: Box) -> float:
    xs, ys = box.x0 + _SAMPLES * box.width, box.y0 + _SAMPLES * box.height
    sides = [np.stack([xs, np.full_like(xs, y)], axis=1) for y in (box.y0, box.y1)]
    sides += [np.stack([np.full_like(ys, x), ys], axis=1) for x in (box.x0, box.x1)]
    least = NEAR_MM
    for side in sides:
        depth = np.sqrt(((side[:, None, :] - edge.points[None, :, :]) ** 2).sum(axis=2).min(axis=1))
        column = np.floor((side[:, 0] - frame.area.x0) / frame.width).astype(np.int64)
        row = np.floor((side[:, 1] - frame.area.y0) / frame.height).astype(np.int64)
        on_plate = (column >= 0) & (row >= 0) & (column < shape.shape[1]) & (row < shape.shape[0])
        within = np.zeros(len(side), dtype=np.bool_)
        within[on_plate] = shape[row[on_plate], column[on_plate]]
        least = min(least, float(np.where(within, depth, -depth).max()))
    return round(least, 2)
