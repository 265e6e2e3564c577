"""What lies below: a coarse map of the page that tells what was painted there before, by the bounds of objects.

It answers: does this text or line stand on bare paper, on which sorts of ink (`effects.COLOR`, `SPOT`, `BLACK`), and, where
plain areas alone were painted, on which tints? Squares of a millimetre are enough for it.
"""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import PROCESS_INKS

MOST_CELLS = 250_000
"""Larger pages get larger squares, so that memory and time stay small."""

MOST_KINDS = 4_096
"""A page of more colours than that keeps the sorts of ink of the others, and not their tints."""

Tints = tuple[tuple[str, float], ...]
"""Ink and its strength, 0–1, of a plain colour; inks at 0 are left out."""


class Below(NamedTuple):
    sorts: int
    """Sorts of ink; 0: none."""
    tints: Tints | None
    """None where they differ from spot to spot, or a conversion decides."""


PAPER = Below(0, ())
THOUSANDTHS = 1002
"""Digits of a code: none of an ink, or its thousandths and one more."""


def code_of(kind: Below) -> int | None:
    """One number for the sorts and the thousandths of process inks; None where it is no such colour."""
    if kind.tints is None:
        return None
    digits = dict.fromkeys(PROCESS_INKS, 0)
    for ink, tint in kind.tints:
        thousandths = round(tint * 1000)
        if ink not in digits or digits[ink] or round(thousandths / 1000, 3) != tint:
            return None
        digits[ink] = thousandths + 1
    if tuple(ink for ink, digit in digits.items() if digit) != tuple(ink for ink, _ in kind.tints):  # named in another order
        return None
    code = kind.sorts
    for digit in digits.values():
        code = code * THOUSANDTHS + digit
    return code


class Ground:
    def __init__(self, area: Box) -> None:
        self.x0, self.y0 = area.x0, area.y0
        self.cell = max(1.0, sqrt(max(area.width, 1.0) * max(area.height, 1.0) / MOST_CELLS))
        self.last_column, self.last_row = int(area.width / self.cell), int(area.height / self.cell)
        self.cells = np.zeros((self.last_row + 1, self.last_column + 1), dtype=np.uint16)
        """Numbers of what lies there, in the order of `kinds`."""
        self._flat = self.cells.reshape(-1).data  # the same memory: one cell is read faster from it
        self.kinds = [PAPER]
        self._numbers = {PAPER: 0}
        self._codes: dict[int, int] = {}
        """Of numbers whose code is known."""
        self._by_code: npt.NDArray[np.int64] | None = None

    def paint(self, box: Box, laid: Below, kept: int) -> None:
        """An area is painted with ink, or in white; of what was there the sorts in `kept` stay. Areas smaller than a square
        change nothing.
        """
        x0, y0, x1, y1 = box
        if (x1 - x0 < self.cell and y1 - y0 < self.cell) or x1 < self.x0 or y1 < self.y0:
            return
        part = self.cells[self._rows_and_columns(box)]
        if not kept:
            part[...] = self.number(laid)
            return
        for number in np.unique(part):
            stays = self.kinds[number].sorts & kept
            part[part == number] = self.number(Below(stays | laid.sorts, None) if stays else laid)

    def covers(self, boxes: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
        """Which areas change anything: those that are no smaller than a square."""
        x0, y0, x1, y1 = boxes.T
        return (x1 - x0 >= self.cell) | (y1 - y0 >= self.cell)  # type: ignore[no-any-return]

    def squares(self, boxes: npt.NDArray[np.float64]) -> npt.NDArray[np.int64]:
        """Of each small area on the map, the places of its squares in the rows one behind the other; -1 fills up."""
        x0, y0, x1, y1 = boxes.T
        first_columns, last_columns = (((one - self.x0) / self.cell).astype(np.int64) for one in (x0, x1))
        first_rows, last_rows = (((one - self.y0) / self.cell).astype(np.int64) for one in (y0, y1))
        across = np.arange(int((last_columns - first_columns).max(initial=0)) + 1)
        down = np.arange(int((last_rows - first_rows).max(initial=0)) + 1)
        columns = first_columns[:, None, None] + across[None, None, :]
        rows = first_rows[:, None, None] + down[None, :, None]
        covered = (columns <= last_columns[:, None, None]) & (rows <= last_rows[:, None, None])
        covered &= (columns <= self.last_column) & (rows <= self.last_row)
        return np.where(covered, rows * (self.last_column + 1) + columns, -1).reshape(len(boxes), len(down) * len(across))

    def number(self, kind: Below, code: int | None = None) -> int:
        """`code`: its own, where it is known (`code_of`)."""
        number = self._numbers.get(kind)
        if number is None:
            if not self.room and kind.tints is not None:
                return self.number(Below(kind.sorts, None))
            number = self._numbers[kind] = len(self.kinds)
            self.kinds.append(kind)
            if code is not None:
                self._codes[number] = code
        return number

    @property
    def room(self) -> int:
        """So many more plain colours are taken in."""
        return max(0, MOST_KINDS - len(self.kinds))

    def numbers_of_codes(self, codes: npt.NDArray[np.int64], sorts: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
        """Where it is full: those of plain colours of process inks, by their codes (`code_of`), so that nobody has to put the
        colours themselves together.
        """
        if self._by_code is None:
            numbered = ((self._codes.get(number) or code_of(kind), number) for number, kind in enumerate(self.kinds))
            known = {code: number for code, number in numbered if code is not None}
            self._by_code = np.array(sorted(known.items()), dtype=np.int64).reshape(-1, 2).T
        known_codes, numbers = self._by_code
        places = np.searchsorted(known_codes, codes).clip(max=len(known_codes) - 1)
        is_known = known_codes[places] == codes
        found: npt.NDArray[np.int64] = np.where(is_known, numbers[places], 0)
        for one in dict.fromkeys(sorts[~is_known].tolist()):
            found[~is_known & (sorts == one)] = self.number(Below(one, None))
        return found

    def _rows_and_columns(self, box: Box) -> tuple[slice, slice]:
        cell = self.cell
        first_row, first_column = int((box[1] - self.y0) / cell), int((box[0] - self.x0) / cell)
        rows = slice(max(first_row, 0), int((box[3] - self.y0) / cell) + 1)
        return rows, slice(max(first_column, 0), int((box[2] - self.x0) / cell) + 1)

    def below(self, box: Box) -> Below:
        """What lies under the middle of the box."""
        return self.at((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)

    def at(self, x: float, y: float) -> Below:
        row = int((y - self.y0) / self.cell)
        column = int((x - self.x0) / self.cell)
        row = 0 if row < 0 else self.last_row if row > self.last_row else row
        column = 0 if column < 0 else self.last_column if column > self.last_column else column
        return self.kinds[self._flat[row * (self.last_column + 1) + column]]

    def under_all_of(self, box: Box) -> Below | None:
        """What lies under the whole box; None where that is not one plain colour."""
        if box[2] < self.x0 or box[3] < self.y0:
            return None
        part = self.cells[self._rows_and_columns(box)]
        if not part.size or (part != part.flat[0]).any():
            return None
        found = self.kinds[int(part.flat[0])]
        return None if found.tints is None else found
