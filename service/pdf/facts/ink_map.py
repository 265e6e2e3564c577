"""Where on a page ink lies, in small squares."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil, floor

from service.pdf.facts.geometry import SLACK_MM, Box


@dataclass(frozen=True)
class InkMap:
    """In which small squares of the media ink lies; made by `pdf.plates.areas.ink_squares`, which says what counts as ink."""

    left_mm: float
    """Of the first square, ruler mm; `top_mm` likewise."""
    top_mm: float
    square_mm: float
    """About 1; larger on a very large page."""
    columns: int
    rows: tuple[str, ...]
    """From the top. Hexadecimal bytes, the leftmost square in the lowest bit of the first byte, 1 for ink; a row that is like
    the one above it is empty, the first one where it has no ink."""

    def holds_ink(self, area: Box, part: Box, apart: Sequence[int] = ()) -> bool | None:
        """Whether ink lies in a part of the area; None where no square that lies wholly in the area tells.

        A square tells of the part if half of it (or as much as there is of the part) belongs to it, along both sides. Squares
        that are set `apart` (see `touched_by`) do not.
        """
        across = self._telling(area.x0 - self.left_mm, area.x1 - self.left_mm, part.x0 - self.left_mm, part.x1 - self.left_mm)
        down = self._telling(area.y0 - self.top_mm, area.y1 - self.top_mm, part.y0 - self.top_mm, part.y1 - self.top_mm)
        columns = _ones(across.start, min(across.stop, self.columns))
        telling = {at: columns & ~apart[at] if apart else columns for at in range(down.start, min(down.stop, len(self.rows)))}
        if not any(telling.values()):
            return None
        return any(self._bits[at] & squares for at, squares in telling.items())

    def inked_boxes(self, area: Box, apart: Sequence[int] = ()) -> tuple[Box, ...]:
        """Around the ink in the squares that lie wholly in the area and are not set `apart`, as few boxes as rows allow."""
        left, right = self._inside(area.x0 - self.left_mm, area.x1 - self.left_mm)
        columns = _ones(left, min(right, self.columns))
        first, last = self._inside(area.y0 - self.top_mm, area.y1 - self.top_mm)
        last = min(last, len(self.rows))
        open_runs: dict[tuple[int, int], int] = {}
        found: list[Box] = []
        for at in range(first, last + 1):
            bits = self._bits[at] & columns & ~(apart[at] if apart else 0) if at < last else 0
            runs = dict.fromkeys(_runs(bits))
            found += [self._box(start, row, end, at) for (start, end), row in open_runs.items() if (start, end) not in runs]
            open_runs = {run: open_runs.get(run, at) for run in runs}
        return tuple(found)

    def touched_by(self, boxes: Iterable[Box]) -> tuple[int, ...]:
        """For each row, the squares that one of the boxes touches, as bits: to set them apart."""
        rows = [0] * len(self.rows)
        for box in boxes:
            left, right = self._touched(box.x0 - self.left_mm, box.x1 - self.left_mm)
            columns = _ones(left, min(right, self.columns))
            top, bottom = self._touched(box.y0 - self.top_mm, box.y1 - self.top_mm)
            for at in range(top, min(bottom, len(rows))):
                rows[at] |= columns
        return tuple(rows)

    @cached_property
    def _bits(self) -> tuple[int, ...]:
        """Each row as a number, its leftmost square in the lowest bit."""
        found: list[int] = []
        for row in self.rows:
            found.append(int.from_bytes(bytes.fromhex(row), "little") if row else found[-1] if found else 0)
        return tuple(found)

    def _inside(self, start_mm: float, end_mm: float) -> tuple[int, int]:
        """The first square that lies wholly between the two, and one beyond the last."""
        first = max(ceil((start_mm + SLACK_MM) / self.square_mm), 0)
        return first, max(floor((end_mm - SLACK_MM) / self.square_mm), first)

    def _touched(self, start_mm: float, end_mm: float) -> tuple[int, int]:
        return max(floor(start_mm / self.square_mm), 0), max(ceil(end_mm / self.square_mm), 0)

    def _telling(self, area_start: float, area_end: float, start: float, end: float) -> range:
        first, last = self._inside(area_start, area_end)
        needed = min(end - start, self.square_mm / 2) - SLACK_MM
        return range(
            max(first, ceil((start + needed) / self.square_mm) - 1), min(last, floor((end - needed) / self.square_mm) + 1)
        )

    def _box(self, column0: int, row0: int, column1: int, row1: int) -> Box:
        x0, x1 = (round(self.left_mm + at * self.square_mm, 2) for at in (column0, column1))
        y0, y1 = (round(self.top_mm + at * self.square_mm, 2) for at in (row0, row1))
        return Box(x0, y0, x1, y1)


def _ones(start: int, end: int) -> int:
    """A number with these bits set."""
    return (1 << end) - (1 << start) if end > start else 0


def _runs(bits: int) -> list[tuple[int, int]]:
    """Where runs of set bits start, and one beyond where they end."""
    runs, at = [], 0
    while bits:
        gap = (bits & -bits).bit_length() - 1
        bits >>= gap
        length = (~bits & (bits + 1)).bit_length() - 1
        bits >>= length
        runs.append((at + gap, at + gap + length))
        at += gap + length
    return runs
