"""Byte filters of pictures (ISO 32000-2:2020, 7.4.2 to 7.4.5): right, whole, and never beyond what the picture needs."""

from __future__ import annotations

import tracemalloc
import zlib

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from service.pdf.plates.pictures.filters import unpacked, unpacked_whole
from service.pdf.plates.pictures.source import Filter
from tests.pdf.plates.picture_files import lzw, picture, plates, png_rows

NOISE = np.random.default_rng(4).integers(0, 256, (31, 17, 4), np.uint8)
"""Fixed: the seed is given."""
SMOOTH = (np.add.outer(np.arange(90), np.arange(120)) % 256).astype(np.uint8)


def one(name: str, **parameters: int) -> tuple[Filter, ...]:
    return (Filter(name, parameters),)


def test_text_filters() -> None:
    assert unpacked(b"48 6 5 6c6C 6f>", one("ASCIIHexDecode"), 5) == b"Hello"
    assert unpacked(b"87cURDZ~>", one("ASCII85Decode"), 5) == b"Hello"


def test_run_lengths_of_the_standard() -> None:
    """7.4.5: 2 copies three bytes, 254 repeats the next one three times, 128 ends."""
    assert unpacked(b"\x02abc\xfez\x80ignored", one("RunLengthDecode"), 6) == b"abczzz"


def test_lzw_of_the_standard() -> None:
    """The example of 7.4.4.2: 45 45 45 45 45 65 45 45 45 66."""
    packed = bytes((0x80, 0x0B, 0x60, 0x50, 0x22, 0x0C, 0x0C, 0x85, 0x01))
    plain = bytes((45, 45, 45, 45, 45, 65, 45, 45, 45, 66))
    assert unpacked(packed, one("LZWDecode"), 10) == plain
    assert unpacked_whole(packed, one("LZWDecode")) == plain


@pytest.mark.parametrize("data", [NOISE.tobytes(), SMOOTH.tobytes()], ids=["noise", "smooth"])
def test_lzw_both_ways_agrees_with_what_libtiff_wrote(data: bytes) -> None:
    packed = lzw(data)
    assert unpacked(packed, one("LZWDecode"), len(data)) == data
    assert unpacked_whole(packed, one("LZWDecode")) == data


@pytest.mark.parametrize("kinds", [(0,), (1,), (2,), (3,), (4,), (4, 3, 2, 1, 0)], ids=str)
def test_png_predictors(kinds: tuple[int, ...]) -> None:
    packed = png_rows(NOISE, kinds)
    filters = one("FlateDecode", Predictor=15, Colors=4, Columns=17)
    assert unpacked(packed, filters, NOISE.size) == NOISE.tobytes()


def test_png_predictors_go_on_across_the_pieces_they_are_undone_in(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.pdf.plates.pictures.filters._PREDICTED_AT_A_TIME", 200)
    filters = one("FlateDecode", Predictor=15, Colors=4, Columns=17)
    assert unpacked(png_rows(NOISE, (2, 4, 3)), filters, NOISE.size) == NOISE.tobytes()


def test_tiff_predictor() -> None:
    """TIFF 6.0, section 14: each sample less the one to its left."""
    rows = NOISE.astype(int)
    rows[:, 1:] -= NOISE[:, :-1]
    packed = zlib.compress((rows % 256).astype(np.uint8).tobytes())
    filters = one("FlateDecode", Predictor=2, Colors=4, Columns=17)
    assert unpacked(packed, filters, NOISE.size) == NOISE.tobytes()


def test_filters_in_a_chain_in_a_picture() -> None:
    with pikepdf.new() as pdf:
        data = zlib.compress(b"\x09\x63\x80").hex().encode() + b">"
        image = picture(
            pdf, data, 2, 1, Name.DeviceGray, Filter=Array([Name.AHx, Name.FlateDecode]), DecodeParms=Array([None, Dictionary()])
        )
        assert plates(image, "Black") == [[[255 - 0x09, 255 - 0x63]]]


def test_more_data_than_the_picture_needs_are_not_unpacked() -> None:
    """600 MB of zeros in 600 KB."""
    packer = zlib.compressobj(1)
    packed = b"".join(packer.compress(bytes(1 << 20)) for _ in range(600)) + packer.flush()
    tracemalloc.start()
    try:
        assert unpacked(packed, one("FlateDecode"), 1000) == bytes(1000)
        assert tracemalloc.get_traced_memory()[1] < 8_000_000
    finally:
        tracemalloc.stop()
    with pytest.raises(ValueError, match="unpacks to more"):
        unpacked(packed, (*one("FlateDecode"), *one("ASCIIHexDecode")), 1000)


@pytest.mark.parametrize(("name", "unit"), [("RunLengthDecode", b"\x81\x00"), ("LZWDecode", None)])
def test_other_bombs_end_at_the_bound(name: str, unit: bytes | None) -> None:
    packed = unit * 1_000_000 if unit else lzw(bytes(5_000_000))
    assert unpacked(packed, one(name), 100_000) == bytes(100_000)


@pytest.mark.parametrize(
    ("name", "packed"),
    [
        ("FlateDecode", zlib.compress(NOISE.tobytes())),
        ("LZWDecode", lzw(NOISE.tobytes())),
        ("RunLengthDecode", b"\x7f" + bytes(99)),
    ],
)
def test_data_that_are_cut_off_are_refused(name: str, packed: bytes) -> None:
    with pytest.raises(ValueError, match="end before the picture does"):
        unpacked(packed[: len(packed) // 2], one(name), NOISE.size)


@pytest.mark.parametrize(
    "filters",
    [
        one("FlateDecode", Predictor=15, Columns=1 << 30),
        one("FlateDecode", Predictor=15, Colors=0),
        one("FlateDecode", Predictor=15, BitsPerComponent=3),
        one("Unheard"),
    ],
)
def test_numbers_and_names_that_no_reader_knows_are_refused(filters: tuple[Filter, ...]) -> None:
    with pytest.raises(ValueError, match="picture"):
        unpacked(zlib.compress(bytes(100)), filters, 10)


@pytest.mark.parametrize("data", [b"", b"\x00", b"not Flate at all"])
def test_damaged_flate_data_are_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match="picture"):
        unpacked(data, one("FlateDecode"), 10)
