"""Where the numbered markers of findings stand on a picture, in pixels: at their places, on no other marker, within the picture.

* Places of one finding that lie close together share a marker; a finding gets at most `MOST_MARKERS`, the largest places first.
* On a large place the marker sits on its corner or edge; beside a small one it stands off, not to hide it, with a line to it.
* Every finding gets its first marker before any gets a second. Where no room is left at all, a marker is left out.

No drawing and no PDF: geometry alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from service.pdf.facts.geometry import Box
from service.sheets.model import Level

MOST_MARKERS = 6
"""Of one finding on one picture. Ours, no source."""

MOST_HIDDEN = 0.06
"""Of a place by a marker, where there is a better spot. Ours, no source."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Found:
    """A finding's places on the picture, px."""

    number: int
    level: Level
    boxes: tuple[Box, ...]


@dataclass(frozen=True)
class Marker:
    number: int
    level: Level
    at: Point
    """Its middle."""
    leads_to: Point | None
    """The end of its line at the place; None where it stands on the place."""


def markers_for(found: Sequence[Found], size_px: tuple[int, int], reach: float) -> tuple[Marker, ...]:
    """`reach` is how far a marker reaches from its middle, whatever its shape."""
    picture = Box(0, 0, *size_px)
    groups = [(one, places_together(one.boxes, picture, reach)) for one in found]
    boxes = [box for one in found for box in one.boxes]
    placed: list[Marker] = []
    for turn in range(MOST_MARKERS):
        for one, places in groups:
            if turn < len(places):
                at = _free_place(places[turn], picture, reach, [other.at for other in placed], boxes)
                if at is not None:
                    placed.append(Marker(one.number, one.level, at, _line_end(at, places[turn], reach)))
    return tuple(placed)


def places_together(boxes: Sequence[Box], picture: Box, reach: float) -> list[Box]:
    """The largest place of each group that lies within a marker's width of one another; the largest group first."""
    groups: list[tuple[Box, list[Box]]] = []
    for box in boxes:
        around = box.intersection(picture)
        if around is None:
            continue
        members = [around]
        near = [group for group in groups if group[0].grown(2 * reach).intersection(around)]
        groups = [group for group in groups if group not in near]
        for other, others in near:
            around, members = around.union(other), members + others
        groups.append((around, members))
    groups.sort(key=lambda group: (-group[0].area, group[0].y0, group[0].x0))
    return [min(members, key=lambda box: (-box.area, box.y0, box.x0)) for _, members in groups]


def _is_thin(box: Box, reach: float) -> bool:
    """A marker on its corner would hide what it is about, such as a word of a line."""
    return min(box.width, box.height) < 3 * reach


def _free_place(place: Box, picture: Box, reach: float, taken: Sequence[Point], boxes: Sequence[Box]) -> Point | None:
    """The first that hides little: no other marker ever, small places only where there is nothing else."""
    room = picture.grown(-reach)
    for candidates, bearable in (
        (_within(room, _at_hand(place, picture, reach)), 0.25),
        (_around(place, reach), 0.4),
        (_everywhere(place, picture, reach), 2.0),
    ):
        best: tuple[float, Point] | None = None
        for x, y in candidates:
            if not (room.x0 <= x <= room.x1 and room.y0 <= y <= room.y1):
                continue
            if any(abs(x - other_x) < 2 * reach and abs(y - other_y) < 2 * reach for other_x, other_y in taken):
                continue
            here = Box(x - reach, y - reach, x + reach, y + reach)
            hidden = max((cut.area + 1) / (box.area + 1) if (cut := box.intersection(here)) else 0.0 for box in boxes)
            if hidden < MOST_HIDDEN:
                return x, y
            if best is None or hidden < best[0]:
                best = hidden, (x, y)
        if best and best[0] <= bearable:
            return best[1]
    return None


def _within(room: Box, points: Iterator[Point]) -> Iterator[Point]:
    """At the edge of the picture there is no beside: then rather on a place's end than far away from it."""
    for x, y in points:
        yield min(max(x, room.x0), max(room.x0, room.x1)), min(max(y, room.y0), max(room.y0, room.y1))


def _at_hand(place: Box, picture: Box, reach: float) -> Iterator[Point]:
    """On the corners and edges of a large place, close beside a thin one."""
    x0, y0, x1, y1 = place
    if not _is_thin(place, reach):
        room = picture.grown(-reach)
        inner = place.grown(0.6 * reach).intersection(room) or place
        x0, y0, x1, y1 = inner
        yield from ((x0, y0), (x1, y0), (x0, y1), (x1, y1))
        for step in (2.0, 4.0, 6.0, 8.0):
            along = step * 1.05 * reach
            yield from ((x0 + along, y0), (x0, y0 + along), (x1 - along, y0), (x1, y0 + along))
        yield from (((x0 + x1) / 2, y0), (x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2), ((x0 + x1) / 2, y1))
        return
    off = 1.6 * reach
    yield from ((x0 - off, y0 - off), (x0 - off, (y0 + y1) / 2), (x0, y0 - off), (x1 + off, y0 - off))
    yield from ((x1 + off, (y0 + y1) / 2), (x1, y0 - off), (x0, y1 + off), (x0 - off, y1 + off), (x1 + off, y1 + off))


def _around(place: Box, reach: float) -> Iterator[Point]:
    """In rings, up and left first: a number is read before what it numbers."""
    x0, y0, x1, y1 = place
    for away in (1.8, 3.0, 4.5, 6.5, 9.0):
        for turn in (5, 7, 4, 0, 6, 2, 3, 1):
            angle = turn * pi / 4
            out_x, out_y = (x1 - x0) / 2 + away * reach, (y1 - y0) / 2 + away * reach
            yield (x0 + x1) / 2 + cos(angle) * out_x, (y0 + y1) / 2 + sin(angle) * out_y


def _everywhere(place: Box, picture: Box, reach: float) -> list[Point]:
    """A grid of some thousand spots at most, the nearest first."""
    step = max(reach, (picture.area / 4000) ** 0.5)
    x, y = (place.x0 + place.x1) / 2, (place.y0 + place.y1) / 2
    spots = [
        (picture.x0 + reach + column * step, picture.y0 + reach + row * step)
        for row in range(1 + int((picture.height - 2 * reach) / step))
        for column in range(1 + int((picture.width - 2 * reach) / step))
    ]
    return sorted(spots, key=lambda at: hypot(at[0] - x, at[1] - y))


def _line_end(at: Point, place: Box, reach: float) -> Point | None:
    x, y = min(max(at[0], place.x0), place.x1), min(max(at[1], place.y0), place.y1)
    return None if hypot(x - at[0], y - at[1]) <= reach else (x, y)
