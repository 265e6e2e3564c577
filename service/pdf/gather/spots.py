"""What is summed up by a name: one ink beyond the process inks, and what stands on one layer."""

from __future__ import annotations

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.colors import ObjectKind, SpotUse
from service.pdf.facts.painted.content import MOST_LAYERS, LayerUse
from service.pdf.gather.tally import Tally
from service.pdf.gather.vectors import looks_like_a_line
from service.pdf.walk.walker import Mark


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


class _LayerTally(Tally):
    """Of lines; what else stands there is only counted."""

    __slots__ = ("inks", "others", "texts")

    def __init__(self) -> None:
        super().__init__()
        self.inks: dict[str, None] = {}
        self.texts = self.others = 0


class NamedLayers:
    def __init__(self) -> None:
        self._tallies: dict[str, _LayerTally] = {}

    def add(self, mark: Mark, visible: Box) -> None:
        """A mark that prints and shows, and is on a layer."""
        tally = self._tallies.get(mark.layer)
        if tally is None:
            if len(self._tallies) >= MOST_LAYERS:
                return
            tally = self._tallies[mark.layer] = _LayerTally()
        if mark.kind == "text":
            tally.texts += 1
        elif mark.kind in ("stroke", "fill") and looks_like_a_line(mark):
            tally.add(visible)
            tally.inks |= dict.fromkeys(mark.paint.inks)
        else:
            tally.others += 1

    def found(self) -> tuple[LayerUse, ...]:
        return tuple(
            LayerUse(name, one.count, one.texts, one.others, tuple(one.inks), tuple(one.boxes))
            for name, one in self._tallies.items()
        )
