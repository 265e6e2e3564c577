"""Total ink on arrays made by hand: a pixel of 0.25 mm, 16 of them a square millimetre."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.pdf.plates.areas import total_ink
from service.pdf.plates.areas.regions import Region, largest_regions
from service.pdf.plates.areas.total_ink import MostInk, Total, counts_of, percent_of
from tests.patience import processor_seconds

PIXEL_MM2 = 1 / 16


def inked(percent: float, rows: int = 40, columns: int = 60) -> Total:
    return np.full((rows, columns), round(percent * 2.55), dtype=np.uint16)


def most_ink(total: Total, pixel_mm2: float) -> MostInk:
    return total_ink.most_ink(total, counts_of(total), pixel_mm2)


def area_by_percent(total: Total, pixel_mm2: float) -> tuple[float, ...]:
    return total_ink.area_by_percent(counts_of(total), pixel_mm2)


def regions_over(total: Total, limit_percent: float, pixel_mm2: float, most: int) -> list[Region]:
    return total_ink.regions_over(total, counts_of(total), limit_percent, pixel_mm2, most)


def test_an_even_page_carries_what_it_carries() -> None:
    found = most_ink(inked(300), PIXEL_MM2)
    assert (found.percent, found.where) == (300, Region(2400, 0, 0, 40, 60))
    assert most_ink(inked(0), PIXEL_MM2) == (most_ink(inked(0, 1, 1), PIXEL_MM2))
    assert most_ink(inked(0), PIXEL_MM2).where is None


@pytest.mark.parametrize(
    ("rows", "columns", "expected"),
    [(4, 4, 400), (3, 5, 200), (1, 16, 400), (16, 1, 400), (1, 15, 200)],
    ids=["1 mm²", "15 pixels", "a line of 16 pixels", "one upright", "one too short"],
)
def test_only_what_holds_over_a_square_millimetre_counts(rows: int, columns: int, expected: float) -> None:
    total = inked(200)
    total[10 : 10 + rows, 20 : 20 + columns] = 1020
    assert most_ink(total, PIXEL_MM2).percent == expected


def test_specks_that_touch_by_a_corner_are_not_one_piece() -> None:
    total = inked(0)
    total[10:13, 10:13], total[13:16, 13:16] = 1020, 1020
    assert most_ink(total, PIXEL_MM2).percent == 0


def test_two_halves_of_different_strength_hold_together_what_the_weaker_has() -> None:
    total = inked(0)
    total[10:14, 10:12], total[10:14, 12:14] = 1000, 800
    found = most_ink(total, PIXEL_MM2)
    assert (found.percent, found.where) == (percent_of(800), Region(16, 10, 10, 14, 14))


def strongest_level(total: Total) -> int:
    """By trying every level there is; between two of them the same pixels are in."""
    return max(one for one in (0, *np.unique(total).tolist()) if one == 0 or largest_regions(total >= one, 1, 16))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(2, 200))
def test_halving_finds_what_trying_every_level_finds(seed: int, levels: int) -> None:
    total = (np.random.default_rng(seed).integers(0, levels, (24, 30)) * (1020 // levels)).astype(np.uint16)
    assert most_ink(total, PIXEL_MM2).percent == percent_of(strongest_level(total))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(0.02, 0.6))
def test_a_page_that_is_mostly_bare_is_searched_like_any_other(seed: int, share: float) -> None:
    chance = np.random.default_rng(seed)
    total = np.where(chance.random((40, 60)) < share, chance.integers(1, 9, (40, 60)) * 30, 0).astype(np.uint16)
    total[10:13, 20:26] = chance.integers(1, 9, (3, 6)) * 30
    level = strongest_level(total)
    found = most_ink(total, PIXEL_MM2)
    assert found.percent == percent_of(level)
    assert found.where == (largest_regions(total >= level, 1, 16)[0] if level else None)


def test_a_piece_across_two_bands_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.pdf.plates.areas.total_ink._BAND_PIXELS", 1)
    total = inked(0, rows=300, columns=3)
    for row in range(284):
        total[:] = 0
        total[row : row + 16, 1] = 1020
        found = most_ink(total, PIXEL_MM2).where
        assert found is not None
        assert (found.row0, found.row1) == (row, row + 16)


def test_area_by_whole_percent_never_grows() -> None:
    total = inked(0)
    total[:10] = round(120.4 * 2.55)
    total[:2] = 765
    areas = area_by_percent(total, PIXEL_MM2)
    assert (areas[0], areas[1], areas[120], areas[121], areas[300]) == (150, 37.5, 37.5, 7.5, 7.5)
    assert len(areas) == 301
    assert list(areas) == sorted(areas, reverse=True)


def test_regions_over_a_limit_are_told_with_the_specks_around_them() -> None:
    total = inked(200, rows=80, columns=80)
    total[8:28:2, 8:28] = 900
    total[60:64, 60:64] = 900
    total[70, 70] = 764
    found = regions_over(total, 300, PIXEL_MM2, most=5)
    assert found == [Region(200, 8, 8, 27, 28), Region(16, 60, 60, 64, 64)]
    assert regions_over(total, 360, PIXEL_MM2, most=5) == []


@pytest.mark.parametrize("pattern", ["noise", "checkerboard"])
def test_noise_over_a_large_poster_takes_seconds_at_most(pattern: str) -> None:
    """A1 at 100 ppi: 7.7 million pixels that hold next to nothing together."""
    if pattern == "noise":
        total = np.random.default_rng(1).integers(0, 1021, (3311, 2339)).astype(np.uint16)
    else:
        total = (np.indices((3311, 2339)).sum(axis=0) % 2 * 1020).astype(np.uint16)
    with processor_seconds(at_most=10):
        found = most_ink(total, 0.0645)
        regions_over(total, 300, 0.0645, most=20)
    assert (found.percent > 300) == (pattern == "noise")
