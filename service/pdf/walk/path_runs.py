"""Runs of path operators between other work, cut and measured at once (ISO 32000-2:2020, 8.5 and 8.6.8).

A drawing's page has hundreds of thousands of them. Nothing in such a run moves the coordinates or clips, so that the bounds of
all its paths are worked out together; a colour is looked up when something is painted in it. A run with anything out of the
ordinary (other numbers of operands, malformed ones) is left to the handlers of single operators.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from service.pdf.content.current_color import DEVICE_OPERATORS, DeviceOperator
from service.pdf.content.painting import EVEN_ODD, PATH_PAINTING
from service.pdf.facts.geometry import Matrix

LEAST_STREAM_BYTES = 20_000
"""In a shorter stream, as of a page of text, nobody looks for runs. Ours, no source."""
LEAST_BYTES = 1_000
"""A shorter run costs less operator by operator. Ours, no source."""
_POINTS_OF = {b"m": 1, b"l": 1, b"c": 3, b"v": 2, b"y": 2, b"re": 4, b"h": 0}
_OPERANDS_OF = {
    b"m": 2, b"l": 2, b"c": 6, b"v": 4, b"y": 4, b"re": 4, b"h": 0, b"n": 0, b"w": 1,
    **dict.fromkeys(PATH_PAINTING, 0),
    **{b"g": 1, b"G": 1, b"rg": 3, b"RG": 3, b"k": 4, b"K": 4},
}
PIECE_BYTES = 500_000
"""Cut and measured it takes some forty times as much (measured). Ours, no source."""
_PATH_END = re.compile(rb"[\t\n\x0c\r ](?:[fBb]\*?|[FSsn])[\t\n\x0c\r ]")

Codes = npt.NDArray[np.uint16]
Reals = npt.NDArray[np.float64]
Indices = npt.NDArray[np.int64]


_IS_BLANK = np.array([one in b"\t\n\x0c\r " for one in range(256)])
_WITHOUT_OPERATORS = bytes(one if chr(one) in "+-0123456789" else 32 for one in range(256))
_LONGEST_NUMBER = 15
"""Characters: so many digits, and the power of ten, are numbers without rounding (IEEE 754)."""
_POWERS = 10.0 ** np.arange(_LONGEST_NUMBER + 1)


def _code(operator: bytes) -> int:
    return int.from_bytes(operator.ljust(2, b"\0"), "little")


def _table(of: dict[bytes, int], otherwise: int) -> npt.NDArray[np.int64]:
    table = np.full(1 << 16, otherwise, np.int64)
    for operator, value in of.items():
        table[_code(operator)] = value
    return table


_OPERANDS, _POINTS = _table(_OPERANDS_OF, -1), _table(_POINTS_OF, -1)
_MOVE = _code(b"m")
_STARTS, _SEGMENT = _table({b"m": 1, b"re": 1}, 0), _table(dict.fromkeys((b"l", b"c", b"v", b"y", b"h"), 1), 0)
_CURVES = _table(dict.fromkeys((b"c", b"v", b"y"), 1), 0)
_ENDS_PATH = _table(dict.fromkeys((b"n", *PATH_PAINTING), 1), 0)
PAINTS: dict[int, tuple[bool, bool]] = {_code(b"n"): (False, False)} | {_code(one): PATH_PAINTING[one] for one in PATH_PAINTING}
"""Code of an operator that ends a path → whether it fills and strokes."""
EVEN_ODD_CODES = frozenset(map(_code, EVEN_ODD))
COLORS: dict[int, DeviceOperator] = {_code(one): DEVICE_OPERATORS[one] for one in DEVICE_OPERATORS}
LINE_WIDTH = _code(b"w")
FILLS, STROKES = (_table({one: 1 for one in PATH_PAINTING if PATH_PAINTING[one][side]}, 0) > 0 for side in (0, 1))
COLOR_SIDES = _table({one: 2 if DEVICE_OPERATORS[one].stroke else 1 for one in DEVICE_OPERATORS}, 0)
"""By code: 1 for an operator that sets the colour of filling, 2 for one of stroking."""


@dataclass(frozen=True)
class PathRun:
    """A run, cut: what ends a path or sets a colour or width, in order, and the paths.

    Arrays, one beside the other: a run that is followed twice is cut once, and takes little room until then.
    """

    steps: Codes
    """The operators' codes."""
    operands: Indices
    """Where those of each step start among the `values`, or for one that ends a path, which path."""
    values: Reals
    """The numbers."""
    starts: Indices
    """Where in `coordinates` subpaths start."""
    ends: Indices
    """Of each path, also one that the run leaves open at its end: where in `coordinates` it ends."""
    start_ends: Indices
    """And where in `starts`."""
    curved: npt.NDArray[np.bool_]
    """Of each path, whether it has curves."""
    edges: Reals
    """(4, paths): least and greatest x, least and greatest y; of a path without points nothing that counts."""
    coordinates: Reals
    """The points of all paths, x and y in turn, user space."""
    operators: int
    """As the lexer counts them: what follows a move directly counts once."""

    @property
    def size_bytes(self) -> int:
        of_steps, of_paths = (self.steps, self.operands, self.values), (self.ends, self.start_ends, self.curved, self.edges)
        return sum(one.nbytes for one in (*of_steps, *of_paths, self.starts, self.coordinates))

    def path(self, which: int) -> tuple[list[float], list[int]]:
        """Points and starts, as the walk holds them of one path."""
        first, start_first = (self.ends[which - 1], self.start_ends[which - 1]) if which else (0, 0)
        starts = self.starts[start_first : self.start_ends[which]] - first
        return self.coordinates[first : self.ends[which]].tolist(), starts.tolist()

    def has_points(self, paths: Indices) -> npt.NDArray[np.bool_]:
        """Of each of these paths."""
        return np.diff(self.ends, prepend=0)[paths] > 0

    def boxes(self, ctm: Matrix) -> tuple[Reals, Reals, Reals, Reals]:
        """Around each path, as `paths` works out one: x0, y0, x1 and y1."""
        a, b, c, d, e, f = ctm
        least_x, most_x, least_y, most_y = self.edges
        if b == 0 == c:
            across, down = (a * least_x + e, a * most_x + e), (d * least_y + f, d * most_y + f)
            return np.minimum(*across), np.minimum(*down), np.maximum(*across), np.maximum(*down)
        xs, ys = self.coordinates[::2], self.coordinates[1::2]
        firsts = np.concatenate(([0], self.ends[:-1] // 2))
        x0, x1 = _extremes(a * xs + c * ys + e, firsts)
        y0, y1 = _extremes(b * xs + d * ys + f, firsts)
        return x0, y0, x1, y1


def _extremes(values: Reals, firsts: Indices) -> tuple[Reals, Reals]:
    """The least and the greatest from each first on, up to the next; one value more lets a path at the end be empty."""
    padded = np.append(values, 0.0)
    return np.minimum.reduceat(padded, firsts), np.maximum.reduceat(padded, firsts)


def pieces_of(raw: bytes) -> Iterator[bytes]:
    """A long run in pieces that take little memory, each but the last cut behind the end of a path."""
    start = 0
    while len(raw) - start > PIECE_BYTES and (end := _PATH_END.search(raw, start + PIECE_BYTES)):
        yield raw[start : end.end()]
        start = end.end()
    yield raw[start:]


def path_run(raw: bytes) -> PathRun | None:
    """None where the handlers of single operators had better look."""
    letters = np.frombuffer(raw, np.uint8)
    blank = _IS_BLANK[letters]
    edges = np.flatnonzero(np.diff(blank, prepend=True))  # a run ends in a blank
    firsts, ends = edges[::2], edges[1::2]
    is_operator = letters[firsts] >= ord("A")
    numbers = _numbers(raw, firsts[~is_operator], ends[~is_operator], np.flatnonzero(letters == ord(".")))
    if numbers is None:
        return None
    at = np.flatnonzero(is_operator)
    second = firsts[at] + 1
    codes = (letters[firsts[at]] | np.where(blank[second], 0, letters[second]).astype(np.uint16) << 8).astype(np.uint16)
    numbers_end = at - np.arange(len(at))
    counts = np.diff(numbers_end, prepend=0)
    if (_OPERANDS[codes] != counts).any():
        return None
    return _cut(codes, numbers, numbers_end - counts, counts)


def _numbers(raw: bytes, firsts: Indices, ends: Indices, points: Indices) -> Reals | None:
    """Whole numbers over powers of ten, which gives what reading each as written does; None where one is malformed or long."""
    if len(firsts) and int((ends - firsts).max()) > _LONGEST_NUMBER:
        return None
    with warnings.catch_warnings():
        warnings.simplefilter("error", DeprecationWarning)  # of NumPy before 2.3: that it has stopped at something malformed
        try:
            digits = np.fromstring(raw.translate(_WITHOUT_OPERATORS, b"."), np.int64, sep=" ")
        except (ValueError, DeprecationWarning):
            return None
    having = np.searchsorted(firsts, points, side="right") - 1
    if len(digits) != len(firsts) or (np.diff(having) == 0).any():
        return None
    decimals = np.zeros(len(firsts), np.intp)
    decimals[having] = ends[having] - points - 1
    found: Reals = digits / _POWERS[decimals]
    return found


def _cut(codes: Codes, numbers: Reals, numbers_start: Indices, counts: Indices) -> PathRun:
    points = np.maximum(_POINTS[codes], 0)
    places = 2 * (np.cumsum(points) - points)
    coordinates = np.empty(2 * int(points.sum()))
    plain = (points > 0) & (codes != _code(b"re"))
    of_path = np.repeat(plain, counts)
    coordinates[np.flatnonzero(of_path) + np.repeat(places - numbers_start, counts)[of_path]] = numbers[of_path]
    corners = codes == _code(b"re")
    if corners.any():
        x, y, width, height = (numbers[numbers_start[corners] + which] for which in range(4))
        for which, value in enumerate((x, y, x + width, y, x + width, y + height, x, y + height)):
            coordinates[places[corners] + which] = value
    ends = np.flatnonzero(_ENDS_PATH[codes])
    last = np.append(places[ends], len(coordinates))
    first = np.concatenate(([0], last[:-1]))
    starts = np.flatnonzero(_STARTS[codes])
    start_last = np.append(np.searchsorted(starts, ends), len(starts))
    x0, x1 = _extremes(coordinates[::2], first // 2)
    y0, y1 = _extremes(coordinates[1::2], first // 2)
    steps = np.flatnonzero(_POINTS[codes] < 0)
    which_path = np.cumsum(_ENDS_PATH[codes]) - 1
    means = np.where(_ENDS_PATH[codes[steps]] > 0, which_path[steps], numbers_start[steps])
    segments = _SEGMENT[codes] > 0
    # What stands before each segment and those that it follows:
    before = np.maximum.accumulate(np.where(segments, -1, np.arange(len(codes))))
    together = segments & (before >= 0) & (codes[before] == _MOVE)
    counted = len(codes) - int(together.sum()) + int((together[1:] & (codes[:-1] == _MOVE)).sum())
    return PathRun(
        codes[steps],
        means,
        numbers,
        places[starts],
        last,
        start_last,
        np.bincount(np.cumsum(_ENDS_PATH[codes])[_CURVES[codes] > 0], minlength=len(last)) > 0,
        np.array((x0, x1, y0, y1)),
        coordinates,
        counted,
    )
