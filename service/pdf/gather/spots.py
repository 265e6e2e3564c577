"""How one ink beyond the process inks is used: its tints, and whether it always stands alone and overprints."""

from __future__ import annotations

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.colors import ObjectKind, SpotUse
from service.pdf.gather.tally import Tally


class SpotTally(Tally):
    __slots__ = ("alone", "least", "most", "overprints")

    def __init__(self) -> None:
        super().__init__()
        self.least, self.most, self.alone, self.overprints = 1.0, 0.0, True, True

    def add(self, box: Box, tints: tuple[float, float] = (0.0, 1.0), alone: bool = True, overprints: bool = False) -> None:
        super().add(box)
        self.least, self.most = min(self.least, tints[0]), max(self.most, tints[1])
        self.alone, self.overprints = self.alone and alone, self.overprints and overprints

    def found(self, ink: str, kind: ObjectKind) -> SpotUse:
        return SpotUse(ink, kind, self.least, self.most, self.alone, self.overprints, self.count, tuple(self.boxes))
