"""Lines, areas and printer's marks among a page's vector objects."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from itertools import pairwise
from math import hypot, sqrt

from service.pdf.content.graphics_state import Paint
from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.facts.painted.colors import ObjectKind
from service.pdf.facts.painted.content import MOST_PLACES
from service.pdf.facts.painted.vectors import CROWD_MM, Artwork, Frame, LineUse, MarkLine
from service.pdf.facts.unknown import Unmeasured, unmeasured
from service.pdf.gather.effects import is_registration, leaves_ink_below
from service.pdf.gather.tally import Tally
from service.pdf.walk.runs_of_areas import THIN_MM, THIN_SHARE
from service.pdf.walk.walker import FilledPath, Mark, StrokedPath

_HAIR_MM = 0.01
"""A level line has no height of its own to be seen by."""
MOST_OBJECTS = 10_000
MOST_MARK_LINES = 2_000
MOST_ALIKE = 4_096
_OF_TWO_RECTANGLES = (16, 18, 20)
"""Numbers: four corners each, or the first one again."""
_FRAMES_FROM = 0.7
"""Of the width and the height of the trimmed page. Ours, no source."""
_SHORTEST_MM, _LONGEST_MM, _MARK_WIDTH_PT, _STRAIGHT_MM = 1.0, 30.0, 1.5, 0.05
"""Marks are short and thin: 5 mm and 0.25 pt are usual. Common practice, no source."""

Square = tuple[int, int, ObjectKind]
"""Column and row of a square of `CROWD_MM`, and what kind of object stands there."""
LineKey = tuple[float, str, tuple[str, ...], float, bool, bool, bool, bool]


class Lines:
    """Strokes and thin areas by width and paint."""

    def __init__(self) -> None:
        self.tallies: dict[LineKey, Tally] = {}
        self._alike: dict[tuple[object, ...], tuple[Paint, Tally]] = {}
        """By width, paint (the very object, which the entry keeps) and circumstances: most lines are one of a few."""

    def add(self, mark: Mark, visible: Box, inks: tuple[str, ...], below: int, beyond_trim: bool) -> None:
        detail = mark.detail
        alike: tuple[object, ...] = ()
        if isinstance(detail, StrokedPath):
            alike = (detail.width_pt, id(mark.paint), inks, below, mark.overprint, mark.overprint_mode, beyond_trim)
            if alike in self._alike:
                self._alike[alike][1].add(visible)
                return
        if isinstance(detail, StrokedPath):
            width_pt, drawn = round(detail.width_pt, 3), "stroke"
        else:
            width_pt, drawn = round((thin_area_mm(mark) or 0.0) / MM_PER_POINT, 3), "thin fill"
        paint = mark.paint
        overprints = leaves_ink_below(mark, below)
        key = (width_pt, drawn, inks, round(paint.tint, 2), paint.white, below > 0, overprints, beyond_trim)
        tally = self.tallies.get(key)
        if tally is None:
            tally = self.tallies[key] = Tally()
        tally.add(visible)
        if alike and len(self._alike) < MOST_ALIKE:
            self._alike[alike] = paint, tally

    def found(self) -> tuple[LineUse, ...]:
        return tuple(
            LineUse(width, drawn, inks, tint, white, on_ink, over, tally.count, tuple(tally.boxes), beyond)  # type: ignore[arg-type]
            for (width, drawn, inks, tint, white, on_ink, over, beyond), tally in self.tallies.items()
        )


def looks_like_a_line(mark: Mark) -> bool:
    """Strokes, and filled areas as thin as one."""
    if isinstance(mark.detail, StrokedPath):
        return not is_edge_of_its_area(mark)
    return thin_area_mm(mark) is not None


def points_on_the_line(mark: Mark) -> list[tuple[float, float]]:
    """Of a stroke, and of a frame that is filled; none of what is no line."""
    path = mark.detail
    return path.on_the_line() if isinstance(path, StrokedPath) or (isinstance(path, FilledPath) and is_thin_frame(mark)) else []


def is_thin_frame(mark: Mark) -> bool:
    """An area around a rectangle, as thin as a line: what it encloses stays as it was."""
    path = mark.detail
    return isinstance(path, FilledPath) and len(path.points) in _OF_TWO_RECTANGLES and thin_area_mm(mark) is not None


def thin_area_mm(mark: Mark) -> float | None:
    """How wide a filled area is that looks like a line, or like the line of a frame; None where it does not."""
    path = mark.detail
    if not isinstance(path, FilledPath):
        return None
    if len(path.starts) == 2 and len(path.points) in _OF_TWO_RECTANGLES and mark.visible is not None:
        return _thin_frame_mm(path, mark.visible)
    return _thin_bar_mm(path, mark.box)


def _thin_bar_mm(path: FilledPath, box: Box) -> float | None:
    short, long = sorted((box.width, box.height))
    return short if len(path.points) <= 10 and 0 < short <= THIN_MM and long >= short * THIN_SHARE else None


def _thin_frame_mm(path: FilledPath, visible: Box) -> float | None:
    """The thinnest of the sides that show of what lies between two rectangles: so some programs draw the frames of boxes."""
    pieces = [path.points[: path.starts[1]], path.points[path.starts[1] :]]
    if not all(_is_level_rectangle(one, path) for one in pieces):
        return None
    turns = [_twice_the_area(one) for one in pieces]
    outer, inner = sorted(path.pieces(), key=lambda one: -one.area)
    if not outer.contains(inner) or not (path.even_odd or turns[0] * turns[1] < 0) or min(inner.width, inner.height) <= THIN_MM:
        return None  # nothing is left out of the outer one, or hardly anything
    sides = [
        (inner.y0 - outer.y0, Box(inner.x0, outer.y0, inner.x1, inner.y0)),
        (outer.y1 - inner.y1, Box(inner.x0, inner.y1, inner.x1, outer.y1)),
        (inner.x0 - outer.x0, Box(outer.x0, inner.y0, inner.x0, inner.y1)),
        (outer.x1 - inner.x1, Box(inner.x1, inner.y0, outer.x1, inner.y1)),
    ]
    shown = [wide for wide, side in sides if wide > 0 and (seen := side.intersection(visible)) and seen.area > 0]
    return min((wide for wide in shown if wide <= THIN_MM), default=None)


def _is_level_rectangle(points: list[float], path: FilledPath) -> bool:
    if len(points) not in (8, 10) or points[8:] not in ([], points[:2]):
        return False
    corners = [path.ctm.point(x, y) for x, y in zip(points[:8:2], points[1:8:2], strict=True)]
    around = Box.around(tuple(corners))
    level = all(min(abs(x1 - x0), abs(y1 - y0)) <= _HAIR_MM for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]]))
    return level and around.area > 0


def _twice_the_area(points: list[float]) -> float:
    """Of straight lines through the points; its sign says which way round they go."""
    xs, ys = points[::2], points[1::2]
    pairs = zip(xs, ys, [*xs[1:], xs[0]], [*ys[1:], ys[0]], strict=True)
    return sum(x0 * y1 - x1 * y0 for x0, y0, x1, y1 in pairs)


def is_edge_of_its_area(mark: Mark) -> bool:
    """An outline that only makes its own area larger: no line to the eye, unless the area is itself as thin as one."""
    path = mark.detail
    if not isinstance(path, StrokedPath) or not path.around_own_area or path.width_pt * MM_PER_POINT > THIN_MM:
        return False
    ends = [*path.starts[1:], len(path.points)]
    return all(_is_wide(path.points[start:end], path) for start, end in zip(path.starts, ends, strict=True))


def _is_wide(points: list[float], path: StrokedPath) -> bool:
    """Twice its area by the way around it: of a long bar its width."""
    corners = list(zip(points[::2], points[1::2], strict=True))
    around = sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]])) if corners else 0.0
    scale = sqrt(abs(path.ctm.determinant))
    return around > 0 and abs(_twice_the_area(points)) / around * scale > THIN_MM / 2


class Crowd:
    """Small objects of one kind in one square, with their outermost edges."""

    __slots__ = ("box", "count", "inks")

    def __init__(self, box: Sequence[float], inks: tuple[str, ...], count: int) -> None:
        """`box`: x0, y0, x1, y1."""
        self.box, self.inks, self.count = box, inks, count

    def grow(self, box: Sequence[float], inks: tuple[str, ...], count: int) -> None:
        (x0, y0, x1, y1), (left, top, right, bottom) = box, self.box
        self.box = min(x0, left), min(y0, top), max(x1, right), max(y1, bottom)
        self.inks = with_inks(self.inks, inks)
        self.count += count


def with_inks(inks: tuple[str, ...], others: tuple[str, ...]) -> tuple[str, ...]:
    """Those that are new behind; no other tuple where none is."""
    new = tuple(one for one in dict.fromkeys(others) if one not in inks)
    return inks + new if inks and new else inks or new


class Areas:
    """Every vector object that leaves ink; crowds of small ones are summed up by squares."""

    def __init__(self) -> None:
        self.single: list[Artwork] = []
        self.crowds: dict[Square, Crowd] = {}
        self.too_many = False

    def add(self, mark: Mark, visible: Box) -> None:
        x0, y0, x1, y1 = visible
        if x1 - x0 < CROWD_MM and y1 - y0 < CROWD_MM:
            square = int((x0 + x1) / 2 // CROWD_MM), int((y0 + y1) / 2 // CROWD_MM), mark.kind
            self.add_crowd(square, visible, with_inks((), mark.paint.inks), 1)
        elif len(self.single) < MOST_OBJECTS:
            self.single.append(Artwork(mark.kind, visible, mark.paint.inks, 1))
        else:
            self.too_many = True

    def add_crowd(self, square: Square, box: Sequence[float], inks: tuple[str, ...], count: int) -> None:
        """Small objects in one square; `inks`: each once."""
        known = self.crowds.get(square)
        if known is None:
            self.crowds[square] = Crowd(box, inks, count)
        else:
            known.grow(box, inks, count)

    def found(self) -> tuple[Artwork, ...] | Unmeasured:
        if self.too_many:
            return unmeasured(
                "The page draws more than {count} large vector objects: they are not listed one by one.", count=MOST_OBJECTS
            )
        crowds = [
            Artwork(kind, Box(*one.box), one.inks, one.count) for (_, _, kind), one in self.crowds.items()
        ]
        return (*self.single, *crowds)


def mark_lines(mark: Mark) -> list[MarkLine]:
    """The short thin level or upright lines of a stroked path, or of an area as thin."""
    detail = mark.detail
    if isinstance(detail, StrokedPath):
        if detail.width_pt > _MARK_WIDTH_PT:
            return []
        candidates, width_pt = detail.straight_lines(), detail.width_pt
    elif isinstance(detail, FilledPath) and _thin_bar_mm(detail, mark.box) is not None:
        box = mark.box
        middle_x, middle_y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        level = box.width > box.height
        candidates = [Box(box.x0, middle_y, box.x1, middle_y) if level else Box(middle_x, box.y0, middle_x, box.y1)]
        width_pt = min(box.width, box.height) / MM_PER_POINT
    else:
        return []
    registration = is_registration(mark)
    return [MarkLine(line, width_pt, mark.paint.inks, registration) for line in candidates if _is_mark(line)]


def _is_mark(line: Box) -> bool:
    short, long = sorted((line.width, line.height))
    return short <= _STRAIGHT_MM and _SHORTEST_MM <= long <= _LONGEST_MM


class AroundThePage:
    """Lines that stand around the page: printer's marks beyond the trim, and frames."""

    def __init__(self, trim: Box, interior: Box) -> None:
        self.trim, self.interior = trim, interior
        self.marks: list[MarkLine] = []
        self.frames: list[Frame] = []

    def add(self, mark: Mark) -> None:
        """A stroke, or an area as thin as a line."""
        if len(self.frames) < MOST_PLACES and (frame := frame_around(mark, self.trim)):
            self.frames.append(frame)
        if len(self.marks) < MOST_MARK_LINES and not inside(mark.box, self.interior):
            self.marks += [line for line in mark_lines(mark) if outside(line.box_mm, self.interior)]
            del self.marks[MOST_MARK_LINES:]


def frame_around(mark: Mark, trim: Box) -> Frame | None:
    """The stroke as a frame, where it is one rectangle around most of the page, and shows on it."""
    detail = mark.detail
    if not isinstance(detail, StrokedPath) or len(detail.starts) > 1 or len(detail.points) not in (8, 10):
        return None
    line = detail.outline
    if line.width < _FRAMES_FROM * trim.width or line.height < _FRAMES_FROM * trim.height:
        return None
    corners = [detail.ctm.point(x, y) for x, y in zip(detail.points[::2], detail.points[1::2], strict=True)]
    level = all(min(abs(x1 - x0), abs(y1 - y0)) <= _STRAIGHT_MM for (x0, y0), (x1, y1) in pairwise(corners))
    width_mm = detail.width_pt * MM_PER_POINT
    inner = line.grown(-width_mm / 2)
    hides = inner.x0 <= trim.x0 and inner.y0 <= trim.y0 and inner.x1 >= trim.x1 and inner.y1 >= trim.y1
    return Frame(line.grown(width_mm / 2), width_mm, mark.paint.inks) if level and not hides else None


def where_it_paints(path: StrokedPath | FilledPath, visible: Box, interior: Box, bleed: Box) -> Box:
    """The bounds of a path of several pieces may enclose a page that they leave free, as crop marks do: those of its pieces
    on the trimmed page (`interior`), else the first one beyond it, in the bleed if there is one.
    """
    pieces = [seen for one in path.pieces() if (seen := one.grown(_HAIR_MM).intersection(visible)) is not None]
    on_page = [one for one in pieces if not outside(one, interior)]
    if on_page:
        return reduce(Box.union, on_page)
    return next((one for one in pieces if not outside(one, bleed)), pieces[0] if pieces else visible)


def inside(box: Box, interior: Box) -> bool:
    return interior[0] < box[0] and interior[1] < box[1] and box[2] < interior[2] and box[3] < interior[3]


def outside(line: Box, interior: Box) -> bool:
    return line.x1 <= interior.x0 or line.x0 >= interior.x1 or line.y1 <= interior.y0 or line.y0 >= interior.y1
