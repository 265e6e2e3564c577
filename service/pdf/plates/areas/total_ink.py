"""How much ink stacks up on a page, and where.

The most ink is what holds over 1 mm² in one piece, so that a seam of one pixel between two objects is no finding.
It is found by halving between two bounds that cost little: what a whole square holds, and what enough pixels hold at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, sqrt

import numpy as np
import numpy.typing as npt

from service.pdf.plates.areas.regions import (
    Mask,
    Region,
    in_large_regions,
    laid_out,
    largest_region_of,
    largest_regions,
)

Total = npt.NDArray[np.uint16]
"""(rows, columns), 255 = full tint of one ink."""

Counts = npt.NDArray[np.intp]
_MOSTLY_BARE = 0.7
"""Of a page's pixels: on such a page, as of text, it costs less to look at each that holds ink. Ours, no source."""
LEAST_AREA_MM2 = 1.0
"""Over which an amount of ink must hold in one piece. Common practice, no source."""
_BAND_PIXELS = 2_000_000
"""A mask is looked through in bands of about this size; they overlap, so that no region of the least area is missed."""


@dataclass(frozen=True)
class MostInk:
    percent: float
    where: Region | None


def percent_of(value: float) -> float:
    return round(value / 2.55, 1)


def counts_of(total: Total) -> Counts:
    """How many pixels hold each amount, up to the most that any holds."""
    return np.bincount(total.ravel())


def area_by_percent(counts: Counts, pixel_mm2: float) -> tuple[float, ...]:
    """mm² that carry at least 0 %, 1 %, 2 % … of ink, as far as there is any."""
    at_least = np.cumsum(counts[::-1])[::-1]
    values = [ceil(percent * 2.55 - 1e-6) for percent in range(int((len(counts) - 1) / 2.55 + 1e-6) + 1)]
    return tuple(round(float(at_least[value]) * pixel_mm2, 2) for value in values if value < len(at_least))


def most_ink(total: Total, counts: Counts, pixel_mm2: float) -> MostInk:
    """The highest total that holds over the least area in one piece.

    What is no part of such a piece at one level is none at a higher one: so only what is left is looked at again.
    """
    needed = max(1, ceil(LEAST_AREA_MM2 / pixel_mm2 - 1e-6))
    if total.size < needed:
        return MostInk(0.0, None)
    at_least = np.cumsum(counts[::-1])[::-1]
    bare = counts[0] > _MOSTLY_BARE * total.size
    square = 1 if bare else _held_by_a_square(total, ceil(sqrt(needed)))
    levels = np.flatnonzero((counts > 0) & (at_least >= needed) & (np.arange(len(counts)) >= square))
    if not len(levels) or levels[-1] == 0:
        return MostInk(0.0, None)
    mask = total >= levels[0]
    (places, width), amounts = laid_out(mask), total[mask]
    low, high = -1, len(levels) - 1
    while low < high:
        middle = (low + high + 1) // 2
        held = amounts >= levels[middle]
        inside = in_large_regions(places[held], width, needed)
        if inside.any():
            low, places, amounts = middle, places[held][inside], amounts[held][inside]
        else:
            high = middle - 1
    if low < 0 or levels[low] == 0:
        return MostInk(0.0, None)
    most = int(levels[low])
    whole = total.shape[0] <= _band_rows(total.shape[1], needed)
    return MostInk(percent_of(most), largest_region_of(places, width) if whole else _region_of(total >= most, needed))


def regions_over(total: Total, counts: Counts, limit_percent: float, pixel_mm2: float, most: int) -> list[Region]:
    """The largest regions with more ink than that; specks that stand together count as one region, whose pixels are theirs."""
    if len(counts) - 1 <= limit_percent * 2.55:
        return []
    mask = total > limit_percent * 2.55
    step = max(1, round(LEAST_AREA_MM2**0.5 / pixel_mm2**0.5))
    rows, columns = (-(-length // step) for length in mask.shape)
    padded = np.zeros((rows * step, columns * step), dtype=np.bool_)
    padded[: mask.shape[0], : mask.shape[1]] = mask
    counts = padded.reshape(rows, step, columns, step).sum(axis=(1, 3))
    found = [_fitted(mask, region, step) for region in largest_regions(counts > 0, 4 * most)]
    return sorted((one for one in found if one), key=lambda one: -one.pixels)[:most]


def _fitted(mask: Mask, cells: Region, step: int) -> Region | None:
    """The pixels within the cells, and the box around them."""
    row0, column0 = cells.row0 * step, cells.column0 * step
    part = mask[row0 : cells.row1 * step, column0 : cells.column1 * step]
    rows, columns = np.flatnonzero(part.any(axis=1)), np.flatnonzero(part.any(axis=0))
    if not len(rows):
        return None
    return Region(
        int(part.sum()), row0 + int(rows[0]), column0 + int(columns[0]), row0 + int(rows[-1]) + 1, column0 + int(columns[-1]) + 1
    )


def _held_by_a_square(total: Total, side: int) -> int:
    """The most ink that every pixel of some square holds: never more than the answer."""
    if min(total.shape) < side:
        return 0
    for _ in range(2):
        least, of = total, 1
        while of < side:  # of twice as many lines each time
            step = min(of, side - of)
            least, of = np.minimum(least[:-step], least[step:]), of + step
        total = least.T
    return int(total.max())


def _band_rows(columns: int, pixels: int) -> int:
    return max(4 * pixels, _BAND_PIXELS // max(columns, 1))


def _region_of(mask: Mask, pixels: int) -> Region | None:
    """A region of at least so many pixels, the largest of the first band that has one.

    Such a region has a part of just so many pixels that touch, which is no higher than that: bands overlap by as much.
    """
    rows, columns = mask.shape
    height = _band_rows(columns, pixels)
    for start in range(0, rows, height - pixels):
        found = largest_regions(mask[start : start + height], 1, pixels)
        if found:
            one = found[0]
            return Region(one.pixels, one.row0 + start, one.column0, one.row1 + start, one.column1)
        if start + height >= rows:
            break
    return None
