"""A booklet made by hand: printed on both sides, folded, nested, stapled, and read from front to back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple


class Printed(NamedTuple):
    """Something that can be read on a printed side: where its middle is, as a part of the paper's width, and how it stands."""

    text: str
    across: float
    upright: bool


def read_through(sides: Sequence[Sequence[Printed]], *, landscape: bool, flip: str) -> list[list[Printed]]:
    """What stands on each page of the finished booklet, in reading order, as the reader sees it.

    The printer takes the sides in turn, front and back of each sheet. The paper lies with its front up; the printer turns it over
    about one of its edges, which stands upright or lies level as the paper does. The reader folds it in the middle with the front
    outside, puts the sheets into one another, the first outermost, and turns leaf by leaf from right to left.
    """
    edge_is_upright = (flip == "short") == landscape
    fronts = list(sides[0::2])
    backs = [side if edge_is_upright else [_turned_around(one) for one in side] for side in sides[1::2]]
    pages: list[list[Printed]] = []
    for front, back in zip(fronts, backs, strict=True):  # right leaf of each sheet, from the outside in
        pages += [_right(front), _left(back)]
    for front, back in zip(reversed(fronts), reversed(backs), strict=True):  # left leaf of each sheet, from the inside out
        pages += [_right(back), _left(front)]
    return pages


def _turned_around(one: Printed) -> Printed:
    """The paper was turned over about a level edge, the reader turns it about an upright one: half a turn between them."""
    return Printed(one.text, 1 - one.across, not one.upright)


def _left(side: Sequence[Printed]) -> list[Printed]:
    return [one for one in side if one.across < 0.5]


def _right(side: Sequence[Printed]) -> list[Printed]:
    return [one for one in side if one.across > 0.5]
