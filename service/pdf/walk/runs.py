"""Whole runs of path operators followed at once, as `path_runs` cuts them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.reading.lexer import RUN, located_operations
from service.pdf.reading.operands import Operands
from service.pdf.walk.path_runs import (
    COLOR_SIDES,
    COLORS,
    EVEN_ODD_CODES,
    FILLS,
    LEAST_BYTES,
    LINE_WIDTH,
    PAINTS,
    STROKES,
    PathRun,
    Reals,
    path_run,
    pieces_of,
)
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
    run = _cut(walk, piece, again=lines_only) if len(piece) >= LEAST_BYTES else None
    if run is not None:
        walk.count(run.operators)
        _follow(walk, run, lines_only)
        return
    for operator, each, _, _ in located_operations(piece):
        walk.count(1)
        if operator in walk.handlers:
            walk.handlers[operator](walk, each)


def _cut(walk: Walk, piece: bytes, again: bool) -> PathRun | None:
    """`again`: a second walk of the same page takes up what is cut now."""
    kept = walk.shared.path_runs
    found = kept.taken((piece,))
    if found is None:
        found = path_run(piece)
    assert found is None or isinstance(found, PathRun)
    if again and found is not None:
        kept.keep((piece,), found)
    return found


def _follow(walk: Walk, run: PathRun, lines_only: bool) -> None:
    state, ctm = walk.state, walk.state.ctm
    edges = run.boxes(ctm)
    together = None if lines_only else _Together.of(walk, run, edges)
    latest = _Latest(walk, run)
    alone = _told_alone(walk, run, together.paths if together else None, _may_be_lines(*edges) if lines_only else None)
    paths, codes = run.operands[alone].tolist(), run.steps[alone].tolist()
    boxes = np.stack(edges)[:, paths].T.tolist()
    for at, which, code, edge in zip(alone.tolist(), paths, codes, boxes, strict=True):
        fill, stroke = PAINTS[code]
        points, starts = run.path(which)
        if together:
            together.tell(which)
        box = Box(*edge)
        if fill and state.fill_alpha > 0:
            latest.set_color(at, stroke=False)
            paint_area(walk, "fill", box, state.fill, FilledPath(points, starts, ctm, code in EVEN_ODD_CODES))
        if stroke and state.stroke_alpha > 0:
            latest.set_color(at, stroke=True)
            latest.set_width(at)
            thinnest, widest = state.stroke_scales()
            width_pt, alike = state.line_width * thinnest / MM_PER_POINT, fill and state.strokes_as_it_fills
            stroked = StrokedPath(width_pt, box, points, starts, ctm, alike)
            paint_area(walk, "stroke", box.grown(state.line_width * widest / 2), state.stroke, stroked, stroked=True)
    if together:
        together.tell(len(run.ends))
    latest.set_color(len(run.steps), stroke=False)
    latest.set_color(len(run.steps), stroke=True)
    latest.set_width(len(run.steps))
    walk.points, walk.starts = run.path(len(run.ends) - 1)


def _told_alone(walk: Walk, run: PathRun, together: Indices | None, thin: npt.NDArray[np.bool_] | None) -> Indices:
    """Steps that paint and are told one by one. `together`: paths that are told otherwise; `thin`: the only areas that count."""
    state = walk.state
    fills, strokes = FILLS[run.steps] & (state.fill_alpha > 0), STROKES[run.steps] & (state.stroke_alpha > 0)
    if thin is not None and state.fill.pattern is None:  # what tiles paint may be lines
        fills = fills & thin[np.where(fills, run.operands, 0)]
    found = np.flatnonzero(fills | strokes)
    paths = run.operands[found]
    counts = run.has_points(paths)
    if together is not None:
        taken = np.zeros(len(run.ends), np.bool_)
        taken[together] = True
        counts &= ~taken[paths]
    return found[counts]


class _Latest:
    """Colours and line widths of a run, each looked up when something is painted with it."""

    def __init__(self, walk: Walk, run: PathRun) -> None:
        self._walk, self._run = walk, run
        self._steps = {stroke: np.flatnonzero(COLOR_SIDES[run.steps] == side) for stroke, side in ((False, 1), (True, 2))}
        self._widths = np.flatnonzero(run.steps == LINE_WIDTH)
        self._set: dict[bool, int] = {}

    def set_color(self, before: int, stroke: bool) -> None:
        """The one that is in force at this step."""
        run, steps = self._run, self._steps[stroke]
        place = int(np.searchsorted(steps, before)) - 1
        if place < 0 or self._set.get(stroke) == place:
            return
        self._set[stroke] = place
        step = steps[place]
        device, first = COLORS[int(run.steps[step])], int(run.operands[step])
        set_device_color(self._walk, device, tuple(run.values[first : first + device.space.components].tolist()))

    def set_width(self, before: int) -> None:
        place = int(np.searchsorted(self._widths, before)) - 1
        if place >= 0:
            self._walk.state.line_width = abs(float(self._run.values[self._run.operands[self._widths[place]]]))


class _Together:
    """The areas of a run that are told at once, up to the next mark that is told by itself."""

    def __init__(self, areas: SmallAreas, paths: Indices, tell: Callable[[SmallAreas], None]) -> None:
        self.paths = paths
        self._areas, self._tell = areas, tell
        self._told = 0

    @staticmethod
    def of(walk: Walk, run: PathRun, edges: tuple[Reals, Reals, Reals, Reals]) -> _Together | None:
        if walk.at_once is None:
            return None
        within, tell = walk.at_once
        found = small_areas(walk, run, edges, within)
        return _Together(*found, tell) if found else None

    def tell(self, before: int) -> None:
        """Those before this path."""
        until = int(np.searchsorted(self.paths, before))
        if until > self._told:
            self._tell(self._areas.part(slice(self._told, until)))
            self._told = until


def _may_be_lines(x0: Reals, y0: Reals, x1: Reals, y1: Reals) -> npt.NDArray[np.bool_]:
    return np.minimum(x1 - x0, y1 - y0) < THIN_MM


RUNS: dict[bytes, Handler] = {RUN: _follow_run(lines_only=False)}
RUNS_OF_LINES: dict[bytes, Handler] = {RUN: _follow_run(lines_only=True)}
"""The same for whoever looks for lines alone."""
