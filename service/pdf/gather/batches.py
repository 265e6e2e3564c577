"""Small areas of a page collected until something else is painted: gathered a hundred thousand at once, they cost the least."""

from __future__ import annotations

import numpy as np

from service.pdf.content.graphics_state import Paint
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.images import StandIn
from service.pdf.gather.marks import Gathered
from service.pdf.walk.small_areas import SmallAreas
from service.pdf.walk.walker import Mark

MOST_WAITING = 100_000
"""Areas; some 20 MB while they are gathered. Ours, no source."""


class InBatches:
    """Listens in place of what it gathers into."""

    def __init__(self, gathered: Gathered) -> None:
        self._gathered = gathered
        self._waiting: list[SmallAreas] = []
        self._count = 0

    def add(self, mark: Mark) -> None:
        if self._waiting:
            self._settle()
        self._gathered.add(mark)

    def add_small(self, areas: SmallAreas) -> None:
        self._waiting.append(areas)
        self._count += len(areas.boxes)
        if self._count >= MOST_WAITING:
            self._settle()

    def content(self, stand_ins: list[StandIn]) -> Content:
        if self._waiting:
            self._settle()
        return self._gathered.content(stand_ins)

    def _settle(self) -> None:
        waiting, self._waiting, self._count = self._waiting, [], 0
        self._gathered.add_small(_joined(waiting))


def _joined(several: list[SmallAreas]) -> SmallAreas:
    if len(several) == 1:
        return several[0]
    kinds: dict[tuple[object, ...], tuple[int, Paint]] = {}
    which = []
    for one in several:
        alike = [(kind.family, kind.written, kind.profile, kind.inks) for kind in one.kinds]
        numbers = [kinds.setdefault(key, (len(kinds), kind))[0] for key, kind in zip(alike, one.kinds, strict=True)]
        which.append(np.array(numbers, np.intp)[one.which])
    return SmallAreas(
        np.concatenate([one.boxes for one in several]),
        np.concatenate([one.colors for one in several]),
        tuple(kind for _, kind in kinds.values()),
        np.concatenate(which),
        np.concatenate([one.solid for one in several]),
    )
