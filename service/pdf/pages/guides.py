"""Lines and shapes that a page draws on layers or in spot inks that have a name, whether they print or not.

* A layer goes by its name, and by the processing step that it says that it is (ISO 19593-1: the group's GTS_Metadata with
  GTS_ProcStepsType, from memory). Of layers in layers the innermost counts.
* Paths alone are looked at: text, pictures and shadings are no guides.
* What is neither on a layer nor in one spot ink alone has no name and is left out.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from typing import Literal

import pikepdf

from service.pdf.content.layers import layer_name
from service.pdf.content.resources import Resources, Shared
from service.pdf.content.work_limits import TooMuchWork
from service.pdf.facts.geometry import SLACK_MM, Box, Matrix
from service.pdf.facts.guides import GuideShape
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.pdf.pages.page_boxes import DeclaredPage
from service.pdf.reading.operands import Operands
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import page_streams
from service.pdf.walk.objects import OBJECTS
from service.pdf.walk.paths import PATHS
from service.pdf.walk.state import STATE
from service.pdf.walk.walker import FilledPath, Hidden, Listener, Mark, StrokedPath, Walk

log = logging.getLogger(__name__)

MOST_SHAPES = 2_000
MOST_OPERATORS_OF_A_LOOK = 500_000
"""As for crop marks: some three seconds on a slow machine."""
_NO_NAME = frozenset((*PROCESS_INKS, "All", "None"))
_LOOKED_THROUGH = BeyondLimits("The page draws more than can be looked through for guides.")
_DAMAGED = Unmeasured("The page is damaged and its content cannot be followed to the end.")


class _GuideWalk(Walk):
    """Says of every mark which layer it is on, and whether its line is dashed (ISO 32000-2:2020, 8.4.3.6)."""

    def __init__(self, to_mm: Matrix, sheet: Box, shared: Shared, listen: Listener) -> None:
        super().__init__({**STATE, **PATHS, **OBJECTS, b"q": _save, b"Q": _restore, b"d": _dash}, to_mm, sheet, shared, [listen])
        self.dashed = False
        self.saved_dashes: list[bool] = []

    def hide_by(self, content: object, inherited: Hidden) -> Hidden:
        if not isinstance(content, pikepdf.Dictionary):
            return inherited
        prints, shows, _ = super().hide_by(content, inherited)
        step = content.get("/GTS_Metadata")
        kind = step.get("/GTS_ProcStepsType") if isinstance(step, pikepdf.Dictionary) else None
        said = [layer_name(content), *([str(kind)[1:60]] if isinstance(kind, pikepdf.Name) else [])]
        return Hidden(prints, shows, ", ".join(said))

    def run(self, data: bytes, resources: Resources) -> None:
        before = self.dashed, self.saved_dashes
        self.saved_dashes = []
        super().run(data, resources)
        self.dashed, self.saved_dashes = before


def _save(walk: Walk, operands: Operands) -> None:
    assert isinstance(walk, _GuideWalk)
    STATE[b"q"](walk, operands)
    walk.saved_dashes.append(walk.dashed)


def _restore(walk: Walk, operands: Operands) -> None:
    assert isinstance(walk, _GuideWalk)
    STATE[b"Q"](walk, operands)
    if walk.saved_dashes:
        walk.dashed = walk.saved_dashes.pop()


def _dash(walk: Walk, operands: Operands) -> None:
    """An empty array is a solid line."""
    assert isinstance(walk, _GuideWalk)
    walk.dashed = isinstance(operands, list) and any(isinstance(one, list) and one for one in operands)


def guide_shapes(
    page: pikepdf.Dictionary, declared: DeclaredPage, to_mm: Matrix, shared: Shared
) -> tuple[GuideShape, ...] | Unmeasured:
    """`to_mm`: default user space (pt) to ruler mm."""
    shapes: list[GuideShape] = []

    def listen(mark: Mark) -> None:
        if mark.visible is not None and len(shapes) < MOST_SHAPES:
            shapes.extend(_shapes(mark, walk.dashed))

    walk = _GuideWalk(to_mm, to_mm.box(declared.media_pt), shared, listen)
    walk.operators_left = MOST_OPERATORS_OF_A_LOOK
    try:
        resources = Resources(inherited(page, "/Resources"), shared)
        for data in page_streams(page):
            walk.run(data, resources)
    except TooMuchWork:
        return _LOOKED_THROUGH
    except READING_ERRORS:
        log.info("a page could not be looked through for guides", exc_info=True)
        return _DAMAGED
    return tuple(dict.fromkeys(shapes))


def _shapes(mark: Mark, dashed: bool) -> Iterator[GuideShape]:
    inks = mark.paint.inks
    ink = inks[0] if len(inks) == 1 and inks[0] not in _NO_NAME else None
    if (not mark.layer and ink is None) or not isinstance(mark.detail, StrokedPath | FilledPath):
        return
    is_dashed = dashed and isinstance(mark.detail, StrokedPath)
    for points in _subpaths(mark.detail):
        box = Box.around(points)
        yield GuideShape(mark.layer or None, ink, mark.prints, _kind(points, box), is_dashed, box)


def _subpaths(path: StrokedPath | FilledPath) -> Iterator[list[tuple[float, float]]]:
    ends = [*path.starts[1:], len(path.points)]
    for start, end in zip(path.starts, ends, strict=True):
        numbers = path.points[start:end]
        points = [path.ctm.point(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=False)]
        if len(points) > 1:
            yield points


def _kind(points: list[tuple[float, float]], box: Box) -> Literal["line", "rectangle", "other"]:
    if min(box.width, box.height) <= SLACK_MM < max(box.width, box.height):
        return "line"
    at_corners = all(
        min(abs(x - box.x0), abs(x - box.x1)) <= SLACK_MM and min(abs(y - box.y0), abs(y - box.y1)) <= SLACK_MM for x, y in points
    )
    corners = {(abs(x - box.x0) <= SLACK_MM, abs(y - box.y0) <= SLACK_MM) for x, y in points}
    return "rectangle" if at_corners and len(corners) == 4 and len(points) <= 5 else "other"
