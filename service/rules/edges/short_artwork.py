"""Which artwork ends just inside the trim instead of bleeding: plain geometry, side by side."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from service.pdf.facts.geometry import SLACK_MM, Box

SIDES = ("top", "right", "bottom", "left")

SEAM_MM = 0.5
"""Slices of one picture meet, or overlap, by no more. Common practice, no source: flattening cuts on whole pixels."""

SEAM_SHARE = 0.9
"""The share of its length over which a slice must go on. Ours, no source."""

FEWEST_OVER_THE_EDGE = 3
"""Pieces of one kind and colour that cross an edge make a pattern that runs off it. Ours, no source."""

LARGEST_PIECE_MM = 30.0
"""What is larger is no piece of a pattern. Ours, no source."""

MOST_STEPS = 500_000
"""Beyond this the pieces of one page are told as they are, whether or not others go on from them."""


class Piece(NamedTuple):
    kind: str
    """'image', or the kind of a vector object."""
    inks: tuple[str, ...]
    box_mm: Box


class _Span(NamedTuple):
    """A piece seen from one side: how far inside the trim its inner and outer edges lie, and what it covers along the edge."""

    inner: float
    outer: float
    start: float
    end: float


def depth_inside(box: Box, trim: Box, side: str) -> float:
    """How far inside the trim the box ends on that side, mm; negative where it goes beyond."""
    if side == "top":
        return box.y0 - trim.y0
    if side == "right":
        return trim.x1 - box.x1
    return trim.y1 - box.y1 if side == "bottom" else box.x0 - trim.x0


def loose_ends(pieces: list[Piece], trim: Box, minimum_mm: Mapping[str, float]) -> Iterator[tuple[Piece, str, float]]:
    """Pieces that end inside the quiet zone of a side without reaching the trim there: the piece, the side, how far inside.

    `minimum_mm`: how deep the zone is, side by side.
    """
    steps = [MOST_STEPS]
    for side in SIDES:
        least = minimum_mm[side] - SLACK_MM
        if not any(SLACK_MM < depth_inside(one.box_mm, trim, side) < least for one in pieces):
            continue
        spans = [_seen_from(side, one.box_mm, trim) for one in pieces]
        patterns = _running_off(pieces, spans)
        by_kind: dict[str, list[_Span]] = {}
        for piece, span in zip(pieces, spans, strict=True):
            by_kind.setdefault(piece.kind, []).append(span)
        for ones in by_kind.values():
            ones.sort()
        for piece, span in zip(pieces, spans, strict=True):
            if not SLACK_MM < span.outer < least:
                continue
            of_a_pattern = (piece.kind, piece.inks) in patterns and _is_small(piece)
            if not of_a_pattern and not _goes_on(span, by_kind[piece.kind], steps):
                yield piece, side, span.outer


def _seen_from(side: str, box: Box, trim: Box) -> _Span:
    outer = depth_inside(box, trim, side)
    level = side in ("top", "bottom")
    start, end = (box.x0, box.x1) if level else (box.y0, box.y1)
    return _Span(outer + (box.height if level else box.width), outer, start, end)


def _running_off(pieces: list[Piece], spans: list[_Span]) -> set[tuple[str, tuple[str, ...]]]:
    """Kinds and colours of which several small pieces cross the edge."""
    crossing: dict[tuple[str, tuple[str, ...]], int] = {}
    for piece, span in zip(pieces, spans, strict=True):
        if piece.kind != "image" and span.outer <= SLACK_MM and _is_small(piece):
            key = piece.kind, piece.inks
            crossing[key] = crossing.get(key, 0) + 1
    return {key for key, count in crossing.items() if count >= FEWEST_OVER_THE_EDGE}


def _is_small(piece: Piece) -> bool:
    return max(piece.box_mm.width, piece.box_mm.height) <= LARGEST_PIECE_MM


def _goes_on(span: _Span, others: list[_Span], steps: list[int]) -> bool:
    """Whether other pieces of its kind take over where it ends, one after the other, up to the trim. `others` is sorted."""
    while span.outer > SLACK_MM:
        first = bisect_left(others, (span.outer - SEAM_MM,))
        following = None
        for other in others[first:]:
            steps[0] -= 1
            if other.inner > span.outer + SEAM_MM or steps[0] < 0:
                break
            shared = min(span.end, other.end) - max(span.start, other.start)
            if other.outer < span.outer and shared >= SEAM_SHARE * (span.end - span.start):
                following = other
                break
        if following is None:
            return False
        span = following
    return True
