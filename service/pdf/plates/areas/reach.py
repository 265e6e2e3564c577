"""How far the ink that stands at a trim edge goes on beyond it.

* Asked for each side: along the trim edge, is there ink at the line, and how far out does it go on in one piece?
* Only a *stop* counts: an end of the ink about parallel to the edge. The outline of a diagonal bar or of a disc that leaves the
  page at an angle is its own shape, not artwork that was cut short.
* A gap is bridged where the ink behind it is at least as deep: stripes and dots go on. A hairline behind a gap does not bridge
  it: a crop mark, a frame at the bleed edge.
* Photographs and gradients may be white: what lies inside their box counts as painted, unless the ink ends there along a long
  straight line, as it does where a picture was given a white rim.
* Ink that fades to nothing does not stop.
* PDFium widens rectangles and pictures to whole pixels. Where the edge of an object is known to lie there, it is taken instead;
  else half a pixel is taken off.

Light tints count as ink from about 1.6 % on. Corners of the bleed, beyond both edges, are not looked at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import Box, Side
from service.pdf.facts.plates import EdgeStop

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

INK_FROM = 4
"""Of 255, all inks together: the noise of a compressed picture on white stays below, a tint of 2 % does not."""
FADED_AT = 8
SHORTEST_STOP_MM = 0.5
"""Along the edge: what is shorter is nobody's artwork. Ours, no source."""
STRAIGHT_STOP_MM = 10.0
"""Within a picture only a straight end of this length is no part of what it shows. Ours, no source."""
FLAT_SLOPE = 0.1
"""Ends of ink that run away from the edge by more than about 6° are outlines. Ours, no source."""
WAVE_MM = 6.0
"""Over which an uneven end of ink is evened out. Ours, no source."""
_SLOPE_ARM = 4
"""Pixels to either side over which the slope is taken."""
AT_THE_LINE_MM = 0.1
"""What ends that near the trim line stands at it: a tenth of a millimetre is the accuracy of the plates."""


@dataclass(frozen=True)
class Reach:
    """One side."""

    reach_mm: float | None
    """None where no ink stands at the line; else the least depth, at most that of the bleed."""
    stops: tuple[EdgeStop, ...]


@dataclass(frozen=True)
class Objects:
    """Boxes of what stands on the page, as far as they are known, ruler mm."""

    may_be_white: Sequence[Box] = ()
    """Pictures and gradients, upright."""
    edges: Sequence[Box] = ()
    """Of every object."""


class _Edge(NamedTuple):
    """The plates as seen from one side: one line for each pixel along the trim edge, pixels outwards in it."""

    side: Side
    ink: npt.NDArray[np.uint16]
    """From two pixels inside the trim to two beyond the bleed."""
    depth: int
    """How many pixels from the trim line to the edge of the bleed."""
    line: float
    """Where the trim line lies in it, pixels."""
    pitch_mm: float
    along_mm: Floats
    """Middles of the lines, ruler mm along the edge; `along_pitch_mm` apart."""
    along_pitch_mm: float

    def seen(self, box: Box, trim: Box) -> tuple[float, float, float, float]:
        """How far beyond the trim line a box begins and ends, and where along the edge."""
        near, far = {
            "top": (trim.y0 - box.y1, trim.y0 - box.y0),
            "right": (box.x0 - trim.x1, box.x1 - trim.x1),
            "bottom": (box.y0 - trim.y1, box.y1 - trim.y1),
            "left": (trim.x0 - box.x1, trim.x0 - box.x0),
        }[self.side]
        return (near, far, box.x0, box.x1) if self.side in ("top", "bottom") else (near, far, box.y0, box.y1)


def reach(total: npt.NDArray[np.uint16], area: Box, trim: Box, side: Side, depth_mm: float, objects: Objects) -> Reach:
    """`total`: all inks added, over `area` (ruler mm). `depth_mm`: of the bleed on that side."""
    edge = _seen_from(total, area, trim, side, max(depth_mm, 0.0))
    inked = edge.ink >= INK_FROM
    plain = _extents(edge, inked, depth_mm)
    painted = _painted(edge, objects.may_be_white, trim)
    boxed = _extents(edge, inked | painted, depth_mm) if painted.any() else plain
    stands = plain.mm >= -AT_THE_LINE_MM
    shortest = max(round(SHORTEST_STOP_MM / edge.along_pitch_mm), 1) + 1
    stops = [*_stops(edge, stands, boxed.mm, shortest, depth_mm)]
    goes_on = stands & (boxed.mm >= depth_mm - AT_THE_LINE_MM)
    stops += _straight_stops(edge, goes_on, plain.mm, depth_mm) if painted.any() else []
    found = []
    for first, last in stops:
        end_mm = _end_mm(edge, plain if goes_on[first] else boxed, (first, last), objects.edges, trim)
        if end_mm < -AT_THE_LINE_MM:
            stands[first:last] = False
        elif end_mm < depth_mm - AT_THE_LINE_MM:
            start, half = edge.along_mm[first], edge.along_pitch_mm / 2
            span = float(start - half), float(edge.along_mm[last - 1] + half)
            found.append(EdgeStop(side, round(span[0], 2), round(span[1], 2), round(max(end_mm, 0.0), 2)))
    if int(stands.sum()) < shortest:
        return Reach(None, ())
    found.sort(key=lambda stop: (stop.from_mm - stop.to_mm, stop.reach_mm))
    return Reach(round(min((stop.reach_mm for stop in found), default=depth_mm), 2), tuple(found))


def _seen_from(total: npt.NDArray[np.uint16], area: Box, trim: Box, side: Side, depth_mm: float) -> _Edge:
    rows, columns = total.shape
    width, height = area.width / columns, area.height / rows
    level = side in ("top", "bottom")
    turned = total.T if level else total
    outward, begin = {
        "top": (turned[:, ::-1], trim.y0 - area.y1),
        "right": (turned, area.x0 - trim.x1),
        "bottom": (turned, area.y0 - trim.y1),
        "left": (turned[:, ::-1], trim.x0 - area.x1),
    }[side]
    pitch, along_pitch = (height, width) if level else (width, height)
    line = -begin / pitch
    inside = max(int(line + 1e-6), 0)
    depth = max(int(np.ceil(line - inside + depth_mm / pitch - 1e-6)), 0)
    middles = (area.x0 if level else area.y0) + (np.arange(len(outward)) + 0.5) * along_pitch
    first, last = (trim.x0, trim.x1) if level else (trim.y0, trim.y1)
    along = np.flatnonzero((middles > first) & (middles < last))
    ink = np.zeros((len(along), depth + 4), dtype=np.uint16)
    from_, to = max(inside - 2, 0), min(inside + depth + 2, outward.shape[1])
    ink[:, from_ - inside + 2 : to - inside + 2] = outward[along, from_:to]
    return _Edge(side, ink, depth, line - inside + 2, pitch, middles[along], along_pitch)


def _painted(edge: _Edge, boxes: Sequence[Box], trim: Box) -> Flags:
    painted = np.zeros(edge.ink.shape, dtype=np.bool_)
    depths = (np.arange(edge.ink.shape[1]) + 0.5 - edge.line) * edge.pitch_mm
    for box in boxes:
        near, far, start, end = edge.seen(box, trim)
        if far < -edge.pitch_mm or near > edge.pitch_mm * (edge.depth + 2):
            continue
        out = slice(*np.searchsorted(depths, (near, far)))
        painted[slice(*np.searchsorted(edge.along_mm, (start, end))), out] = True
    return painted


class _Extents(NamedTuple):
    """Line by line, how far beyond the trim line the ink goes on, at most to the depth; −∞ where none stands there."""

    mm: Floats
    """By how much of the last pixel is inked."""
    whole_mm: Floats
    """With the whole of the last pixel."""


def _extents(edge: _Edge, inked: Flags, depth_mm: float) -> _Extents:
    stands = inked[:, 1] | inked[:, 2]
    ends, run, widest = (np.full(len(inked), one, dtype=np.int64) for one in (1, 0, 0))
    solid = inked[:, 1 : edge.depth + 2].all()  # nothing ends anywhere, as on most sides of a card
    if solid:
        ends += edge.depth + 1
    for at in range(1, 1 if solid else edge.depth + 2):
        here = inked[:, at]
        run = np.where(here, run + 1, 0)
        gap = at + 1 - ends - run
        taken = here & stands & (run >= gap)
        ends, widest = np.where(taken, at + 1, ends), np.where(taken, np.maximum(widest, gap), widest)
    every, last = np.arange(len(inked)), ends - 1
    value, before = edge.ink[every, last].astype(np.float64), edge.ink[every, np.maximum(last - 1, 0)].astype(np.float64)
    share = np.where((before >= INK_FROM) & (value >= INK_FROM), np.clip(value / np.maximum(before, 1), 0, 1), 1.0)
    next_, after = edge.ink[every, ends], edge.ink[every, ends + 1]
    fades = (value >= INK_FROM) & (value <= FADED_AT) & (next_ >= 1) & (after >= 1)
    is_part = (value >= INK_FROM) & (next_ >= 1) & (next_ < INK_FROM) & (after == 0)  # of a light tint less than counts as ink
    drawn = np.where(is_part, ends + next_ / np.maximum(value, 1), last + share)
    goes_on = fades | (edge.depth + 2 - ends <= widest)
    told = [
        np.where(stands, np.where(goes_on, depth_mm, np.minimum((end - edge.line) * edge.pitch_mm, depth_mm)), -np.inf)
        for end in (drawn, ends + is_part)
    ]
    return _Extents(*told)


def _stops(edge: _Edge, stands: Flags, ends_mm: Floats, shortest: int, depth_mm: float) -> Iterator[tuple[int, int]]:
    """First line and one beyond the last of every part of the edge where the ink ends about parallel to it."""
    short = stands & (ends_mm < max(depth_mm, 2 * AT_THE_LINE_MM) - AT_THE_LINE_MM)
    steps = np.where(short, ends_mm, 0.0)
    for first, last in _together(short, steps, 1.5 * edge.pitch_mm):
        if last - first < shortest:
            continue
        for is_flat in (_is_flat, _is_flat_on_the_whole):
            flat = is_flat(steps[first:last], edge.along_pitch_mm)
            parts = [part for part in _together(flat, steps[first:last], np.inf) if part[1] - part[0] >= shortest]
            yield from ((first + start, first + stop) for start, stop in parts)
            if parts:
                break


def _is_flat(ends_mm: Floats, pitch_mm: float) -> Flags:
    here = np.arange(len(ends_mm))
    arm = max(min(_SLOPE_ARM, (len(ends_mm) - 1) // 2), 1)
    fore, aft = np.minimum(here + arm, len(here) - 1), np.maximum(here - arm, 0)
    return np.abs(ends_mm[fore] - ends_mm[aft]) <= FLAT_SLOPE * (1 + 1 / arm) * (fore - aft) * pitch_mm


def _is_flat_on_the_whole(ends_mm: Floats, pitch_mm: float) -> Flags:
    """A torn or wavy end: flat where its mean over some millimetres is."""
    width = 2 * (round(WAVE_MM / pitch_mm) // 2) + 1
    flat = np.zeros(len(ends_mm), dtype=np.bool_)
    if width >= len(ends_mm):
        return flat
    means = np.convolve(ends_mm, np.full(width, 1 / width), mode="valid")
    for at in np.flatnonzero(_is_flat(means, pitch_mm)):
        flat[at : at + width] = True
    return flat


def _straight_stops(edge: _Edge, goes_on: Flags, ends_mm: Floats, depth_mm: float) -> Iterator[tuple[int, int]]:
    """The same within pictures, where only a long straight end is no part of the picture."""
    short = goes_on & (ends_mm >= -AT_THE_LINE_MM) & (ends_mm < depth_mm - AT_THE_LINE_MM)
    for first, last in _together(short, np.where(short, ends_mm, 0.0), edge.pitch_mm / 2):
        is_long = (last - first) * edge.along_pitch_mm >= STRAIGHT_STOP_MM
        if is_long and np.ptp(ends_mm[first:last]) <= edge.pitch_mm:
            yield first, last


def _together(chosen: Flags, ends_mm: Floats, step_mm: float) -> Iterator[tuple[int, int]]:
    """Runs of chosen lines without a larger step between neighbours."""
    at = np.flatnonzero(chosen)
    if not len(at):
        return
    breaks = np.flatnonzero((np.diff(at) > 1) | (np.abs(np.diff(ends_mm[at])) > step_mm)) + 1
    for part in np.split(at, breaks):
        yield int(part[0]), int(part[-1]) + 1


def _end_mm(edge: _Edge, extents: _Extents, lines: tuple[int, int], objects: Sequence[Box], trim: Box) -> float:
    """Where the ink of one stop ends, at its least but for some specks: at the edge of an object, if one ends there."""
    part, pitch = slice(*lines), edge.pitch_mm
    drawn, whole = (float(np.quantile(one[part], 0.1)) for one in extents)
    likely = drawn if drawn < whole - 0.05 * pitch else whole - pitch / 2
    if drawn >= -AT_THE_LINE_MM:  # only a known edge says that what is drawn at the line does not stand there
        likely = max(likely, -AT_THE_LINE_MM)
    first, last = float(edge.along_mm[lines[0]]) + pitch, float(edge.along_mm[lines[1] - 1]) - pitch
    known = []
    for box in objects:
        begins, ends, start, stop = edge.seen(box, trim)
        is_there = start <= max(first, last) and stop >= min(first, last)
        if is_there and begins < ends and whole - 1.05 * pitch <= ends <= whole + 0.55 * pitch:
            known.append(ends)
    return min(known, key=lambda one: abs(one - likely), default=likely)
