"""What a glyph covers: the points of its outline, and the box around them.

Curves are followed by points on them, eight for each: an arc of a quarter circle is then known to half a percent of its radius,
and where it turns (fonts put a point there) exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any

from fontTools.pens.basePen import BasePen

from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.unknown import Unmeasured

Point = tuple[float, float]

NOT_KNOWN = Unmeasured("The outlines of a font cannot be read from the file.")

MOST_POINTS = 100_000
"""No glyph of a real font has as many."""
_STEPS = tuple((step / 8, 1 - step / 8) for step in range(1, 9))


class Outline:
    """In ems: text space at size 1, from the glyph's origin."""

    __slots__ = ("__dict__", "_draw", "box")

    def __init__(self, box: Box, draw: Callable[[], Iterable[Point]]) -> None:
        self.box = box
        self._draw = draw

    @classmethod
    def of_points(cls, points: list[Point]) -> Outline | None:
        """None for a glyph without any: it leaves no ink."""
        return cls(Box.around(points), lambda: points) if points else None

    @cached_property
    def hull(self) -> tuple[Point, ...]:
        """The outermost points, in order round it: enough to tell its bounds however it is turned."""
        points = sorted(set(self._draw()))
        return (*_half(points), *_half(points[::-1])) if len(points) > 2 else tuple(points)

    def moved(self, x: float, y: float) -> Outline:
        box = self.box
        moved = Box(box.x0 + x, box.y0 + y, box.x1 + x, box.y1 + y)
        return Outline(moved, lambda: [(px + x, py + y) for px, py in self.hull])


def _half(points: list[Point]) -> list[Point]:
    """One side of the convex hull of sorted points, without its last one (Andrew's monotone chain)."""
    chain: list[Point] = []
    for x, y in points:
        while len(chain) > 1:
            (ax, ay), (bx, by) = chain[-2:]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain[:-1]


class PointsPen(BasePen):  # type: ignore[misc]
    """Gathers points on the outline, through a matrix. A subpath that is only begun leaves no ink."""

    def __init__(self, matrix: Matrix, glyphs: Any = None) -> None:
        super().__init__(glyphs)
        self.points: list[Point] = []
        self._matrix = matrix

    def _moveTo(self, pt: Point) -> None:  # noqa: N802
        """Told with what follows."""

    def _lineTo(self, pt: Point) -> None:  # noqa: N802
        self._add(self._getCurrentPoint(), pt)

    def _curveToOne(self, pt1: Point, pt2: Point, pt3: Point) -> None:  # noqa: N802
        start = self._getCurrentPoint()
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = start, pt1, pt2, pt3
        on_it = [
            (
                s * s * s * x0 + 3 * s * s * t * x1 + 3 * s * t * t * x2 + t * t * t * x3,
                s * s * s * y0 + 3 * s * s * t * y1 + 3 * s * t * t * y2 + t * t * t * y3,
            )
            for t, s in _STEPS
        ]
        self._add(start, *on_it)

    def _add(self, *points: Point) -> None:
        if len(self.points) > MOST_POINTS:
            raise ValueError("no real glyph has so many points")
        self.points += [self._matrix.point(x, y) for x, y in points]
