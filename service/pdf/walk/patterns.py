"""Areas painted with a colour, a shading or a tiling pattern (ISO 32000-2:2020, 8.7)."""

from __future__ import annotations

from math import floor
from typing import cast

import pikepdf

from service.pdf.content.graphics_state import BLACK, Paint
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.painted.colors import ObjectKind
from service.pdf.reading.arrays import box_of, matrix_of
from service.pdf.reading.streams import content_bytes
from service.pdf.walk.walker import Detail, Walk


def paint_area(walk: Walk, kind: ObjectKind, box: Box, paint: Paint, detail: Detail = None, stroked: bool = False) -> None:
    """Tell of a painted area, and of what the cells of its pattern paint there."""
    walk.emit("shading" if paint.shading and kind != "text" else kind, box, paint, detail, stroked)
    if isinstance(paint.pattern, pikepdf.Stream):
        _walk_cell(walk, paint.pattern, paint, box)


def _walk_cell(walk: Walk, pattern: pikepdf.Stream, paint: Paint, area: Box) -> None:
    """Walk one cell of a tiling pattern: the one nearest to the middle of what is painted; the others repeat it."""
    identity = pattern.objgen
    visible = walk.state.clip.intersection(area) if walk.state.clip else None
    cell = box_of(pattern.get("/BBox"))
    matrix = matrix_of(pattern.get("/Matrix")).then(walk.base)
    inverse = matrix.inverse()
    if visible is None or cell is None or inverse is None or identity in walk.running:
        return
    x, y = inverse.point((visible.x0 + visible.x1) / 2, (visible.y0 + visible.y1) / 2)
    across = _steps(x - (cell.x0 + cell.x1) / 2, pattern.get("/XStep"), cell.width)
    down = _steps(y - (cell.y0 + cell.y1) / 2, pattern.get("/YStep"), cell.height)
    outer, fixed = walk.state, walk.colors_fixed
    walk.state = outer.saved()
    walk.state.ctm = Matrix(1, 0, 0, 1, across, down).then(matrix)
    walk.state.clip_to(visible)
    plain = paint._replace(pattern=None) if paint.family else BLACK
    walk.state.fill = walk.state.stroke = plain
    walk.colors_fixed = fixed or pattern.get("/PaintType") == 2
    walk.running.append(identity)
    walk.run(content_bytes(pattern), walk.resources.inner(pattern.get("/Resources")))
    walk.running.pop()
    walk.state, walk.colors_fixed = outer, fixed


def _steps(distance: float, step: object, size: float) -> float:
    """How far to move the cell so that it lies about there, in whole steps."""
    length = abs(float(cast(float, step))) if step is not None and not isinstance(step, pikepdf.Object) else size
    return floor(distance / length + 0.5) * length if length > 0 else 0.0
