"""Connected regions, held against a flood fill pixel by pixel."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.pdf.plates.areas.regions import Mask, Region, largest_regions


def flooded(mask: Mask) -> list[Region]:
    """By hand: from every pixel to its four neighbours."""
    left = {(int(row), int(column)) for row, column in np.argwhere(mask)}
    found = []
    while left:
        waiting = [left.pop()]
        region = [*waiting]
        while waiting:
            row, column = waiting.pop()
            for other in ((row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1)):
                if other in left:
                    left.remove(other)
                    waiting.append(other)
                    region.append(other)
        rows, columns = zip(*region, strict=True)
        found.append(Region(len(region), min(rows), min(columns), max(rows) + 1, max(columns) + 1))
    return found


def by_place(regions: list[Region]) -> list[tuple[int, ...]]:
    return sorted((one.row0, one.column0, one.row1, one.column1, one.pixels) for one in regions)


@settings(max_examples=150, deadline=None)
@given(st.integers(1, 14), st.integers(1, 14), st.floats(0.1, 0.95), st.integers(0, 2**32 - 1))
def test_every_region_is_found_as_a_flood_fill_finds_it(rows: int, columns: int, density: float, seed: int) -> None:
    mask = np.random.default_rng(seed).random((rows, columns)) < density
    assert by_place(largest_regions(mask, 1000)) == by_place(flooded(mask))


@pytest.mark.parametrize("drawn", ["11111 10001 10101 10001 11111", "10101 10101 11111 00100 11111", "10001 10001 10001 11111"])
def test_rings_combs_and_what_they_enclose(drawn: str) -> None:
    mask = np.array([[one == "1" for one in row] for row in drawn.split()])
    assert by_place(largest_regions(mask, 10)) == by_place(flooded(mask))


def test_the_largest_come_first_and_small_ones_are_left_out() -> None:
    mask = np.zeros((10, 20), dtype=np.bool_)
    mask[1:3, 1:3], mask[5:9, 5:9], mask[0, 19] = True, True, True
    assert [one.pixels for one in largest_regions(mask, 2)] == [16, 4]
    assert [one.pixels for one in largest_regions(mask, 9, least_pixels=2)] == [16, 4]
    assert largest_regions(np.zeros((3, 3), dtype=np.bool_), 5) == []
