"""Fewer pixels of a picture: averages over whole samples, rounded once, so that no ink is made.

Rounded each for itself, four inks of 255 steps can add up to two steps more than they do; and a limit of total ink is a matter of
such steps. So the inks of a pixel are rounded together: their sum is the rounded sum, each is its own average rounded up or down.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Bytes = npt.NDArray[np.uint8]
Reals = npt.NDArray[np.float64]
Sums = npt.NDArray[np.unsignedinteger | np.float64]
Size = tuple[int, int]
"""Columns, rows."""


class Averages:
    """Of a picture that comes in strips of rows, from the top. Every sample counts in one pixel; pixels differ by one sample at
    most in each direction.
    """

    def __init__(self, size: Size, into: Size, components: int) -> None:
        columns, rows = size
        self.row_starts = np.arange(into[1] + 1, dtype=np.int64) * rows // into[1]
        self.column_starts = np.arange(into[0], dtype=np.int64) * columns // into[0]
        widths = np.diff(self.column_starts, append=columns)
        self.area = (np.diff(self.row_starts)[:, np.newaxis] * widths).astype(np.float64)
        """(rows, columns): samples of each pixel."""
        fit = components * 255 * float(self.area.max()) < 2**32
        kind = np.uint32 if fit else np.float64
        self.sums: Sums = np.zeros((into[1], into[0], components), kind)
        self._row = 0

    def add(self, strip: Bytes) -> None:
        """(rows, columns, components)."""
        first, end = self._row, self._row + len(strip)
        self._row = end
        at = int(np.searchsorted(self.row_starts, first, side="right")) - 1
        to = int(np.searchsorted(self.row_starts, end, side="left"))
        flat = strip.reshape(len(strip), -1)
        rows = np.empty((to - at, flat.shape[1]), np.uint32)
        for number in range(at, to):
            part = flat[max(self.row_starts[number] - first, 0) : self.row_starts[number + 1] - first]
            np.add.reduce(part, axis=0, dtype=np.uint32, out=rows[number - at])
        by_column = rows.reshape(to - at, strip.shape[1], -1)
        self.sums[at:to] += np.add.reduceat(by_column, self.column_starts, axis=1, dtype=self.sums.dtype)


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
    averages = Averages((columns, rows), into, components)
    averages.add(values)
    return rounded_together(averages.sums, averages.area)
