"""Measured lengths in a drawing: extension lines, a line with arrowheads between them, its number above (ISO 129-1's habits, from
memory). Numbers are read from below or from the right. Where a length is too short for its arrowheads, these stand outside it and
point inwards, and a number that does not fit stands one line higher.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from service.proofs.drawing.shapes import TYPE_MM, Arrowhead, Segment, Shape, Words

ROW_MM = 8.0
"""From one row of measures to the next."""
_BEYOND_MM, _GAP_MM = 1.5, 1.0
"""Extension lines end so far beyond the measure, and begin so far from what is measured. Ours, after the habit."""
_HEAD_LONG_MM, _HEAD_HALF_MM = 2.2, 0.4
_ABOVE_MM, _HIGHER_MM = 0.9, TYPE_MM + 0.2
_LETTER_EM = 0.56
"""Mean width of a digit or small letter of a sans serif face. From memory."""


def measured(edges: Sequence[float], texts: Sequence[str], at: float, of: float, *, upright: bool = False) -> Iterator[Shape]:
    """A row of measures side by side, one text for each gap between the edges, at the height `at` for what ends at `of`.

    `upright`: a column of them, so that `edges` are heights and `at` and `of` lie across.
    """
    toward = 1 if at > of else -1
    for edge in edges:
        yield _line(edge, of + toward * _GAP_MM, edge, at + toward * _BEYOND_MM, upright)
    for (start, end), text in zip(pairwise(edges), texts, strict=True):
        short = end - start < 3 * _HEAD_LONG_MM
        over, inwards = (2 * _HEAD_LONG_MM, -_HEAD_LONG_MM) if short else (0.0, _HEAD_LONG_MM)
        yield _line(start - over, at, end + over, at, upright)
        yield _head(start, start + inwards, at, upright)
        yield _head(end, end - inwards, at, upright)
        above = _ABOVE_MM if words_width(text) <= end - start else _ABOVE_MM + _HIGHER_MM
        yield Words(text, _point((start + end) / 2, at - above, upright), upright=upright)


def words_width(text: str, size_mm: float = TYPE_MM) -> float:
    return len(text) * size_mm * _LETTER_EM


def _line(along: float, across: float, to_along: float, to_across: float, upright: bool) -> Segment:
    return Segment(_point(along, across, upright), _point(to_along, to_across, upright), "narrow")


def _head(tip: float, back: float, at: float, upright: bool) -> Arrowhead:
    points = (tip, at), (back, at - _HEAD_HALF_MM), (back, at + _HEAD_HALF_MM)
    first, second, third = (_point(*one, upright) for one in points)
    return Arrowhead((first, second, third))


def _point(along: float, across: float, upright: bool) -> tuple[float, float]:
    return (across, along) if upright else (along, across)
