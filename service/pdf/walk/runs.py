"""Whole runs of path operators followed at once, as `path_runs` cuts them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.reading.lexer import RUN, located_operations
from service.pdf.reading.operands import Operands
from service.pdf.walk.path_runs import COLORS, LEAST_BYTES, PAINTS, PathRun, Reals, path_run, pieces_of
from service.pdf.walk.patterns import paint_area
from service.pdf.walk.runs_of_areas import small_areas
from service.pdf.walk.small_areas import Indices, SmallAreas
from service.pdf.walk.state import set_device_color
from service.pdf.walk.walker import FilledPath, Handler, StrokedPath, Walk

THIN_MM = 0.5
"""A filled area that may count as a line is thinner."""


def _follow_run(lines_only: bool) -> Handler:
    """`lines_only`: filled areas that no eye takes for a line are not told."""

    def follow(walk: Walk, operands: Operands) -> None:
        assert isinstance(operands, bytes)
        walk.count(-1)  # the run was counted as one
        for piece in pieces_of(operands):
            _follow_piece(walk, piece, lines_only)

    return follow


def _follow_piece(walk: Walk, piece: bytes, lines_only: bool) -> None:
    run = path_run(piece) if len(piece) >= LEAST_BYTES else None
    if run is not None:
        walk.count(run.operators)
        _follow(walk, run, lines_only)
        return
    for operator, each, _, _ in located_operations(piece):
        walk.count(1)
        if operator in walk.handlers:
            walk.handlers[operator](walk, each)


def _follow(walk: Walk, run: PathRun, lines_only: bool) -> None:
    state, ctm = walk.state, walk.state.ctm
    edges = run.boxes(ctm)
    together = None if lines_only else _Together.of(walk, run, edges)
    thin = _may_be_lines(*edges) if lines_only else None
    x0, y0, x1, y1 = (one.tolist() for one in edges)
    colors: dict[bool, tuple[int, int]] = {}
    """What was set and not yet looked up: for filling and stroking, the operator's code and where its operands start."""
    for code, which in zip(run.steps, run.operands, strict=True):
        painting = PAINTS.get(code)
        if painting is None:
            if code in COLORS:
                colors[COLORS[code].stroke] = code, which
            else:
                state.line_width = abs(run.numbers[which])
            continue
        if together and together.takes(which):
            continue
        fill = painting[0] and state.fill_alpha > 0 and (thin is None or thin[which] or state.fill.pattern is not None)
        stroke = painting[1] and state.stroke_alpha > 0
        if not (fill or stroke):
            continue
        points, starts = _path(run, which)
        if not points:
            continue
        if together:
            together.tell()
        box = Box(x0[which], y0[which], x1[which], y1[which])
        if fill:
            _set_color(walk, run, colors, False)
            paint_area(walk, "fill", box, state.fill, FilledPath(points, starts, ctm))
        if stroke:
            _set_color(walk, run, colors, True)
            thinnest, widest = state.stroke_scales()
            stroked = StrokedPath(state.line_width * thinnest / MM_PER_POINT, box, points, starts, ctm)
            paint_area(walk, "stroke", box.grown(state.line_width * widest / 2), state.stroke, stroked, stroked=True)
    if together:
        together.tell()
    for of_strokes in tuple(colors):
        _set_color(walk, run, colors, of_strokes)
    walk.points, walk.starts = _path(run, len(run.ends) - 1)


class _Together:
    """The areas of a run that are told at once, up to the next mark that is told by itself."""

    def __init__(self, areas: SmallAreas, paths: Indices, tell: Callable[[SmallAreas], None]) -> None:
        self._areas, self._tell = areas, tell
        self._place = dict(zip(paths.tolist(), range(len(paths)), strict=True))
        self._waiting: list[int] = []

    @staticmethod
    def of(walk: Walk, run: PathRun, edges: tuple[Reals, Reals, Reals, Reals]) -> _Together | None:
        if walk.at_once is None:
            return None
        within, tell = walk.at_once
        found = small_areas(walk, run, edges, within)
        return _Together(*found, tell) if found else None

    def takes(self, path: int) -> bool:
        place = self._place.get(path)
        if place is None:
            return False
        self._waiting.append(place)
        return True

    def tell(self) -> None:
        if self._waiting:
            self._tell(self._areas.part(self._waiting))
            self._waiting = []


def _path(run: PathRun, which: int) -> tuple[list[float], list[int]]:
    """Points and starts, as the walk holds them of one path."""
    first, start_first = (run.ends[which - 1], run.start_ends[which - 1]) if which else (0, 0)
    return run.points[first : run.ends[which]], [one - first for one in run.starts[start_first : run.start_ends[which]]]


def _set_color(walk: Walk, run: PathRun, colors: dict[bool, tuple[int, int]], stroke: bool) -> None:
    pending = colors.pop(stroke, None)
    if pending is not None:
        device = COLORS[pending[0]]
        set_device_color(walk, device, tuple(run.numbers[pending[1] : pending[1] + device.space.components]))


def _may_be_lines(x0: Reals, y0: Reals, x1: Reals, y1: Reals) -> list[bool]:
    found: list[bool] = (np.minimum(x1 - x0, y1 - y0) < THIN_MM).tolist()
    return found


RUNS: dict[bytes, Handler] = {RUN: _follow_run(lines_only=False)}
RUNS_OF_LINES: dict[bytes, Handler] = {RUN: _follow_run(lines_only=True)}
"""The same for whoever looks for lines alone."""
