"""A header inside text or Flate filters, unpacked no further than it reaches."""

from __future__ import annotations

import base64
import binascii
import io
import tracemalloc
import zlib
from collections.abc import Callable

import pytest
from PIL import Image

from service.pdf.content.jpeg import jpeg_quality
from service.pdf.reading.outer_filters import MOST_BYTES, start_of


def jpeg(quality: int) -> bytes:
    out = io.BytesIO()
    Image.linear_gradient("L").save(out, "JPEG", quality=quality)
    return out.getvalue()


PACKED: dict[str, Callable[[bytes], bytes]] = {
    "ASCII85Decode": lambda data: base64.a85encode(data, wrapcol=72) + b"~>",
    "ASCIIHexDecode": lambda data: binascii.hexlify(data, "\n", 36) + b">",
    "FlateDecode": zlib.compress,
}


@pytest.mark.parametrize("name", PACKED)
def test_a_jpeg_inside_a_filter_keeps_its_quality(name: str) -> None:
    found = start_of(PACKED[name](jpeg(47)), [name])
    assert found is not None
    assert jpeg_quality(found) == 47


def test_filters_are_taken_off_in_order() -> None:
    packed = PACKED["ASCII85Decode"](PACKED["FlateDecode"](jpeg(80)))
    assert start_of(packed, ["ASCII85Decode", "FlateDecode"]) == jpeg(80)


@pytest.mark.parametrize(
    ("data", "filters"),
    [(b"", ["LZWDecode"]), (b"\xff\xd8", ["FlateDecode"]), (b"zz\xffz", ["ASCII85Decode"]), (b"xy", ["ASCIIHexDecode"])],
)
def test_what_cannot_be_unpacked_is_not_known(data: bytes, filters: list[str]) -> None:
    assert start_of(data, filters) is None


@pytest.mark.parametrize(
    "text",
    [b"<~87cURD]i,\"Ebo80~>", b"87cURD]i,\"Ebo80", b"87c\nURD ]i,\x00\"E\tbo80~\n>", b" \n87cURD]i,\"Ebo80~> not looked at z"],
)
def test_ascii_85_is_read_however_its_lines_and_ends_are_written(text: bytes) -> None:
    """ISO 32000-2:2020, 7.4.3: white space counts for nothing, ~> ends. Some writers begin with <~, too."""
    assert start_of(text, ["ASCII85Decode"]) == b"Hello World!"


def test_a_z_of_ascii_85_is_four_zeros_and_only_between_groups() -> None:
    assert start_of(b"z87cURz~>", ["ASCII85Decode"]) == b"\0\0\0\0Hell\0\0\0\0"
    assert start_of(b"87zcUR~>", ["ASCII85Decode"]) is None


def test_long_text_is_unpacked_at_its_start_only() -> None:
    packed = PACKED["ASCII85Decode"](jpeg(47) + bytes(range(256)) * 40_000)
    found = start_of(packed, ["ASCII85Decode"])
    assert found is not None
    assert len(found) < 2 * MOST_BYTES
    assert jpeg_quality(found) == 47


def test_a_bomb_is_opened_by_a_crack_only() -> None:
    bomb = zlib.compress(bytes(200_000_000), 9)
    tracemalloc.start()
    found = start_of(bomb, ["FlateDecode"])
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert found is not None
    assert len(found) <= MOST_BYTES
    assert most < 4 * MOST_BYTES
