"""Gradient meshes as triangles (ISO 32000-2:2020, 8.7.4.5.5 to 8.7.4.5.8), so that any of them can be painted as a type 4.

* Types 4 and 5 are triangles already; shared edges are written out.
* Patches (types 6 and 7) become a grid of small triangles. A Coons patch is first made a tensor patch (8.7.4.5.8). Where a patch
  folds over itself, larger v paints over smaller, then larger u: the triangles stand in that order.
* Between corners colours are mixed as numbers of the mesh, then turned into colours. Triangles are split where mixing the
  finished colours would differ (`refined`), as it does behind a function.
* Each vertex, or each patch, starts on a whole byte. What at the end does not make a whole one is left out, as it paints nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

import numpy as np
import numpy.typing as npt
import pikepdf

from service.pdf.plates.colors.functions import Values, floats
from service.pdf.plates.unreadable import TooLarge, Unreadable
from service.pdf.reading.streams import content_bytes

Octets = npt.NDArray[np.uint8]
Colors = Callable[[Values], Values]
"""(n, numbers of the mesh) → (n, 3)."""

MOST_TRIANGLES = 500_000
MOST_NUMBERS = 2_000_000
"""For each corner of all triangles: more than four components mean fewer triangles."""
FINEST_GRID = 24
"""Squares along a side of a patch: the chords of a quarter circle of 100 mm then leave it by 0.05 mm."""
MOST_SPLITS = 6
_UNSEEN = 0.5 / 255
"""Half a step of an 8-bit channel."""
_COORDINATE_BITS = (1, 2, 4, 8, 12, 16, 24, 32)
_COMPONENT_BITS = (1, 2, 4, 8, 12, 16)


@dataclass(frozen=True)
class Triangles:
    """In painting order."""

    places: Values
    """(n, 3, 2): x and y of the corners, in the space of the shading."""
    values: Values
    """(n, 3, components): the numbers of the mesh at the corners, or the finished colours."""


def mesh_triangles(shading: pikepdf.Stream, kind: int, components: int) -> Triangles:
    """The triangles of a mesh; `components` is 1 where it has a function. Raises Unreadable where it cannot be read."""
    layout = _layout(shading, kind, components)
    data = content_bytes(shading)
    if kind in (6, 7):
        return _patches(data, layout, 12 if kind == 6 else 16)
    size = layout.octets(1, 1)
    count = len(data) // size
    if count > most_triangles(components) // 2:
        raise TooLarge("a gradient mesh has more than {count} vertices", count=most_triangles(components) // 2)
    octets = np.frombuffer(data, np.uint8, count * size).reshape(count, size)
    places, values = layout.vertices(octets, 1, 1)
    corners = _free_form(_field(octets, 0, layout.flag) % 4) if kind == 4 else _lattice(count, shading.get("/VerticesPerRow"))
    return Triangles(places[:, 0][corners], values[:, 0][corners])


def most_triangles(components: int) -> int:
    return min(MOST_TRIANGLES, MOST_NUMBERS // max(components, 1))


# --- Reading ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Layout:
    flag: int
    """Bits of the edge flag, 0 in a lattice; `coordinate` and `component` likewise."""
    coordinate: int
    component: int
    decode: Values
    """(2 + components, 2)."""

    @property
    def components(self) -> int:
        return len(self.decode) - 2

    def octets(self, points: int, colors: int) -> int:
        """Whole bytes of a vertex or patch of so many points and colours."""
        return (self.flag + 2 * points * self.coordinate + colors * self.components * self.component + 7) // 8

    def vertices(self, octets: Octets, points: int, colors: int) -> tuple[Values, Values]:
        """Rows of bytes, the flag before all points before all colours → (n, points, 2) and (n, colors, components)."""
        widths = [self.coordinate] * (2 * points) + [self.component] * (colors * self.components)
        kinds = [0, 1] * points + list(range(2, 2 + self.components)) * colors
        decoded = np.empty((len(octets), len(widths)))
        start = self.flag
        for at, (width, kind) in enumerate(zip(widths, kinds, strict=True)):
            low, high = self.decode[kind]
            decoded[:, at] = low + _field(octets, start, width) * ((high - low) / (2**width - 1))
            start += width
        return decoded[:, : 2 * points].reshape(-1, points, 2), decoded[:, 2 * points :].reshape(-1, colors, self.components)


def _layout(shading: pikepdf.Stream, kind: int, components: int) -> _Layout:
    flag = 0 if kind == 5 else int(shading.get("/BitsPerFlag", 0))
    coordinate, component = int(shading.get("/BitsPerCoordinate", 0)), int(shading.get("/BitsPerComponent", 0))
    if (kind != 5 and flag not in (2, 4, 8)) or coordinate not in _COORDINATE_BITS or component not in _COMPONENT_BITS:
        raise Unreadable("a gradient mesh has numbers of an unknown depth")
    decode = floats(shading.get("/Decode"))
    if len(decode) != 4 + 2 * components:
        raise Unreadable("a gradient mesh does not say how its numbers are meant")
    return _Layout(flag, coordinate, component, np.array(decode).reshape(-1, 2))


def _field(octets: Octets, start: int, width: int) -> npt.NDArray[np.int64]:
    """The unsigned number of so many bits (at most 32) that starts at this bit of each row."""
    end = start + width
    last = (end + 7) // 8
    result = np.zeros(len(octets), dtype=np.int64)
    for column in octets[:, start // 8 : last].T:
        result = result << 8 | column
    return result >> (last * 8 - end) & ((1 << width) - 1)


def _free_form(flags: npt.NDArray[np.int64]) -> npt.NDArray[np.intp]:
    """Type 4: 0 starts a triangle of three vertices; 1 and 2 go on from the side bc or ac of the one before."""
    corners: list[tuple[int, int, int]] = []
    at = 0
    listed = flags.tolist()
    while at < len(listed):
        flag = listed[at]
        if flag == 0:
            if at + 3 > len(listed):
                break
            corners.append((at, at + 1, at + 2))
            at += 3
            continue
        if flag == 3 or not corners:
            raise Unreadable("a gradient mesh goes on from a piece that is not there")
        a, b, c = corners[-1]
        corners.append((b if flag == 1 else a, c, at))
        at += 1
    return np.array(corners, dtype=np.intp).reshape(-1, 3)


def _lattice(count: int, per_row: object) -> npt.NDArray[np.intp]:
    """Type 5: each square of four vertices makes two triangles."""
    columns = int(per_row)  # type: ignore[call-overload]
    if columns < 2:
        raise Unreadable("a gradient mesh has fewer than two vertices in a row")
    grid = np.arange(count // columns * columns).reshape(-1, columns)
    a, b, c, d = grid[:-1, :-1], grid[:-1, 1:], grid[1:, :-1], grid[1:, 1:]
    return np.stack([a, b, c, b, c, d], axis=-1).reshape(-1, 3)


# --- Patches ----------------------------------------------------------------------------------------------------------

_STREAM_ORDER = (0, 1, 2, 3, 7, 11, 15, 14, 13, 12, 8, 4, 5, 6, 10, 9)
"""Where the points of a tensor patch go, p(column, row) standing at 4 · column + row (8.7.4.5.8)."""
_SHARED_POINTS = ((), (3, 4, 5, 6), (6, 7, 8, 9), (9, 10, 11, 0))
_SHARED_COLORS = ((), (1, 2), (2, 3), (3, 0))
"""By edge flag: which of the patch before are the first of this one (Tables 84 and 86)."""


def _patches(data: bytes, layout: _Layout, points: int) -> Triangles:
    fresh, following = _records(data, layout, points)
    count = len(fresh) + len(following)
    if count > most_triangles(layout.components) // 8:
        raise TooLarge("a gradient mesh has more than {count} patches", count=most_triangles(layout.components) // 8)
    octets = np.frombuffer(data, np.uint8)
    places, values = np.empty((count, points, 2)), np.empty((count, 4, layout.components))
    for starts, shared in ((fresh, 0), (following, 1)):
        own_points, own_colors = points - 4 * shared, 4 - 2 * shared
        size = layout.octets(own_points, own_colors)
        numbers = np.array([number for number, _ in starts], dtype=np.intp)
        offsets = np.array([offset for _, offset in starts], dtype=np.intp)
        rows = octets[offsets[:, np.newaxis] + np.arange(size)]
        places[numbers, 4 * shared :], values[numbers, 2 * shared :] = layout.vertices(rows, own_points, own_colors)
    for number, offset in following:
        flag = data[offset] >> (8 - layout.flag) & 3
        places[number, :4] = places[number - 1, _SHARED_POINTS[flag]]
        values[number, :2] = values[number - 1, _SHARED_COLORS[flag]]
    return _gridded(_tensors(places), values)


def _records(data: bytes, layout: _Layout, points: int) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
    """Number and offset of the patches that stand alone, and of those that share a side with the one before."""
    alone, sharing = layout.octets(points, 4), layout.octets(points - 4, 2)
    fresh: list[tuple[int, int]] = []
    following: list[tuple[int, int]] = []
    offset = number = 0
    while offset < len(data) and number <= MOST_TRIANGLES:
        flag = data[offset] >> (8 - layout.flag) & 3
        size = sharing if flag else alone
        if offset + size > len(data):
            break
        if flag and not number:
            raise Unreadable("a gradient mesh goes on from a piece that is not there")
        (following if flag else fresh).append((number, offset))
        offset, number = offset + size, number + 1
    return fresh, following


def _tensors(places: Values) -> Values:
    """(n, 12 or 16, 2) in the order of the stream → (n, 4, 4, 2), column (u) first; the inner points of a Coons patch are those
    of 8.7.4.5.8.
    """
    count, points = places.shape[:2]
    tensors = np.zeros((count, 16, 2))
    tensors[:, _STREAM_ORDER[:points]] = places
    p = tensors.reshape(count, 4, 4, 2)
    if points == 12:
        for column, row in ((1, 1), (1, 2), (2, 1), (2, 2)):
            near_c, near_r = 3 * (column // 2), 3 * (row // 2)
            far_c, far_r = 3 - near_c, 3 - near_r
            p[:, column, row] = (
                -4 * p[:, near_c, near_r]
                + 6 * (p[:, near_c, row] + p[:, column, near_r])
                - 2 * (p[:, near_c, far_r] + p[:, far_c, near_r])
                + 3 * (p[:, far_c, row] + p[:, column, far_r])
                - p[:, far_c, far_r]
            ) / 9
    return p


def _gridded(tensors: Values, values: Values) -> Triangles:
    """The surface of each patch on a grid of u and v, with the corner colours mixed in proportion."""
    count, _, components = values.shape
    squares = min(FINEST_GRID, int(sqrt(most_triangles(components) / 4 / max(count, 1)))) or 1
    at = np.linspace(0, 1, squares + 1)
    bernstein = np.stack([(1 - at) ** 3, 3 * at * (1 - at) ** 2, 3 * at**2 * (1 - at), at**3], axis=1)
    places = np.einsum("vj,ui,nijk->nvuk", bernstein, bernstein, tensors, optimize=True)
    ends = np.stack([1 - at, at], axis=1)
    corners = values[:, (0, 1, 3, 2)].reshape(count, 2, 2, components)  # c00, c03, c30, c33: u first, then v
    mixed = np.einsum("vj,ui,nijk->nvuk", ends, ends, corners, optimize=True)
    nodes = (squares + 1) ** 2
    triangles = _lattice(nodes, squares + 1)
    return Triangles(
        places.reshape(count, nodes, 2)[:, triangles].reshape(-1, 3, 2),
        mixed.reshape(count, nodes, components)[:, triangles].reshape(-1, 3, components),
    )


# --- Colours ----------------------------------------------------------------------------------------------------------


def colored(triangles: Triangles, color: Colors) -> Triangles:
    """The triangles with finished colours at their corners, and nothing else changed."""
    return Triangles(triangles.places, _colors(color, triangles.values))


def refined(triangles: Triangles, color: Colors, widest: float) -> Triangles:
    """The triangles with finished colours at their corners, split in four until no colour halfway along a side is off by more
    than half a step, and no number of the mesh spans more than `widest`. It ends after `MOST_SPLITS`, or where the triangles
    would be too many: the places stay right then, and the colours those of the corners.
    """
    most = most_triangles(triangles.values.shape[2])
    places, values = triangles.places, triangles.values
    rank = np.arange(len(places))
    done: list[tuple[npt.NDArray[np.intp], Values, Values]] = []
    settled = 0
    for split in range(MOST_SPLITS + 1):
        finished = _colors(color, values)
        middles = (values + values[:, (1, 2, 0)]) / 2
        off = np.abs(_colors(color, middles) - (finished + finished[:, (1, 2, 0)]) / 2).max(axis=(1, 2), initial=0)
        split_up = (off > _UNSEEN) | (np.ptp(values, axis=1).max(axis=1, initial=0) > widest)
        if split == MOST_SPLITS or settled + len(places) + 3 * int(split_up.sum()) > most:
            split_up[:] = False
        done.append((rank[~split_up], places[~split_up], finished[~split_up]))
        settled += int((~split_up).sum())
        if not split_up.any():
            break
        rank = np.repeat(rank[split_up], 4)
        places, values = _quartered(places[split_up]), _quartered(values[split_up])
    order = np.argsort(np.concatenate([one[0] for one in done]), kind="stable")
    return Triangles(np.concatenate([one[1] for one in done])[order], np.concatenate([one[2] for one in done])[order])


def _colors(color: Colors, values: Values) -> Values:
    return color(values.reshape(-1, values.shape[2])).reshape(-1, 3, 3)


def _quartered(corners: Values) -> Values:
    """(n, 3, any) → (4 n, 3, any): the four triangles between the corners and the middles of the sides."""
    a, b, c = corners.swapaxes(0, 1)
    ab, bc, ca = (a + b) / 2, (b + c) / 2, (c + a) / 2
    four = np.stack([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], axis=1)
    return four.reshape(-1, 3, corners.shape[2])
