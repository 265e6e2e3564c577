"""What lies below: a coarse map of the page that tells where ink was painted before, by the bounds of objects.

It answers one question: does this text or line stand on ink or on bare paper? Squares of a millimetre are enough for it.
"""

from __future__ import annotations

from math import sqrt

import numpy as np

from service.pdf.geometry import Box

MOST_CELLS = 250_000
"""Larger pages get larger squares, so that memory and time stay small."""


class Ground:
    def __init__(self, area: Box) -> None:
        self.x0, self.y0 = area.x0, area.y0
        self.cell = max(1.0, sqrt(max(area.width, 1.0) * max(area.height, 1.0) / MOST_CELLS))
        self.last_column, self.last_row = int(area.width / self.cell), int(area.height / self.cell)
        self.cells = np.zeros((self.last_row + 1, self.last_column + 1), dtype=np.bool_)

    def paint(self, box: Box, inked: bool) -> None:
        """An area is painted with ink, or in white that takes the ink away. Areas smaller than a square change nothing."""
        x0, y0, x1, y1 = box
        if x1 - x0 < self.cell and y1 - y0 < self.cell:
            return
        self.cells[self._row(y0) : self._row(y1) + 1, self._column(x0) : self._column(x1) + 1] = inked

    def inked(self, box: Box) -> bool:
        """Whether ink lies under the middle of the box."""
        return bool(self.cells[self._row((box[1] + box[3]) / 2), self._column((box[0] + box[2]) / 2)])

    def _column(self, x: float) -> int:
        column = int((x - self.x0) / self.cell)
        return 0 if column < 0 else min(column, self.last_column)

    def _row(self, y: float) -> int:
        row = int((y - self.y0) / self.cell)
        return 0 if row < 0 else min(row, self.last_row)
