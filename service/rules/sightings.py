"""What breaks a rule for one cause, gathered page by page until it becomes one finding."""

from __future__ import annotations

from collections.abc import Iterable

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.rules.base import Place


class Sightings:
    """Grows with each page: `places` as far as the measurements keep them, `count` of all objects."""

    def __init__(self) -> None:
        self.places: list[Place] = []
        self.numbers: set[int] = set()
        self.count = 0

    def add(self, page: Page, boxes: Iterable[Box], count: int = 1) -> None:
        self.numbers.add(page.number)
        self.places.extend(Place(page.number, box) for box in boxes)
        self.count += count

    def join(self, other: Sightings) -> None:
        self.places += other.places
        self.numbers |= other.numbers
        self.count += other.count

    @property
    def pages(self) -> tuple[int, ...]:
        return tuple(sorted(self.numbers))


def bleed_area(page: Page) -> Box:
    """The trimmed page and its bleed: what lies beyond is slug."""
    return page.boxes_mm.bleed.union(page.boxes_mm.trim)


def within(area: Box, boxes: Iterable[Box]) -> tuple[Box, ...]:
    """Those that lie in the area at least in part; touching its edge is not enough."""
    return tuple(one for one in boxes if one.x0 < area.x1 and area.x0 < one.x1 and one.y0 < area.y1 and area.y0 < one.y1)
