"""Small areas that the walk tells all at once, gathered with arrays as `Gathered.add` gathers them one by one.

They leave ink, lie wholly on the trimmed page, show nothing through, and are no lines: what they add are colours, crowds of
artwork, and the ground for what is painted later.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.colors import ColorFamily, ObjectKind
from service.pdf.facts.painted.content import MOST_PLACES
from service.pdf.facts.painted.vectors import CROWD_MM
from service.pdf.gather.effects import inks_painted
from service.pdf.gather.ground import THOUSANDTHS, Below, Ground, Tints
from service.pdf.gather.tally import Tally
from service.pdf.gather.vectors import Areas, Crowd
from service.pdf.walk.small_areas import Indices, Reals, SmallAreas

Flags = npt.NDArray[np.bool_]


class Tinted:
    """The tints of small areas, as `effects.tints_of` has them of one."""

    def __init__(self, areas: SmallAreas) -> None:
        self.areas = areas
        self.is_rgb: Flags = np.array([kind.family == "rgb" for kind in areas.kinds])[areas.which]
        raw = np.where(self.is_rgb[:, np.newaxis], 1 - areas.colors, areas.colors)
        self.named: Flags = np.where(self.is_rgb[:, np.newaxis], (True, True, True, False), raw > 0)
        different, each = np.unique(raw, return_inverse=True)
        self.tints: Reals = np.array([round(one, 3) for one in different.tolist()])[each.reshape(raw.shape)]
        self.sums: Reals = (self.tints * self.named).sum(axis=1)

    def numbers(self, chosen: Indices, ground: Ground) -> Indices:
        """What each of the chosen areas leaves on the paper, as the ground numbers it, in the order in which they come."""
        thousandths = np.where(self.named[chosen], np.rint(self.tints[chosen] * 1000).astype(np.int64) + 1, 0)
        sorts = np.array([inks_painted(kind) for kind in self.areas.kinds])[self.areas.which[chosen]]
        codes = packed(thousandths, THOUSANDTHS, sorts)
        firsts, which = as_they_come(codes)
        found = np.zeros(len(firsts), np.int64)
        new = 0
        while new < len(firsts) and not ground.is_full:
            first = int(firsts[new])
            found[new] = ground.number(Below(int(sorts[first]), self.tints_of(int(chosen[first]))))
            new += 1
        if new < len(firsts):
            found[new:] = ground.numbers_of_codes(codes[firsts[new:]], sorts[firsts[new:]])
        return found[which]

    def tints_of(self, area: int) -> Tints:
        row = zip(PROCESS_INKS, self.tints[area].tolist(), self.named[area].tolist(), strict=True)
        return tuple((ink, tint) for ink, tint, is_there in row if is_there)


def packed(digits: npt.NDArray[np.int64], base: int, kinds: Indices) -> npt.NDArray[np.int64]:
    """One number for each row and kind."""
    codes = kinds.astype(np.int64)
    for column in range(digits.shape[1]):
        codes = codes * base + digits[:, column]
    return codes


def as_they_come(codes: npt.NDArray[np.int64]) -> tuple[Indices, Indices]:
    """Where each different code stands first, in order, and which of these each is."""
    _, firsts, which = np.unique(codes, return_index=True, return_inverse=True)
    order = np.argsort(firsts)
    places = np.empty_like(order)
    places[order] = np.arange(len(order))
    return firsts[order], places[which]


ColorKey = tuple[ColorFamily | None, str, ObjectKind, bool, str | None, bool]


def add_colors(colors: dict[ColorKey, tuple[Tally, dict[str, None]]], areas: SmallAreas) -> None:
    """By ways of naming colour, as `Gathered` sums them up."""
    firsts, _ = as_they_come(areas.which.astype(np.int64))
    by_name: dict[ColorKey, list[int]] = {}
    for kind in areas.which[firsts].tolist():
        paint = areas.kinds[kind]
        by_name.setdefault((paint.family, paint.written, "fill", False, paint.profile, False), []).append(kind)
    for name, kinds in by_name.items():
        tally, inks = colors.setdefault(name, (Tally(), {}))
        found = np.flatnonzero(np.isin(areas.which, kinds))
        tally.count += len(found)
        tally.boxes += [Box(*one) for one in areas.boxes[found[: MOST_PLACES - len(tally.boxes)]].tolist()]
        inks.update(dict.fromkeys(ink for kind in kinds for ink in areas.kinds[kind].inks))


def add_crowds(artwork: Areas, areas: SmallAreas) -> None:
    """By squares, as `Areas.add` does."""
    x0, y0, x1, y1 = areas.boxes.T
    columns, rows = (((low + high) / 2 // CROWD_MM).astype(np.int64) for low, high in ((x0, x1), (y0, y1)))
    firsts, which = as_they_come((columns << 32) + rows)
    order = np.argsort(which, kind="stable")
    starts = np.flatnonzero(np.diff(which[order], prepend=-1))
    sorted_boxes = areas.boxes[order]
    least = np.minimum.reduceat(sorted_boxes[:, :2], starts).tolist()
    most = np.maximum.reduceat(sorted_boxes[:, 2:], starts).tolist()
    counts = np.bincount(which).tolist()
    crowds: list[Crowd] = []
    for column, row, low, high, count in zip(columns[firsts].tolist(), rows[firsts].tolist(), least, most, counts, strict=True):
        crowd = artwork.crowd(column, row, "fill")
        crowd.grow(low[0], low[1], high[0], high[1], count)
        crowds.append(crowd)
    pairs, _ = as_they_come(which.astype(np.int64) * len(areas.kinds) + areas.which)
    for square, kind in zip(which[pairs].tolist(), areas.which[pairs].tolist(), strict=True):
        for ink in areas.kinds[kind].inks:
            crowds[square].inks[ink] = None
