"""Plain samples (ISO 32000-2:2020, 8.9.5): depths, Decode, palettes, and fewer pixels by area."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pikepdf import Array, Name

from service.pdf.content.resources import Resources, Shared
from service.pdf.plates.pictures.samples import MOST_PLATE_PIXELS, samples_of
from service.pdf.plates.pictures.source import picture_source
from tests.pdf.plates.picture_files import cmyk, picture, plate_stream, plates, spot


@pytest.fixture
def pdf() -> Iterator[pikepdf.Pdf]:
    with pikepdf.new() as made:
        yield made


@pytest.mark.parametrize(
    ("bits", "data", "tints"),
    [
        (1, b"\xa0", [255, 0, 255]),
        (2, b"\x1b", [0, 85, 170]),
        (4, b"\x0f\x70", [0, 255, 119]),
        (8, b"\x00\x80\xff", [0, 128, 255]),
        (16, b"\x00\x00\x80\x80\xff\xff", [0, 128, 255]),
    ],
)
def test_every_depth_spans_nothing_to_full(pdf: pikepdf.Pdf, bits: int, data: bytes, tints: list[int]) -> None:
    assert plates(picture(pdf, data, 3, 1, spot("Copper"), bits), "Copper") == [[tints]]


def test_rows_start_at_a_byte(pdf: pikepdf.Pdf) -> None:
    """8.9.5.2: three samples of four components in one bit take two bytes a row."""
    image = picture(pdf, b"\x8f\xf0\x12\x30", 3, 2, Name.DeviceCMYK, 1)
    assert plates(image, "Cyan", "Black") == [[[255, 255, 255], [0, 0, 0]], [[0, 255, 255], [255, 0, 255]]]


def test_decode_may_turn_round_narrow_and_overshoot(pdf: pikepdf.Pdf) -> None:
    def decoded(*decode: float) -> list[int]:
        return plates(picture(pdf, bytes((0, 51, 255)), 3, 1, spot("Copper"), Decode=Array(list(decode))), "Copper")[0][0]

    assert decoded(1, 0) == [255, 204, 0]
    assert decoded(0.2, 0.6) == [51, 71, 153]  # 0.2 + 0.2 × 0.4 = 0.28 → 71
    assert decoded(-1, 1) == [0, 0, 255]


def test_decode_works_on_each_component(pdf: pikepdf.Pdf) -> None:
    image = cmyk(pdf, np.array([[[10, 20, 30, 40]]], np.uint8), Decode=Array([0, 1, 1, 0, 0, 1, 0, 0]))
    assert plates(image, "Magenta", "Yellow", "Black") == [[[235]], [[30]], [[0]]]


@pytest.mark.parametrize(("bits", "data"), [(1, b"\x40"), (2, b"\x10"), (4, b"\x01"), (8, b"\x00\x01")])
def test_palettes_over_inks(pdf: pikepdf.Pdf, bits: int, data: bytes) -> None:
    palette = Array([Name.Indexed, Name.DeviceCMYK, 1, pikepdf.String(bytes((1, 2, 3, 4, 5, 6, 7, 8)))])
    assert plates(picture(pdf, data, 2, 1, palette, bits), "Cyan", "Black") == [[[1, 5]], [[4, 8]]]


def test_an_index_beyond_the_palette_is_its_last_colour(pdf: pikepdf.Pdf) -> None:
    palette = Array([Name.Indexed, spot("Copper"), 1, pikepdf.String(b"\x10\x20")])
    assert plates(picture(pdf, b"\x00\x01\xff", 3, 1, palette), "Copper") == [[[16, 32, 32]]]


def test_decode_of_a_palette_counts_in_indexes(pdf: pikepdf.Pdf) -> None:
    """Table 88: 0 to 2ⁿ − 1 by default; here turned round."""
    palette = Array([Name.Indexed, spot("Copper"), 3, pikepdf.String(b"\x10\x20\x30\x40")])
    assert plates(picture(pdf, b"\x1b", 4, 1, palette, 2, Decode=Array([3, 0])), "Copper") == [[[64, 48, 32, 16]]]


def test_colours_are_averaged_and_indexes_are_not(pdf: pikepdf.Pdf) -> None:
    """Indexes 0 and 2 side by side are 0 % and 100 %: their mean is 50 %, not the colour of index 1."""
    palette = Array([Name.Indexed, spot("Copper"), 2, pikepdf.String(b"\x00\x07\xff")])
    image = picture(pdf, b"\x00\x02" * 8, 4, 4, palette)
    ((first, *_), *_) = plates(image, "Copper", need=(2, 4))[0]
    assert first == pytest.approx(127.5, abs=1)


def test_a_picture_shrinks_to_between_one_and_two_times_the_need(pdf: pikepdf.Pdf) -> None:
    image = cmyk(pdf, np.zeros((90, 100, 4), np.uint8))
    for need, size in (
        ((100, 90), (100, 90)),
        ((51, 46), (100, 90)),
        ((50, 45), (50, 45)),
        ((30, 20), (34, 23)),
        ((1, 1), (1, 1)),
    ):
        stream = plate_stream(image, "Cyan", need=need)
        assert (stream.Width, stream.Height) == size


@given(st.integers(1, 40), st.integers(1, 40), st.integers(1, 40), st.integers(1, 40), st.integers(0, 2**32))
def test_shrinking_keeps_the_mean(columns: int, rows: int, need_columns: int, need_rows: int, seed: int) -> None:
    """Ink is neither lost nor made where sizes divide; 1 of 255 for the rounding in two directions."""
    columns, rows = columns * need_columns, rows * need_rows
    pixels = np.random.default_rng(seed).integers(
        0, 256, (min(rows, 200) // need_rows * need_rows or need_rows, columns, 4), np.uint8
    )
    with pikepdf.new() as pdf:
        source = picture_source(cmyk(pdf, pixels), Resources(None, Shared(pdf)))
        values = samples_of(source, (need_columns, need_rows)).values
    assert np.abs(values.mean(axis=(0, 1)) - pixels.mean(axis=(0, 1))).max() <= 1


def test_strips_of_a_large_picture_fit_together(pdf: pikepdf.Pdf, monkeypatch: pytest.MonkeyPatch) -> None:
    pixels = np.random.default_rng(2).integers(0, 256, (60, 40, 4), np.uint8)
    whole = plates(cmyk(pdf, pixels), "Cyan", need=(20, 20))
    monkeypatch.setattr("service.pdf.plates.pictures.samples._SAMPLES_AT_A_TIME", 40 * 4 * 7)
    assert plates(cmyk(pdf, pixels), "Cyan", need=(20, 20)) == whole
    exact = pixels[:, :, 0].astype(float).reshape(20, 3, 20, 2).mean(axis=(1, 3))
    assert np.abs(np.array(whole[0]) - exact).max() <= 1


def test_the_need_is_held_within_bounds(pdf: pikepdf.Pdf) -> None:
    image = picture(pdf, bytes(12_000 * 2_000), 12_000, 2_000, spot("Copper"))
    stream = plate_stream(image, "Copper", need=(1 << 40, 1 << 40))
    assert int(stream.Width) * int(stream.Height) <= 4 * MOST_PLATE_PIXELS


def test_data_shorter_than_the_picture_are_refused(pdf: pikepdf.Pdf) -> None:
    with pytest.raises(ValueError, match="end before the picture does"):
        plates(picture(pdf, bytes(5), 3, 2, spot("Copper")), "Copper")


@pytest.mark.parametrize(("width", "height", "bits"), [(0, 1, 8), (1, -1, 8), (1, 1, 3), (1, 1, 32)])
def test_sizes_and_depths_that_no_reader_knows_are_refused(pdf: pikepdf.Pdf, width: int, height: int, bits: int) -> None:
    with pytest.raises(ValueError, match="picture"):
        plates(picture(pdf, bytes(100), width, height, spot("Copper"), bits), "Copper")


def test_a_picture_that_would_fill_the_memory_is_refused(pdf: pikepdf.Pdf) -> None:
    with pytest.raises(ValueError, match="million pixels"):
        plates(picture(pdf, b"", 1 << 20, 1 << 20, Name.DeviceCMYK), "Cyan")
    with pytest.raises(ValueError, match="MB"):
        plates(picture(pdf, b"", 20_000, 20_000, Name.DeviceCMYK), "Cyan")
