"""Colours of text, lines and areas that a press may lose: nearly nothing, nearly solid, and blacks of several inks."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from service.pdf.content.graphics_state import Paint
from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.colors import NEAR_BLACK, NEAR_NOTHING, NEAR_SOLID, ObjectKind, PlainColor, Tint
from service.pdf.facts.painted.content import MOST_PLACES, MOST_PLAIN_COLORS
from service.pdf.facts.unknown import Unmeasured
from service.pdf.gather.effects import inks_at_the_edge, stands_on_its_own_colors, tints_of
from service.pdf.gather.ground import Ground, Tints
from service.pdf.gather.layers import Layers
from service.pdf.gather.small_areas import Tinted, as_they_come, order_of, packed, thousandths_of
from service.pdf.gather.tally import Tally
from service.pdf.walk.walker import Mark, ShownText

_SOLID = 0.995
"""What rounds to 100 %."""
_NONE = 0.005
"""What rounds to 0 %."""
_PERCENTS = np.array([round(100 * round(one / 1000, 2)) if one / 1000 >= _NONE else 0 for one in range(1001)])
"""By thousandths."""
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

    def add_small(self, tinted: Tinted, layers: Layers) -> None:
        """The same for areas that are told at once; `layers`: what lies under each of them."""
        percents, listed = _percents_to_list(tinted)
        several = (percents > 0).sum(axis=1) > 1
        has_black = np.array(["Black" in kind.inks for kind in tinted.areas.kinds])[tinted.areas.which]
        may_be_merged = np.flatnonzero(listed & several & has_black)
        under = [(at, one.tints) for at, one in enumerate(layers.under(may_be_merged)) if one is not None and one.tints]
        on_ink = may_be_merged[[place for place, _ in under]] if under else may_be_merged[:0]
        for area, tints, (_, below) in zip(on_ink.tolist(), tinted.tints_of(on_ink), under, strict=True):
            if stands_on_its_own_colors(tints, below):
                listed[area] = False
        areas = np.flatnonzero(listed)
        codes = packed(percents[areas], 101, np.zeros(len(areas), np.intp))
        firsts, which = as_they_come(codes)
        known = np.isin(codes[firsts], self._codes())
        kept = known | (np.cumsum(~known) <= MOST_PLAIN_COLORS - len(self.tallies))
        areas, codes = areas[kept[which]], codes[kept[which]]
        firsts, which = as_they_come(codes)
        order = order_of(which)
        ends = np.cumsum(np.bincount(which, minlength=len(firsts))).tolist()
        for at, first in enumerate(percents[areas[firsts]].tolist()):
            tints = tuple((ink, percent / 100) for ink, percent in zip(PROCESS_INKS, first, strict=True) if percent)
            tally = self.tallies.setdefault(("fill", tints), Tally())
            mine = areas[order[ends[at - 1] if at else 0 : ends[at]]]
            boxes = tinted.areas.boxes[mine[: MOST_PLACES - len(tally.boxes)]].tolist()
            tally.count += len(mine)
            tally.boxes += [Box(*one) for one in boxes]

    def _codes(self) -> list[int]:
        """Of the listed colours of areas, as `packed` has them of process inks in whole percent."""
        found = []
        for kind, tints in self.tallies:
            percents = [[round(100 * dict(tints).get(ink, 0)) for ink in PROCESS_INKS]]
            if kind == "fill":
                found.append(int(packed(np.array(percents), 101, np.zeros(1, np.intp))[0]))
        return found

    def found(self) -> tuple[PlainColor, ...]:
        return tuple(
            PlainColor(kind, tuple(Tint(ink, strength) for ink, strength in tints), tally.count, tuple(tally.boxes))
            for (kind, tints), tally in self.tallies.items()
        )


def _percents_to_list(tinted: Tinted) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.bool_]]:
    """As `_tints_to_list` of each area: its inks in whole percent, and whether it is listed."""
    percents = np.where(tinted.named & ~tinted.is_rgb[:, None], _PERCENTS[thousandths_of(tinted.tints)], 0)
    near = (percents > 0) & ((percents <= 100 * NEAR_NOTHING) | ((percents >= 100 * NEAR_SOLID) & (percents < 100 * _SOLID)))
    black = (percents[:, 3] >= 100 * NEAR_BLACK) & ((percents > 0).sum(axis=1) > 1)
    return percents, near.any(axis=1) | black


def _tints_to_list(paint: Paint) -> Tints | None:
    """None where the colour is none of those that are listed, or a conversion decides."""
    if paint.white or paint.pattern is not None or paint.shading or paint.family not in ("cmyk", "gray", "spot"):
        return None
    tints = tuple((ink, round(tint, 2)) for ink, tint in tints_of(paint) or () if ink and tint >= _NONE)
    black = max((tint for ink, tint in tints if ink == "Black"), default=0.0)
    near = any(tint <= NEAR_NOTHING or NEAR_SOLID <= tint < _SOLID for _, tint in tints)
    return tints if near or (black >= NEAR_BLACK and len(tints) > 1) else None
