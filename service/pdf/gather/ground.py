"""What lies below: a coarse map of the page that tells where ink was painted before, by the bounds of objects.

It answers one question: does this text or line stand on bare paper, or on which sorts of ink (`effects.COLOR`, `SPOT`, `BLACK`)?
Squares of a millimetre are enough for it.
"""

from __future__ import annotations

from math import sqrt

import numpy as np

from service.pdf.facts.geometry import Box

MOST_CELLS = 250_000
"""Larger pages get larger squares, so that memory and time stay small."""


class Ground:
    def __init__(self, area: Box) -> None:
        self.x0, self.y0 = area.x0, area.y0
        self.cell = max(1.0, sqrt(max(area.width, 1.0) * max(area.height, 1.0) / MOST_CELLS))
        self.last_column, self.last_row = int(area.width / self.cell), int(area.height / self.cell)
        self.cells = np.zeros((self.last_row + 1, self.last_column + 1), dtype=np.uint8)
        self._flat = self.cells.reshape(-1).data  # the same memory: one cell is read faster from it

    def paint(self, box: Box, inks: int, kept: int) -> None:
        """An area is painted with ink, or in white; of what was there the sorts in `kept` stay. Areas smaller than a square
        change nothing.
        """
        x0, y0, x1, y1 = box
        if x1 - x0 < self.cell and y1 - y0 < self.cell:
            return
        cell, left, top = self.cell, self.x0, self.y0
        if x1 < left or y1 < top:
            return
        first_row, first_column = int((y0 - top) / cell), int((x0 - left) / cell)
        rows = slice(first_row if first_row > 0 else 0, int((y1 - top) / cell) + 1)
        columns = slice(first_column if first_column > 0 else 0, int((x1 - left) / cell) + 1)
        self.cells[rows, columns] = self.cells[rows, columns] & kept | inks if kept else inks

    def inks_below(self, box: Box) -> int:
        """The sorts of ink under the middle of the box; 0 on bare paper."""
        return self.inks_at((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)

    def inks_at(self, x: float, y: float) -> int:
        """The sorts of ink at a point; 0 on bare paper."""
        row = int((y - self.y0) / self.cell)
        column = int((x - self.x0) / self.cell)
        row = 0 if row < 0 else self.last_row if row > self.last_row else row
        column = 0 if column < 0 else self.last_column if column > self.last_column else column
        return self._flat[row * (self.last_column + 1) + column]
