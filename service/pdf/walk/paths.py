"""Path construction, painting and clipping (ISO 32000-2:2020, 8.5)."""

from __future__ import annotations

from service.pdf.content.painting import EVEN_ODD, PATH_PAINTING
from service.pdf.facts.geometry import MM_PER_POINT, Box, Matrix
from service.pdf.reading.lexer import SEGMENTS, numbers
from service.pdf.reading.operands import Operands, floats
from service.pdf.walk.patterns import paint_area
from service.pdf.walk.walker import FilledPath, Handler, StrokedPath, Walk


def _points(walk: Walk, operands: Operands) -> None:
    """l, c, v, y: the coordinates count, whatever the curve."""
    values = numbers(operands) if isinstance(operands, bytes) else floats(operands, 0) or []
    walk.points += values[: len(values) // 2 * 2]


def _move(walk: Walk, operands: Operands) -> None:
    walk.starts.append(len(walk.points))
    _points(walk, operands)


def _segments(walk: Walk, operands: Operands) -> None:
    assert isinstance(operands, bytes)
    values = numbers(operands.translate(None, b"lcvyh"))
    walk.points += values[: len(values) // 2 * 2]


def _rectangle(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 4)
    if values:
        x, y, width, height = values
        walk.starts.append(len(walk.points))
        walk.points += (x, y, x + width, y, x + width, y + height, x, y + height)


def _clip(walk: Walk, _operands: Operands) -> None:
    walk.clip_pending = True


def _bounds(points: list[float], ctm: Matrix) -> Box:
    a, b, c, d, e, f = ctm
    xs, ys = points[::2], points[1::2]
    if b == 0 == c:
        return Box.of_corners(a * min(xs) + e, d * min(ys) + f, a * max(xs) + e, d * max(ys) + f)
    across = [a * x + c * y + e for x, y in zip(xs, ys, strict=True)]
    down = [b * x + d * y + f for x, y in zip(xs, ys, strict=True)]
    return Box(min(across), min(down), max(across), max(down))


def _paint(fill: bool, stroke: bool, even_odd: bool = False) -> Handler:
    def paint(walk: Walk, _operands: Operands) -> None:
        state, points = walk.state, walk.points
        if points:
            box = _bounds(points, state.ctm)
            if fill and state.fill_alpha > 0:
                paint_area(walk, "fill", box, state.fill, FilledPath(points, walk.starts, state.ctm, even_odd))
            if stroke and state.stroke_alpha > 0:
                thinnest, widest = state.stroke_scales()
                width_pt, alike = state.line_width * thinnest / MM_PER_POINT, fill and state.strokes_as_it_fills
                stroked = StrokedPath(width_pt, box, points, walk.starts, state.ctm, alike)
                paint_area(walk, "stroke", box.grown(state.line_width * widest / 2), state.stroke, stroked, stroked=True)
            if walk.clip_pending:
                state.clip_to(box)
            walk.points, walk.starts = [], []
        elif walk.clip_pending:
            state.clip = None
        walk.clip_pending = False

    return paint


PATHS: dict[bytes, Handler] = {
    b"m": _move, b"l": _points, b"c": _points, b"v": _points, b"y": _points, SEGMENTS: _segments, b"re": _rectangle,
    b"W": _clip, b"W*": _clip, b"n": _paint(False, False),
    **{operator: _paint(*painting, operator in EVEN_ODD) for operator, painting in PATH_PAINTING.items()},
}
