"""Fewer pixels of a picture: averages over whole samples, rounded once, so that no ink is made.

Rounded each for itself, four inks of 255 steps can add up to two steps more than they do; and a limit of total ink is a matter of
such steps. So the inks of a pixel are rounded together: their sum is the rounded sum, each is its own average rounded up or down.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

Bytes = npt.NDArray[np.uint8]
Reals = npt.NDArray[np.float64]
Sums = npt.NDArray[Any]
"""Of uint32, or float64 where that is too small."""
Size = tuple[int, int]
"""Columns, rows."""


class Averages:
    """Of a picture that comes in strips of rows, from the top. Every sample counts in one pixel; pixels differ by one sample at
    most in each direction.
    """

    def __init__(self, size: Size, into: Size, components: int) -> None:
        columns, rows = size
        self._row_starts = np.arange(into[1] + 1, dtype=np.int64) * rows // into[1]
        self._column_starts = np.arange(into[0], dtype=np.int64) * columns // into[0]
        self._widths = np.diff(self._column_starts, append=columns)
        fit = components * 255 * float(np.diff(self._row_starts).max() * self._widths.max()) < 2**32
        self._kind = np.uint32 if fit else np.float64
        self._open: Sums = np.zeros((1, into[0], components), self._kind)
        """Of the row of pixels that the next sample row may count in."""
        self._row = 0

    def add(self, strip: Bytes) -> tuple[Sums, Reals]:
        """(rows, columns, components): a strip. Returns the sums of the rows of pixels that are complete with it, and how many
        samples each pixel has, (rows, columns).
        """
        first, end = self._row, self._row + len(strip)
        self._row = end
        at = int(np.searchsorted(self._row_starts, first, side="right")) - 1
        to = int(np.searchsorted(self._row_starts, end, side="left"))
        flat = strip.reshape(len(strip), -1)
        rows = np.empty((to - at, flat.shape[1]), np.uint32)
        for number in range(at, to):
            part = flat[max(self._row_starts[number] - first, 0) : self._row_starts[number + 1] - first]
            np.add.reduce(part, axis=0, dtype=np.uint32, out=rows[number - at])
        by_column = rows.reshape(to - at, strip.shape[1], -1)
        sums: Sums = np.add.reduceat(by_column, self._column_starts, axis=1, dtype=self._kind)
        sums[:1] += self._open
        complete = int(np.searchsorted(self._row_starts, end, side="right")) - 1 - at
        self._open = sums[complete:] if complete < len(sums) else np.zeros_like(self._open)
        heights = np.diff(self._row_starts[at : at + complete + 1])
        return sums[:complete], (heights[:, np.newaxis] * self._widths).astype(np.float64)


def rounded_together(sums: Sums, counts: Reals | float) -> Bytes:
    """(rows, columns, components) over (rows, columns), or over one number: the averages; nothing where nothing counts."""
    share = 1 / np.maximum(counts, 1)
    found = np.empty(sums.shape, np.uint8)
    so_far, before = np.zeros(sums.shape[:2], np.result_type(sums.dtype, np.uint32)), np.zeros(sums.shape[:2], np.int32)
    for at in range(sums.shape[2]):
        so_far += sums[:, :, at]
        now = (so_far * share + 0.5).astype(np.int32)
        found[:, :, at] = now - before
        before = now
    return found


def averaged(values: Bytes, into: Size) -> Bytes:
    """The picture at fewer pixels; the same array where it has that size."""
    rows, columns, components = values.shape
    if (columns, rows) == into:
        return values
    return rounded_together(*Averages((columns, rows), into, components).add(values))
