"""Small areas that are to be painted on the ground, one upon the other, and what lies under each, found all at once."""

from __future__ import annotations

import numpy as np

from service.pdf.gather.ground import Below, Ground
from service.pdf.gather.small_areas import Tinted, order_of
from service.pdf.walk.small_areas import Indices


class Layers:
    def __init__(self, ground: Ground, tinted: Tinted) -> None:
        self._ground, self._boxes = ground, tinted.areas.boxes
        painting = np.flatnonzero(ground.covers(self._boxes))
        numbers = tinted.numbers(painting, ground)
        squares = ground.squares(self._boxes[painting])
        there = squares >= 0
        self._squares = squares[there]
        self._areas = np.broadcast_to(painting[:, None], squares.shape)[there]
        self._numbers = np.broadcast_to(numbers[:, None], squares.shape)[there]

    def under(self, asked: Indices) -> list[Below | None]:
        """What lies under the whole of each before it is painted; None where that is not one plain colour (`under_all_of`)."""
        count = len(self._boxes)
        order = order_of(self._squares)  # within each square they come as they are painted
        events, numbers = (self._squares * count + self._areas)[order], self._numbers[order]
        squares = self._ground.squares(self._boxes[asked])
        before = _found_in(events, (squares * count + asked[:, None]).reshape(-1), squares.reshape(-1)).reshape(squares.shape) - 1
        was_painted = (before >= 0) & (squares >= 0)
        if len(events):
            was_painted &= events[before] // count == squares
        flat = self._ground.cells.reshape(-1)
        found = flat[squares].astype(np.int64)
        if len(events):
            found = np.where(was_painted, numbers[before], found)
        found = np.where(squares >= 0, found, found[:, :1])
        is_one = (found == found[:, :1]).all(axis=1)
        kinds = self._ground.kinds
        told = zip(found[:, 0].tolist(), is_one.tolist(), strict=True)
        return [kinds[number] if alike and kinds[number].tints is not None else None for number, alike in told]

    def paint(self) -> None:
        """In their order: of several in one square the last stays."""
        self._ground.cells.reshape(-1)[self._squares] = self._numbers


def _found_in(events: Indices, asked: Indices, squares: Indices) -> Indices:
    """As `searchsorted`, which is quicker where it looks for one after the other as they lie."""
    order = order_of(squares)
    found = np.empty_like(order)
    found[order] = np.searchsorted(events, asked[order])
    return found
