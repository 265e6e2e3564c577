"""The rectangle that crop marks point at, and a first look for it on pages that do not say where they are trimmed.

* At each corner of the trim stand a level and an upright short line, outside the page and in line with its edges; all eight
  start at about the same distance from their corner and leave it free. Common practice, no source; ISO 32000-2:2020, 14.11.3
  speaks of printer's marks and not of their shape.
* Where bleed marks stand too, several rectangles fit one in the other: the innermost is the trim.
* Where rectangles stand side by side, pages were made up on one sheet: none of them is the trim.

It does not know marks that touch the corner, marks of another shape, or a trim that only some of the corners show.
"""

from __future__ import annotations

import logging
import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import pikepdf

from service.pdf.content.resources import Resources, Shared
from service.pdf.content.work_limits import TooMuchWork
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.vectors import MarkLine
from service.pdf.gather.vectors import MOST_MARK_LINES, mark_lines
from service.pdf.pages.page_boxes import DeclaredPage, ruler
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import page_streams
from service.pdf.walk.objects import walk_annotations
from service.pdf.walk.runs import RUNS_OF_LINES
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Mark, StrokedPath, Walk

log = logging.getLogger(__name__)

LINED_UP_MM = 0.2
"""Marks of one edge differ by less; a mark is some 0.1 mm thick. Ours, no source."""

NEAREST_MM, FARTHEST_MM = 0.5, 25.0
"""How far from its corner a mark may start: 2 to 10 mm are usual. What touches the corner is a table's rule. Ours, no source."""

SAME_OFFSET_MM = 5.0
"""By how much the distances of the eight marks from their corners may differ. Ours, no source."""

SMALLEST_MM = 10.0
"""Nothing smaller is trimmed."""

MOST_STEPS = 200_000
"""A page whose short lines fit together in more ways shows no crop marks that could be told."""

THICKEST_MM = 1.0
"""A line whose bounds are wider both ways is no level or upright mark. Ours, no source."""

MOST_OPERATORS_OF_A_LOOK = 500_000
"""Some three seconds on a slow machine; on a page that draws more, marks are not looked for."""

_TEXT_SHOWING = (b"Tj", b"TJ", b"'", b'"')
_HANDLERS_OF_A_LOOK = {
    **{operator: handler for operator, handler in HANDLERS.items() if operator not in _TEXT_SHOWING},
    **RUNS_OF_LINES,
}
"""Text is no mark, and costs the most."""


@dataclass(frozen=True)
class _Corner:
    x: float
    y: float
    nearest: float
    farthest: float
    """The distances of its two marks."""


_MAY_DRAW = re.compile(rb"[SsFfBbD](?<![^\x00\s\d.)\]>}][SsFfBbD])(?:(?<=D)o|(?<!D)\*?)(?=[\x00\s(\[<{/%]|\Z)")
"""What paints a path, or content that may: where nothing of it stands, not even in a string, there are no marks.

Its letter is looked for first and what stands before it then: megabytes of numbers are passed over many times as quickly.
"""


class _TooManyWays(Exception):
    pass


def marked_box(lines: Sequence[MarkLine]) -> Box | None:
    """The trim that the marks point at, in the lines' own coordinates (mm); None where they show none, or several."""
    try:
        found = list(_rectangles([line.box_mm for line in lines]))
    except _TooManyWays:
        return None
    if not found:
        return None
    inner = min(found, key=lambda box: box.area)
    return inner if all(box.contains(inner, slack=LINED_UP_MM) for box in found) else None


def crop_marks_of(page: pikepdf.Dictionary, declared: DeclaredPage, shared: Shared) -> Box | None:
    """A first look at a page without TrimBox and ArtBox: the marked rectangle in user space, or None.

    The ruler starts from the trim, and the trim from the marks; so this walk, which listens to short lines only, comes first
    and measures from the sheet. A page that cannot be followed to its end shows no marks here, and its content says why.
    """
    to_mm = ruler(declared.media_pt, declared.rotation, declared.user_unit)
    lines: list[MarkLine] = []

    def listen(mark: Mark) -> None:
        if mark.visible is None or not mark.prints or mark.paint.white or len(lines) >= MOST_MARK_LINES or _is_slanted(mark):
            return
        lines.extend(mark_lines(mark))

    try:
        streams = page_streams(page)
    except READING_ERRORS:
        return None
    if "/Annots" not in page and not any(_MAY_DRAW.search(data) for data in streams):
        return None
    walk = Walk(_HANDLERS_OF_A_LOOK, to_mm, to_mm.box(declared.media_pt), shared, [listen])
    walk.operators_left = MOST_OPERATORS_OF_A_LOOK
    try:
        resources = Resources(inherited(page, "/Resources"), shared)
        for data in streams:
            walk.run(data, resources)
        walk.resources = resources
        walk_annotations(walk, page)
    except (TooMuchWork, *READING_ERRORS):
        log.info("a page could not be looked through for crop marks", exc_info=True)
        return None
    found, back = marked_box(lines), to_mm.inverse()
    return back.box(found) if found and back else None


def _is_slanted(mark: Mark) -> bool:
    """Told at a glance: most lines of a drawing are, and none of them is a mark."""
    one_line = isinstance(mark.detail, StrokedPath) and len(mark.detail.points) == 4
    return one_line and min(mark.box.width, mark.box.height) > THICKEST_MM


# --- Putting the corners together -------------------------------------------------------------------------------------


def _rectangles(lines: list[Box]) -> Iterator[Box]:
    """Every rectangle with all eight marks. Raises `_TooManyWays`."""
    levels, uprights = _edges(lines, level=True), _edges(lines, level=False)
    steps = [MOST_STEPS]
    corners = {
        (left, top): {(one.x, one.y): one for one in _corners(levels, uprights, left, top, steps)}
        for left in (True, False)
        for top in (True, False)
    }
    to_the_right: dict[float, list[_Corner]] = {}
    for corner in corners[False, True].values():
        to_the_right.setdefault(corner.y, []).append(corner)
    below: dict[float, list[_Corner]] = {}
    for corner in corners[True, False].values():
        below.setdefault(corner.x, []).append(corner)
    for first in corners[True, True].values():
        for right in to_the_right.get(first.y, ()):
            for under in below.get(first.x, ()):
                _count(steps, 1)
                last = corners[False, False].get((right.x, under.y))
                if last and right.x - first.x >= SMALLEST_MM and under.y - first.y >= SMALLEST_MM:
                    four = (first, right, under, last)
                    if max(one.farthest for one in four) - min(one.nearest for one in four) <= SAME_OFFSET_MM:
                        yield Box(first.x, first.y, last.x, last.y)


def _edges(lines: list[Box], level: bool) -> dict[float, list[tuple[float, float]]]:
    """Position of an edge → where the lines along it start and end, of those that at least two lines are in line with."""
    found = sorted(
        ((box.y0 + box.y1) / 2, box.x0, box.x1) if level else ((box.x0 + box.x1) / 2, box.y0, box.y1)
        for box in lines
        if (box.width > box.height) == level
    )
    edges: dict[float, list[tuple[float, float]]] = {}
    group: list[tuple[float, float, float]] = []
    for line in (*found, None):
        if group and (line is None or line[0] - group[0][0] > LINED_UP_MM):
            if len(group) > 1:
                edges[sum(at for at, _, _ in group) / len(group)] = [(start, end) for _, start, end in group]
            group = []
        if line is not None:
            group.append(line)
    return edges


def _corners(
    levels: dict[float, list[tuple[float, float]]],
    uprights: dict[float, list[tuple[float, float]]],
    left: bool,
    top: bool,
    steps: list[int],
) -> Iterator[_Corner]:
    """Where a level line and an upright one both stop short of the same point, outside it."""
    xs = sorted(uprights)
    for y, spans in levels.items():
        for start, end in spans:
            near, far = (end + NEAREST_MM, end + FARTHEST_MM) if left else (start - FARTHEST_MM, start - NEAREST_MM)
            for x in xs[bisect_left(xs, near) : bisect_left(xs, far)]:
                _count(steps, len(uprights[x]))
                across = x - end if left else start - x
                downs = [y - stop if top else begin - y for begin, stop in uprights[x]]
                for down in (one for one in downs if NEAREST_MM <= one <= FARTHEST_MM):
                    if abs(across - down) <= SAME_OFFSET_MM:
                        yield _Corner(x, y, min(across, down), max(across, down))
                        break


def _count(steps: list[int], taken: int) -> None:
    steps[0] -= taken
    if steps[0] < 0:
        raise _TooManyWays
