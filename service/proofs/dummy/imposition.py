"""Which reader's page lies where on a folded and stapled booklet's sheets. Arithmetic only.

* A booklet has 4 pages a sheet. With n pages, sheet i from the outside has n−2i+2 and 2i−1 on its front, 2i and n−2i+1 on its
  back; the odd page is on the right, each pair adds up to n+1 (mindprod.com/jgloss/imposition.html, and arithmetic).
* The sheets nest: each one inside another stands out by one caliper more at the open edge, which is trimmed away. Creep
  compensation moves the pages of sheet i towards the fold by (i−1) calipers (common practice, no source; a model of arcs gives
  half as much again).

It knows the caliper as it is told; pressure, glue and the fold's own thickness it does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

PAGES_A_SHEET = 4

BlanksPlace = Literal["end", "before-last", "after-first"]
"""Where blank pages are put in: after the last page; before the last, which stays the back cover; after the front cover."""

Slot = int | None
"""A reader's page, counted from 1 in the file; None: a blank that was added."""


@dataclass(frozen=True)
class Side:
    """One side of a sheet, as it is read: two pages next to the fold."""

    left: Slot
    right: Slot


@dataclass(frozen=True)
class Sheet:
    number: int
    """From 1, the outermost."""
    front: Side
    """The outside of the fold."""
    back: Side


def blanks_needed(count: int) -> int:
    """How many blank pages make the count a multiple of four."""
    return -count % PAGES_A_SHEET


def with_blanks(count: int, place: BlanksPlace) -> tuple[Slot, ...]:
    """The pages of the booklet in reading order."""
    pages: list[Slot] = list(range(1, count + 1))
    at = {"end": count, "before-last": max(count - 1, 0), "after-first": min(1, count)}[place]
    return (*pages[:at], *[None] * blanks_needed(count), *pages[at:])


def sheets(order: Sequence[Slot]) -> tuple[Sheet, ...]:
    """The sheets of a booklet, the outermost first. Raises ValueError where the count is no multiple of four."""
    n = len(order)
    if n % PAGES_A_SHEET:
        raise ValueError(f"{n} pages do not fill whole sheets of {PAGES_A_SHEET}")
    return tuple(
        Sheet(
            number=i,
            front=Side(order[n - 2 * i + 1], order[2 * i - 2]),
            back=Side(order[2 * i - 1], order[n - 2 * i]),
        )
        for i in range(1, n // PAGES_A_SHEET + 1)
    )


def creep_mm(sheet: int, caliper_mm: float) -> float:
    """How far the pages of this sheet move towards the fold."""
    return (sheet - 1) * caliper_mm
