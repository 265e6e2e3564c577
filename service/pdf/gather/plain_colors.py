"""Colours of text, lines and areas that a press may lose: nearly nothing, nearly solid, and blacks of several inks."""

from __future__ import annotations

from service.pdf.content.graphics_state import Paint
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.colors import NEAR_BLACK, NEAR_NOTHING, NEAR_SOLID, ObjectKind, PlainColor, Tint
from service.pdf.facts.painted.content import MOST_PLAIN_COLORS
from service.pdf.facts.unknown import Unmeasured
from service.pdf.gather.effects import inks_at_the_edge, tints_of
from service.pdf.gather.ground import Ground, Tints
from service.pdf.gather.tally import Tally
from service.pdf.walk.walker import Mark, ShownText

_SOLID = 0.995
"""What rounds to 100 %."""
_NONE = 0.005
"""What rounds to 0 %."""
MOST_LOOKED_UP = 4_096


class PlainColors:
    def __init__(self) -> None:
        self.tallies: dict[tuple[ObjectKind, Tints], Tally] = {}
        self._listed: dict[int, tuple[Paint, Tints | None]] = {}
        """By paint (the very object, which the entry keeps): most marks are painted in one of a few."""

    def add(self, mark: Mark, visible: Box, ground: Ground) -> None:
        """`ground`: what was painted before the mark."""
        if mark.kind not in ("text", "fill", "stroke"):
            return
        paint = mark.paint
        known = self._listed.get(id(paint))
        if known is None:
            known = paint, _tints_to_list(paint)
            if len(self._listed) < MOST_LOOKED_UP:
                self._listed[id(paint)] = known
        tints = known[1]
        if tints is None or mark.alpha < 1 or mark.blend_mode != "Normal" or mark.masked:
            return
        if isinstance(mark.detail, ShownText) and (mark.detail.ink is None or isinstance(mark.detail.ink, Unmeasured)):
            return
        if len(tints) > 1 and "Black" in paint.inks and inks_at_the_edge(paint, ground.under_all_of(visible)) == ("Black",):
            return  # black alone, which flattening merged with the colour below it
        tally = self.tallies.get((mark.kind, tints))
        if tally is None:
            if len(self.tallies) >= MOST_PLAIN_COLORS:
                return
            tally = self.tallies[mark.kind, tints] = Tally()
        tally.add(visible)

    def found(self) -> tuple[PlainColor, ...]:
        return tuple(
            PlainColor(kind, tuple(Tint(ink, strength) for ink, strength in tints), tally.count, tuple(tally.boxes))
            for (kind, tints), tally in self.tallies.items()
        )


def _tints_to_list(paint: Paint) -> Tints | None:
    """None where the colour is none of those that are listed, or a conversion decides."""
    if paint.white or paint.pattern is not None or paint.shading or paint.family not in ("cmyk", "gray", "spot"):
        return None
    tints = tuple((ink, round(tint, 2)) for ink, tint in tints_of(paint) or () if ink and tint >= _NONE)
    black = max((tint for ink, tint in tints if ink == "Black"), default=0.0)
    near = any(tint <= NEAR_NOTHING or NEAR_SOLID <= tint < _SOLID for _, tint in tints)
    return tints if near or (black >= NEAR_BLACK and len(tints) > 1) else None
