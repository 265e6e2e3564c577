"""Which filled areas of a run are told all at once (`SmallAreas`).

Taken are those that need no look of their own: coloured in a device space, wholly visible on the trimmed page, no thin line,
painted in a state where nothing shows through. All others are told one by one, in their places between them.
"""

from __future__ import annotations

import numpy as np

from service.pdf.content.graphics_state import Paint, paint_of
from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.vectors import CROWD_MM
from service.pdf.walk.path_runs import COLOR_SIDES, COLORS, FILLS, STROKES, Codes, PathRun
from service.pdf.walk.small_areas import Indices, Reals, SmallAreas
from service.pdf.walk.walker import SEEN, Walk

THIN_MM, THIN_SHARE = 1 * MM_PER_POINT, 5
"""A filled area thinner than a point and this many times as long is a line to the eye. Our own choice."""
SOLID_MM2, _MOST_CORNERS, _MOST_TRIED = 0.1, 5, 20
"""A single outline of so few straight lines around so much is seen, whatever its shape; among so many areas it is looked for.
Ours, no source."""
_NO_INK = 1e-4
"""As `ColorSpace.inks`."""

Edges = tuple[Reals, Reals, Reals, Reals]


def small_areas(walk: Walk, run: PathRun, boxes: Edges, within: Box) -> tuple[SmallAreas, Indices] | None:
    """Those of the run, and which path each is; None where there are none. `within`: what lies wholly inside."""
    state = walk.state
    hidden = walk.marked_hidden[-1] if walk.marked_hidden else SEEN
    if walk.colors_fixed or walk.inside_mask or walk.inside_glyph or not hidden.is_seen or state.clip is None:
        return None
    if state.blends(state.fill_alpha) or state.fill_overprint:
        return None
    found = _colored_fills(run)
    if found is None:
        return None
    paths, starts, codes = found
    x0, y0, x1, y1 = (edge[paths] for edge in boxes)
    clip = state.clip
    width, height = x1 - x0, y1 - y0
    short, long = np.minimum(width, height), np.maximum(width, height)
    fits = (long < CROWD_MM) & ~((short <= THIN_MM) & (long >= short * THIN_SHARE))
    fits &= (within.x0 < x0) & (within.y0 < y0) & (x1 < within.x1) & (y1 < within.y1)
    fits &= (clip.x0 <= x0) & (clip.y0 <= y0) & (x1 <= clip.x1) & (y1 <= clip.y1)
    colors, kinds, which = _colors(walk, run, starts, codes)
    chosen = np.flatnonzero(fits & (which >= 0))
    if not len(chosen):
        return None
    all_boxes = np.stack((x0, y0, x1, y1), axis=1)
    paths = paths[chosen]
    solid = np.zeros(len(paths), np.bool_)
    solid[:_MOST_TRIED] = [_is_solid(run, one, abs(state.ctm.determinant)) for one in paths[:_MOST_TRIED].tolist()]
    return SmallAreas(all_boxes[chosen], colors[chosen], kinds, which[chosen], solid), paths


def _is_solid(run: PathRun, path: int, scale: float) -> bool:
    points, starts = run.path(path)
    if run.curved[path] or len(starts) != 1 or len(points) > 2 * _MOST_CORNERS:
        return False
    xs, ys = points[::2], points[1::2]
    around = sum(x0 * y1 - x1 * y0 for x0, y0, x1, y1 in zip(xs, ys, [*xs[1:], xs[0]], [*ys[1:], ys[0]], strict=True))
    return abs(around) / 2 * scale >= SOLID_MM2


def _colored_fills(run: PathRun) -> tuple[Indices, Indices, Codes] | None:
    """Paths that are filled alone, in a colour that the run itself sets: which, where its operands start, its operator."""
    steps, operands = run.steps, run.operands
    fills = FILLS[steps] & ~STROKES[steps]
    sets = np.where(COLOR_SIDES[steps] == 1, np.arange(len(steps)), -1)
    latest = np.maximum.accumulate(sets) if len(sets) else sets
    at = np.flatnonzero(fills & (latest >= 0))
    if not len(at):
        return None
    at = at[run.has_points(operands[at])]
    paths = operands[at]
    return paths, operands[latest[at]], steps[latest[at]]


def _colors(walk: Walk, run: PathRun, starts: Indices, codes: Codes) -> tuple[Reals, tuple[Paint, ...], Indices]:
    """Of each area its colour and kind; -1 for those to be looked at by themselves: white, black alone, out of range."""
    colors = np.zeros((len(starts), 4))
    which = np.full(len(starts), -1, np.intp)
    kinds: list[Paint] = []
    for code in dict.fromkeys(codes.tolist()):
        device = COLORS[code]
        space = walk.resources.named_space(device.name)
        if space.family != "rgb" and space.colorants != PROCESS_INKS:
            continue
        here = np.flatnonzero(codes == code)
        values = run.values[starts[here, np.newaxis] + np.arange(space.components)]
        colors[here, : space.components] = values
        in_range = ((values >= 0) & (values <= 1)).all(axis=1)
        if space.family == "rgb":
            mask = np.where(values.min(axis=1) < 1 - _NO_INK, 1, 0)
        else:
            mask = ((values > _NO_INK) * (1, 2, 4, 8)).sum(axis=1)
            mask = np.where(mask == 8, 0, mask)
        mask = np.where(in_range, mask, 0)
        for one in np.unique(mask[mask > 0]):
            alike = here[mask == one]
            which[alike] = len(kinds)
            kinds.append(paint_of(space, tuple(colors[alike[0], : space.components].tolist())))
    return colors, tuple(kinds), which
