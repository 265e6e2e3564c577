"""Many objects of one sort summed up: how many, and where the first ones stand."""

from __future__ import annotations

from service.pdf.facts.geometry import Box
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
