"""Connected regions of a mask: pixels that touch by a side belong together.

Worked on runs of pixels, all of a mask at once; the memory is in proportion to the runs.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Mask = npt.NDArray[np.bool_]
Indices = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Region:
    pixels: int
    row0: int
    column0: int
    row1: int
    """One beyond the last; `column1` likewise."""
    column1: int


def largest_regions(mask: Mask, most: int, least_pixels: int = 1) -> list[Region]:
    """The largest regions of at least so many pixels, the largest first."""
    return _largest(*_runs(mask), most, least_pixels)


def regions_apart(mask: Mask, most: int, least_pixels: int = 1) -> list[tuple[Region, Mask]]:
    """As `largest_regions`, each with its own pixels, counted from its first row and column."""
    starts, ends, width = _runs(mask)
    found = []
    roots = _joined(len(starts), *_touching(starts, ends, width))
    sizes = np.bincount(roots, weights=ends - starts) if len(starts) else np.zeros(0)
    chosen = np.flatnonzero(sizes >= least_pixels)
    for root in chosen[np.argsort(-sizes[chosen], kind="stable")[:most]]:
        firsts, lasts = starts[roots == root], ends[roots == root]
        region = _region(int(sizes[root]), firsts, lasts, width)
        own = np.zeros((region.row1 - region.row0, region.column1 - region.column0), dtype=np.bool_)
        for row, first, last in zip(firsts // width, firsts % width, lasts % width, strict=True):
            own[row - region.row0, first - region.column0 : last - region.column0] = True
        found.append((region, own))
    return found


def _largest(starts: Indices, ends: Indices, width: int, most: int, least_pixels: int) -> list[Region]:
    if not len(starts):
        return []
    roots = _joined(len(starts), *_touching(starts, ends, width))
    sizes = np.bincount(roots, weights=ends - starts)
    found = np.flatnonzero(sizes >= least_pixels)
    found = found[np.argsort(-sizes[found], kind="stable")[:most]]
    return [_region(int(sizes[root]), starts[roots == root], ends[roots == root], width) for root in found]


def _region(pixels: int, starts: Indices, ends: Indices, width: int) -> Region:
    rows = starts // width
    return Region(
        pixels, int(rows.min()), int((starts - rows * width).min()), int(rows.max()) + 1, int((ends - rows * width).max())
    )


def _runs(mask: Mask) -> tuple[Indices, Indices, int]:
    """Where runs start and end in the rows laid one behind the other, with a gap of one pixel, and the width of such a row."""
    rows, columns = mask.shape
    laid = np.zeros((rows, columns + 1), dtype=np.int8)
    laid[:, :columns] = mask
    steps = np.diff(laid.ravel(), prepend=np.int8(0))
    return np.flatnonzero(steps == 1), np.flatnonzero(steps == -1), columns + 1


def laid_out(mask: Mask) -> tuple[Indices, int]:
    """Where its pixels lie in the rows laid one behind the other, with a gap of one pixel, and the width of such a row."""
    columns = mask.shape[1]
    flat = np.flatnonzero(mask)
    return flat + flat // columns, columns + 1


def in_large_regions(places: Indices, width: int, least_pixels: int) -> Mask:
    """Which of these pixels, as `laid_out`, belong to a region of at least so many of them."""
    starts, ends, at = _runs_of(places)
    roots = _joined(len(starts), *_touching(starts, ends, width))
    large = np.bincount(roots, weights=ends - starts)[roots] >= least_pixels
    return np.repeat(large, np.diff(at, append=len(places)))


def largest_region_of(places: Indices, width: int) -> Region:
    """As `largest_regions` finds it."""
    starts, ends, _ = _runs_of(places)
    return _largest(starts, ends, width, 1, 1)[0]


def _runs_of(places: Indices) -> tuple[Indices, Indices, Indices]:
    """Where runs start and end, and at which of the pixels each starts."""
    at = np.flatnonzero(np.diff(places, prepend=-2) != 1)
    starts = places[at]
    return starts, starts + np.diff(at, append=len(places)), at


def _touching(starts: Indices, ends: Indices, width: int) -> tuple[Indices, Indices]:
    """Pairs of runs in neighbouring rows that share a column."""
    first = np.searchsorted(ends, starts + width, side="right")
    beyond = np.searchsorted(starts, ends + width, side="left")
    counts = np.maximum(beyond - first, 0)
    above = np.repeat(np.arange(len(starts)), counts)
    before = np.cumsum(counts) - counts
    return above, np.arange(len(above)) - np.repeat(before - first, counts)


def _joined(count: int, one: Indices, other: Indices) -> Indices:
    """For each run the lowest run of its region. Every round hooks roots to lower ones, then flattens the trees."""
    parent = np.arange(count)
    while True:
        roots, others = parent[one], parent[other]
        apart = roots != others
        if not apart.any():
            return parent
        one, other, roots, others = one[apart], other[apart], roots[apart], others[apart]
        parent[np.maximum(roots, others)] = np.minimum(roots, others)
        while (parent[parent] != parent).any():
            parent = parent[parent]
