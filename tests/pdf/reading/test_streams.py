"""Packed streams that end early: RFC 1950 and RFC 1951."""

from __future__ import annotations

import zlib

import pikepdf
import pytest

from service.pdf.reading.streams import UnpacksTooLarge, content_bytes, is_cut_off

CONTENT = b"".join(b"0 1 0 0 k %d %d 10 10 re f\n" % (step, step) for step in range(300))
PACKED = zlib.compress(CONTENT)


PDF = pikepdf.new()
"""A stream lives only as long as its PDF."""


def stream(data: bytes, filters: object = pikepdf.Name.FlateDecode) -> pikepdf.Stream:
    return pikepdf.Stream(PDF, data, Filter=filters)


@pytest.mark.parametrize(
    ("data", "cut"),
    [(PACKED, False), (PACKED[:-4], False), (PACKED[: len(PACKED) // 2], True), (b"", True), (PACKED[:9] + b"\xff" * 40, True)],
    ids=["whole", "checksum missing", "half", "nothing", "not Flate from there"],
)
def test_content_that_ends_before_its_last_block_is_cut_off(data: bytes, cut: bool) -> None:
    assert is_cut_off(stream(data)) is cut


def test_flate_before_another_filter_is_looked_at() -> None:
    filters = pikepdf.Array([pikepdf.Name.FlateDecode, pikepdf.Name.ASCIIHexDecode])
    assert is_cut_off(stream(PACKED[:60], filters))


def test_other_packings_are_not_looked_at() -> None:
    assert not is_cut_off(stream(b"4A4", pikepdf.Name.ASCIIHexDecode))
    assert not is_cut_off(pikepdf.Stream(PDF, b"q Q"))


def test_an_unpacking_bomb_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody has seen its end; that is no damage."""
    monkeypatch.setattr("service.pdf.reading.streams.MOST_UNPACKED_BYTES", 4_000_000)
    bomb = stream(zlib.compress(bytes(8_000_000)))
    for look in (is_cut_off, content_bytes):
        with pytest.raises(UnpacksTooLarge):
            look(bomb)
    assert not is_cut_off(stream(zlib.compress(bytes(2_000_000))))
