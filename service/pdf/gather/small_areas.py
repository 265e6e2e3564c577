"""Small areas that the walk tells all at once, gathered with arrays as `Gathered.add` gathers them one by one.

They leave ink, lie wholly on the trimmed page, show nothing through, and are no lines: what they add are colours, crowds of
artwork, and the ground for what is painted later.
"""

from __future__ import annotations

from itertools import compress

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
from service.pdf.gather.vectors import Areas, with_inks
from service.pdf.walk.small_areas import Indices, Reals, SmallAreas

Flags = npt.NDArray[np.bool_]


class Tinted:
    """The tints of small areas, as `effects.tints_of` has them of one."""

    def __init__(self, areas: SmallAreas) -> None:
        self.areas = areas
        self.is_rgb: Flags = np.array([kind.family == "rgb" for kind in areas.kinds])[areas.which]
        raw = np.where(self.is_rgb[:, np.newaxis], 1 - areas.colors, areas.colors)
        self.named: Flags = np.where(self.is_rgb[:, np.newaxis], (True, True, True, False), raw > 0)
        self.tints: Reals = rounded(raw)
        self.sums: Reals = (self.tints * self.named).sum(axis=1)

    def numbers(self, chosen: Indices, ground: Ground) -> Indices:
        """What each of the chosen areas leaves on the paper, as the ground numbers it, in the order in which they come."""
        thousandths = np.where(self.named[chosen], thousandths_of(self.tints[chosen]) + 1, 0)
        sorts = np.array([inks_painted(kind) for kind in self.areas.kinds])[self.areas.which[chosen]]
        codes = packed(thousandths, THOUSANDTHS, sorts)
        firsts, which = as_they_come(codes)
        numbers: list[int] = []
        while len(numbers) < len(firsts) and ground.room:
            new = firsts[len(numbers) : len(numbers) + ground.room]
            kinds = zip(sorts[new].tolist(), self.tints_of(chosen[new]), codes[new].tolist(), strict=True)
            numbers += [ground.number(Below(sort, tints), code) for sort, tints, code in kinds]
        others = firsts[len(numbers) :]
        if len(others):
            numbers += ground.numbers_of_codes(codes[others], sorts[others]).tolist()
        return np.array(numbers, np.int64)[which]

    def tints_of(self, areas: Indices) -> list[Tints]:
        rows = zip(self.tints[areas].tolist(), self.named[areas].tolist(), strict=True)
        return [tuple(compress(zip(PROCESS_INKS, tints, strict=True), is_there)) for tints, is_there in rows]


def rounded(tints: Reals) -> Reals:
    """To three decimals as `round` does it: by their nearest thousandths, but one by one what lies halfway between two."""
    thousandths = tints * 1000
    found: Reals = np.rint(thousandths) / 1000
    halfway = np.abs(np.abs(thousandths - np.trunc(thousandths)) - 0.5) < 1e-6
    if halfway.any():
        found[halfway] = [round(one, 3) for one in tints[halfway].tolist()]
    return found


def thousandths_of(tints: Reals) -> npt.NDArray[np.int64]:
    """Of such as are rounded to them."""
    return np.rint(tints * 1000).astype(np.int64)


def packed(digits: npt.NDArray[np.int64], base: int, kinds: Indices) -> npt.NDArray[np.int64]:
    """One number for each row and kind."""
    codes = kinds.astype(np.int64)
    for column in range(digits.shape[1]):
        codes = codes * base + digits[:, column]
    return codes


def as_they_come(codes: npt.NDArray[np.int64]) -> tuple[Indices, Indices]:
    """Where each different code stands first, in order, and which of these each is."""
    order = order_of(codes)
    ordered = codes[order]
    begins = np.ones(len(codes), np.bool_)
    np.not_equal(ordered[1:], ordered[:-1], out=begins[1:])
    firsts = order[begins]
    as_first = np.argsort(firsts)
    places = np.empty_like(as_first)
    places[as_first] = np.arange(len(as_first))
    which = np.empty_like(order)
    which[order] = places[np.cumsum(begins) - 1]
    return firsts[as_first], which


def order_of(codes: npt.NDArray[np.int64]) -> Indices:
    """Alike ones in the order in which they come. Of a narrow range, NumPy sorts by digits, which takes a tenth."""
    least = int(codes.min(initial=0))
    narrow = int(codes.max(initial=0)) - least < 1 << 16
    return np.argsort((codes - least).astype(np.uint16) if narrow else codes, kind="stable")


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
    firsts, which = as_they_come((columns - columns.min()) * (int(np.ptp(rows)) + 1) + rows)
    order = order_of(which)
    starts = np.flatnonzero(np.diff(which[order], prepend=-1))
    sorted_boxes = areas.boxes[order]
    least = np.minimum.reduceat(sorted_boxes[:, :2], starts)
    most = np.maximum.reduceat(sorted_boxes[:, 2:], starts)
    places = zip(columns[firsts].tolist(), rows[firsts].tolist(), strict=True)
    boxes = np.concatenate((least, most), axis=1).tolist()
    inks = _inks_of_crowds(areas, which, firsts)
    for (column, row), box, some, count in zip(places, boxes, inks, np.bincount(which).tolist(), strict=True):
        artwork.add_crowd((column, row, "fill"), box, some, count)


def _inks_of_crowds(areas: SmallAreas, which: Indices, firsts: Indices) -> list[tuple[str, ...]]:
    """Of each crowd the inks in the order in which they come. Most have all of them with their first area."""
    inks = [kind.inks for kind in areas.kinds]
    found = [inks[kind] for kind in areas.which[firsts].tolist()]
    everything = len({ink for some in inks for ink in some})
    is_complete = np.array([len(some) == everything for some in inks])[areas.which[firsts]]
    left = np.flatnonzero(~is_complete[which])
    pairs, _ = as_they_come(which[left].astype(np.int64) * len(inks) + areas.which[left])
    for crowd, kind in zip(which[left[pairs]].tolist(), areas.which[left[pairs]].tolist(), strict=True):
        found[crowd] = with_inks(found[crowd], inks[kind])
    return found
