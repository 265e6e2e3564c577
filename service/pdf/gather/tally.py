"""Many objects of one sort summed up: how many, where the first ones stand, and which edges of the trim they reach."""

from __future__ import annotations

from service.pdf.facts.geometry import SLACK_MM, Box, Sides
from service.pdf.facts.painted.content import MOST_PLACES


class Tally:
    """Grows with each object; `boxes` keeps the first `MOST_PLACES`."""

    __slots__ = ("boxes", "count")

    def __init__(self) -> None:
        self.count = 0
        self.boxes: list[Box] = []

    def add(self, box: Box) -> None:
        self.count += 1
        if self.count <= MOST_PLACES:
            self.boxes.append(box)


class EdgesMet:
    """Sides of the trim that ink reaches from inside."""

    def __init__(self, trim: Box) -> None:
        self._trim = trim
        self._top = self._right = self._bottom = self._left = False

    def meet(self, box: Box) -> None:
        trim = self._trim
        inside = box.intersection(trim)
        if inside is None or (inside.width <= SLACK_MM and inside.height <= SLACK_MM):
            return
        self._left |= box.x0 <= trim.x0 + SLACK_MM < box.x1
        self._right |= box.x1 >= trim.x1 - SLACK_MM > box.x0
        self._top |= box.y0 <= trim.y0 + SLACK_MM < box.y1
        self._bottom |= box.y1 >= trim.y1 - SLACK_MM > box.y0

    def met(self) -> Sides[bool]:
        return Sides(top=self._top, right=self._right, bottom=self._bottom, left=self._left)
