"""Pieces that end just inside the trim, those that others carry on over it, and patterns that run off it."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Box
from service.rules.edges.short_artwork import SIDES, Piece, loose_ends

TRIM = Box(10, 20, 210, 320)
"""A page of 200 × 300 mm that does not begin at the ruler's zero."""

CYAN, BLACK = ("Cyan",), ("Black",)


def piece(
    inner: float, outer: float, start: float = 100, end: float = 140, *, side: str = "top", kind: str = "fill",
    inks: tuple[str, ...] = CYAN,
) -> Piece:
    """Reaches from `inner` to `outer` mm inside the trim's edge on that side, and along it from `start` to `end`."""
    box = {
        "top": Box(start, TRIM.y0 + outer, end, TRIM.y0 + inner),
        "bottom": Box(start, TRIM.y1 - inner, end, TRIM.y1 - outer),
        "left": Box(TRIM.x0 + outer, start, TRIM.x0 + inner, end),
        "right": Box(TRIM.x1 - inner, start, TRIM.x1 - outer, end),
    }[side]
    return Piece(kind, inks, box)


def loose(*pieces: Piece, minimum_mm: float = 3) -> list[tuple[int, str, float]]:
    """Which of the pieces end loosely, on which side, how far inside."""
    zone = dict.fromkeys(SIDES, minimum_mm)
    return [(pieces.index(one), side, round(mm, 3)) for one, side, mm in loose_ends(list(pieces), TRIM, zone)]


@pytest.mark.parametrize("side", SIDES)
def test_a_panel_that_ends_one_millimetre_inside_is_loose_on_that_side(side: str) -> None:
    assert loose(piece(40, 1, side=side)) == [(0, side, 1)]


@pytest.mark.parametrize(
    ("outer", "is_loose"), [(-3, False), (0, False), (0.04, False), (0.06, True), (2.94, True), (2.96, False), (20, False)]
)
def test_it_is_loose_between_the_trim_and_the_end_of_the_quiet_zone(outer: float, is_loose: bool) -> None:
    assert bool(loose(piece(40, outer))) == is_loose


# --- Slices -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(
    ("inner", "is_loose"),
    [(1, False), (0.5, False), (0.45, True), (1.5, False), (1.55, True)],
    ids=["they meet", "a seam", "a gap", "they overlap", "one lies upon the other"],
)
def test_a_slice_is_carried_on_by_one_that_meets_it(side: str, inner: float, is_loose: bool) -> None:
    assert loose(piece(41, 1, side=side), piece(inner, -3, side=side)) == ([(0, side, 1)] if is_loose else [])


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(
    ("start", "end", "is_loose"),
    [(104, 160, False), (104.1, 160, True), (80, 136, False), (80, 135.9, True), (150, 160, True), (104, 140, False)],
)
def test_the_next_slice_goes_on_over_nine_tenths_of_its_length(side: str, start: float, end: float, is_loose: bool) -> None:
    assert bool(loose(piece(41, 1, side=side), piece(1, -3, start, end, side=side))) == is_loose


def test_slices_carry_on_one_after_the_other() -> None:
    assert loose(piece(41, 2.25), piece(2.25, 1), piece(1, -3)) == []
    assert loose(piece(41, 2.25), piece(2.25, 1)) == [(0, "top", 2.25), (1, "top", 1)]


@pytest.mark.parametrize(
    "beside",
    [piece(1, -3, kind="stroke"), piece(1.25, 1), piece(1.25, 1.125)],
    ids=["of another kind", "as far in", "further in"],
)
def test_what_does_not_carry_a_panel_outwards(beside: Piece) -> None:
    assert (0, "top", 1) in loose(piece(41, 1), beside)


def test_a_slice_of_another_colour_carries_a_picture_on() -> None:
    assert loose(piece(41, 1, kind="image"), piece(1, -3, kind="image", inks=BLACK)) == []


@pytest.mark.parametrize(
    ("more", "told"),
    [((), []), ((piece(1, -3, side="right"), piece(41, 1, side="right")), ["right"])],
    ids=["500,000 steps", "one more"],
)
def test_on_a_page_of_very_many_pieces_work_has_an_end(more: tuple[Piece, ...], told: list[str]) -> None:
    """Each slice looks at 999 bars that stand beside it before it finds the one that carries it on: 1,000 steps."""
    bars, slices = [piece(0.75, -3, 180, 181)] * 999, [piece(41, 1)] * 500
    assert [side for _, side, _ in loose(*bars, piece(1, -3), *slices, *more)] == told


# --- Patterns ---------------------------------------------------------------------------------------------------------


def dots(count: int, *, depth: float = -1, size: float = 4, kind: str = "fill", inks: tuple[str, ...] = CYAN) -> list[Piece]:
    """In a row along the top, each so large, that end at that depth."""
    return [piece(depth + size, depth, 20 + 35 * at, 20 + 35 * at + size, kind=kind, inks=inks) for at in range(count)]


INSIDE = piece(5, 1, 190, 194)
"""A dot like those of the row, but inside the trim."""


@pytest.mark.parametrize(
    ("row", "is_loose"),
    [
        (dots(3), False),
        (dots(2), True),
        (dots(3, depth=0), False),
        (dots(5, depth=4), True),
        (dots(3, inks=BLACK), True),
        (dots(3, kind="stroke"), True),
        (dots(3, size=30), False),
        (dots(3, size=31), True),
    ],
    ids=["three", "two", "at the edge", "inside", "another colour", "another kind", "as large as a piece", "too large"],
)
def test_a_dot_belongs_to_a_pattern_of_which_three_cross_the_edge(row: list[Piece], is_loose: bool) -> None:
    assert [one for one in loose(*row, INSIDE) if one[0] == len(row)] == ([(len(row), "top", 1)] if is_loose else [])


@pytest.mark.parametrize(("length", "is_loose"), [(30, False), (31, True)])
def test_a_bar_is_no_piece_of_a_pattern_of_dots(length: float, is_loose: bool) -> None:
    assert bool(loose(*dots(3), piece(5, 1, 160, 160 + length))) == is_loose
    bars = [piece(3, -1, 20 + 40 * at, 20 + 40 * at + length) for at in range(3)]
    assert bool([one for one in loose(*bars, INSIDE) if one[0] == 3]) == is_loose


def test_pictures_make_no_pattern() -> None:
    assert loose(*dots(3, kind="image"), INSIDE._replace(kind="image")) == [(3, "top", 1)]
