"""Averages of a picture: exact, rounded so that the inks of a pixel add up to no more than they are, and on a plate's pixels."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pdf.facts.geometry import Box, Matrix
from service.pdf.plates.pictures.averages import Averages, averaged, rounded_together
from service.pdf.plates.pictures.placed import Placement, placement

PLATE = Box(0, 0, 60, 40)


@given(st.integers(1, 30), st.integers(1, 30), st.integers(1, 30), st.integers(1, 30), st.integers(1, 9), st.integers(0, 2**32))
def test_every_sample_counts_once_whatever_the_strips(
    columns: int, rows: int, across: int, down: int, step: int, seed: int
) -> None:
    into = min(across, columns), min(down, rows)
    values = np.random.default_rng(seed).integers(0, 256, (rows, columns, 3), np.uint8)
    averages = Averages((columns, rows), into, 3)
    found = [averages.add(values[start : start + step]) for start in range(0, rows, step)]
    sums, area = (np.concatenate(one) for one in zip(*found, strict=True))
    assert sums.shape == (into[1], into[0], 3)
    assert area.sum() == rows * columns
    assert np.array_equal(sums.sum(axis=(0, 1)), values.sum(axis=(0, 1)))
    assert area.max() <= -(-columns // into[0]) * -(-rows // into[1])
    assert np.array_equal(rounded_together(sums, area), averaged(values, into) if into != (columns, rows) else values)


@given(st.integers(1, 8), st.integers(1, 400), st.integers(0, 2**32))
def test_inks_rounded_together_add_up_to_their_rounded_sum(inks: int, count: int, seed: int) -> None:
    sums = np.random.default_rng(seed).integers(0, 255 * count + 1, (5, 7, inks)).astype(np.uint32)
    found = rounded_together(sums, count).astype(int)
    assert np.all(np.abs(2 * count * found.sum(axis=2) - 2 * sums.sum(axis=2, dtype=int)) <= count)
    assert np.all((found >= sums // count) & (found <= -(-sums.astype(int) // count)))


def test_where_nothing_counts_there_is_nothing() -> None:
    assert rounded_together(np.zeros((1, 2, 2), np.uint32), np.array([[0.0, 3.0]])).tolist() == [[[0, 0], [0, 0]]]


# --- On a plate ---


def at(*matrix: float) -> Placement:
    found = placement(Matrix(*matrix), PLATE, 1_000_000)
    assert found is not None
    return found


def checked(size: int) -> np.ndarray:
    """Black and white squares of one sample."""
    return (np.indices((size, size)).sum(axis=0) % 2 * 255).astype(np.uint8)[:, :, np.newaxis]


def test_whole_pixels_that_a_picture_touches_are_its_place() -> None:
    place = at(10.5, 0, 0, 5, 3.75, 8)
    assert (place.left, place.bottom, place.columns, place.rows) == (3, 8, 12, 5)
    assert placement(Matrix(10, 0, 0, 5, 70, 8), PLATE, 1_000_000) is None
    assert placement(Matrix(10, 0, 10, 0, 3, 8), PLATE, 1_000_000) is None
    assert placement(Matrix(10, 0, 0, 5, 3, 8), PLATE, 49) is None


def test_what_lies_beyond_the_plate_is_left_out() -> None:
    place = at(100, 0, 0, 100, -20, -30)
    assert (place.left, place.bottom, place.columns, place.rows) == (0, 0, 60, 40)
    shades = np.arange(100, dtype=np.uint8)[np.newaxis, :, np.newaxis].repeat(100, axis=0)
    assert place.of(shades)[0, :, 0].tolist() == list(range(20, 80))


@pytest.mark.parametrize(
    ("matrix", "expected"),
    [
        ((4, 0, 0, 2, 10, 10), [[1, 2, 3, 4], [5, 6, 7, 8]]),
        ((-4, 0, 0, 2, 14, 10), [[4, 3, 2, 1], [8, 7, 6, 5]]),
        ((4, 0, 0, -2, 10, 12), [[5, 6, 7, 8], [1, 2, 3, 4]]),
        ((0, 4, -2, 0, 12, 10), [[4, 8], [3, 7], [2, 6], [1, 5]]),
        ((0, -4, 2, 0, 10, 14), [[5, 1], [6, 2], [7, 3], [8, 4]]),
        ((0, 4, 2, 0, 10, 10), [[8, 4], [7, 3], [6, 2], [5, 1]]),
    ],
    ids=["upright", "mirrored", "upside down", "quarter turn", "three quarters", "turned and mirrored"],
)
def test_every_way_to_lay_it_down(matrix: tuple[float, ...], expected: list[list[int]]) -> None:
    """The first row of a picture is its top (8.9.5.1)."""
    values = np.array([[1, 2, 3, 4], [5, 6, 7, 8]], np.uint8)[:, :, np.newaxis]
    assert at(*matrix).of(values)[:, :, 0].tolist() == expected


def test_a_pixel_that_several_samples_share_is_their_average_by_area() -> None:
    assert at(2, 0, 0, 2, 10, 10).of(checked(8))[:, :, 0].tolist() == [[128, 128], [128, 128]]
    shades = np.array([[0, 200]], np.uint8)[:, :, np.newaxis]
    assert at(3, 0, 0, 1, 10, 10).of(shades)[0, :, 0].tolist() == [0, 100, 200]


def test_turned_it_keeps_its_mean() -> None:
    """A picture of noise by 30 degrees: each pixel is an average of 16 places, all within what it holds."""
    noise = np.random.default_rng(4).integers(40, 200, (90, 120, 4), np.uint8)
    place = at(26, 15, -11.25, 19.5, 20, 2)
    found = place.of(noise)
    assert found.shape == (place.rows, place.columns, 4)
    assert (found.min() >= 40, found.max() < 200) == (True, True)
    assert abs(found[15:20, 20:30].mean() - noise.mean()) < 6


def test_a_large_place_is_made_in_bands(monkeypatch: pytest.MonkeyPatch) -> None:
    noise = np.random.default_rng(4).integers(0, 255, (90, 120, 4), np.uint8)
    ways = (41.3, 0, 0, 30.7, 5.2, 3.1), (26, 15, -11, 19, 20, 2), (0, 30, -40, 0, 50, 5)
    whole = {way: at(*way).of(noise) for way in ways}
    monkeypatch.setattr("service.pdf.plates.pictures.placed._PIXELS_AT_A_TIME", 200)
    for way, expected in whole.items():
        assert np.array_equal(at(*way).of(noise), expected), way
