"""Boxes, the sides of a page, and matrices: the only geometry that measuring and judging need.

A `Box` of a measurement is in millimetres from the top-left corner of the trimmed page, y downwards, after Rotate
(the ruler coordinates of the answers). Inside `pdf/` the same class also carries user-space boxes; such names end in `_pt`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot
from typing import Generic, Literal, NamedTuple, TypeVar

MM_PER_INCH = 25.4
POINTS_PER_INCH = 72
MM_PER_POINT = MM_PER_INCH / POINTS_PER_INCH
"""A default user-space unit is 1/72 inch (ISO 32000-2:2020, 8.3.2.3)."""

SLACK_MM = 0.05
"""Lengths that differ by less are the same length: 8.5 pt is a 3 mm bleed. Common practice, no source."""


class Box(NamedTuple):
    """A rectangle with x0 <= x1 and y0 <= y1."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def around(cls, points: Iterable[tuple[float, float]]) -> Box:
        """The smallest box around the points, of which there must be at least one."""
        xs, ys = zip(*points, strict=True)
        return cls(min(xs), min(ys), max(xs), max(ys))

    @classmethod
    def of_corners(cls, x0: float, y0: float, x1: float, y1: float) -> Box:
        """Any two diagonal corners make the box (ISO 32000-2:2020, 7.9.5)."""
        return cls(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))

    @property
    def width(self) -> float:
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        return self.y1 - self.y0

    @property
    def area(self) -> float:
        return self.width * self.height

    def intersection(self, other: Box) -> Box | None:
        """What both cover, a line or a point included; None where they are apart."""
        x0, y0 = max(self.x0, other.x0), max(self.y0, other.y0)
        x1, y1 = min(self.x1, other.x1), min(self.y1, other.y1)
        return Box(x0, y0, x1, y1) if x0 <= x1 and y0 <= y1 else None

    def union(self, other: Box) -> Box:
        return Box(min(self.x0, other.x0), min(self.y0, other.y0), max(self.x1, other.x1), max(self.y1, other.y1))

    def grown(self, by: float) -> Box:
        """The box with every side moved outwards by `by` (inwards where it is negative)."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def contains(self, other: Box, slack: float = SLACK_MM) -> bool:
        return (
            self.x0 - slack <= other.x0
            and self.y0 - slack <= other.y0
            and other.x1 <= self.x1 + slack
            and other.y1 <= self.y1 + slack
        )


class Matrix(NamedTuple):
    """x' = a·x + c·y + e and y' = b·x + d·y + f (ISO 32000-2:2020, 8.3.3)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def then(self, later: Matrix) -> Matrix:
        """The matrix that does this one first and `later` after it."""
        a, b, c, d, e, f = self
        p, q, r, s, t, u = later
        return Matrix(a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)

    def point(self, x: float, y: float) -> tuple[float, float]:
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def box(self, box: Box) -> Box:
        """The box around the transformed box."""
        x0, y0, x1, y1 = box
        a, b, c, d, e, f = self
        if b == 0 == c:
            x0, x1 = (a * x0 + e, a * x1 + e) if a >= 0 else (a * x1 + e, a * x0 + e)
            return Box(x0, d * y0 + f, x1, d * y1 + f) if d >= 0 else Box(x0, d * y1 + f, x1, d * y0 + f)
        return Box.around((self.point(x0, y0), self.point(x1, y0), self.point(x0, y1), self.point(x1, y1)))

    def box_of_unit_square(self) -> Box:
        return self.box(Box(0, 0, 1, 1))

    @property
    def x_scale(self) -> float:
        """How long a unit along x becomes."""
        return hypot(self.a, self.b)

    @property
    def y_scale(self) -> float:
        """How long a unit along y becomes."""
        return hypot(self.c, self.d)

    @property
    def determinant(self) -> float:
        return self.a * self.d - self.b * self.c

    def inverse(self) -> Matrix | None:
        """None where the matrix flattens the plane and has no inverse."""
        det = self.determinant
        if det == 0:
            return None
        a, b, c, d, e, f = self
        return Matrix(d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det)


IDENTITY = Matrix()


Side = Literal["top", "right", "bottom", "left"]

T = TypeVar("T")


@dataclass(frozen=True)
class Sides(Generic[T]):
    """One value for each side of the page as displayed."""

    top: T
    right: T
    bottom: T
    left: T

    def items(self) -> Iterator[tuple[str, T]]:
        yield from (("top", self.top), ("right", self.right), ("bottom", self.bottom), ("left", self.left))
