"""PNGs that may come from a process that a file has taken over: only what ours draws goes on, bit for bit."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from PIL import Image, PngImagePlugin

from service.proofs.picture.page_picture import png
from service.proofs.picture.rgb_png import MOST_CHUNKS, rgb_png

PICTURE = Image.effect_noise((70, 50), 90).convert("RGB")
RIGHT = png(PICTURE, 100)


def chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def made(
    width: int = 4, height: int = 3, *, kind: bytes = b"\x08\x02\0\0\0", rows: bytes | None = None, more: bytes = b"",
    after: bytes = b"", packed: bytes | None = None,
) -> bytes:
    rows = (b"\0" + bytes(3 * width)) * height if rows is None else rows
    head = chunk(b"IHDR", struct.pack(">II", width, height) + kind)
    data = chunk(b"IDAT", zlib.compress(rows) if packed is None else packed)
    return b"\x89PNG\r\n\x1a\n" + head + more + data + chunk(b"IEND", b"") + after


def saved(mode: str = "RGB", **options: object) -> bytes:
    written = io.BytesIO()
    PICTURE.convert(mode).save(written, "PNG", **options)
    return written.getvalue()


def test_what_ours_draws_is_taken_as_it_is() -> None:
    assert rgb_png(RIGHT) == RIGHT
    assert rgb_png(RIGHT, (70, 50)) == RIGHT
    assert rgb_png(made()) == made()


def test_a_large_picture_of_one_colour_is_taken() -> None:
    """Its rows unpack to a thousand times as much: the unpacking goes in pieces."""
    large = png(Image.new("RGB", (3000, 2000), (200, 10, 10)), 300)
    assert len(large) < 100_000
    assert rgb_png(large, (3000, 2000)) == large


def test_another_size_than_was_asked_for_is_refused() -> None:
    with pytest.raises(ValueError, match="not asked for"):
        rgb_png(RIGHT, (70, 51))


def test_a_picture_in_countless_pieces_is_refused_before_it_is_unpacked() -> None:
    """Each piece costs time in our own process, and what follows the end of the rows is gathered anew with each."""
    assert rgb_png(made(more=chunk(b"IDAT", b"") * (MOST_CHUNKS - 3)))
    with pytest.raises(ValueError, match="more pieces"):
        rgb_png(made(more=chunk(b"IDAT", b"") * (MOST_CHUNKS - 2)))


def words() -> bytes:
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", "<script>")
    return saved(pnginfo=info)


@pytest.mark.parametrize(
    "data",
    [
        b"", b"<svg/>", b"GIF89a", RIGHT[:-1], RIGHT[: len(RIGHT) // 2], RIGHT + b"<script>", RIGHT + RIGHT,
        RIGHT.replace(b"IDAT", b"IDAX"), RIGHT.replace(b"IEND", b"IENX"), RIGHT[:60] + b"\xff" + RIGHT[61:],
        saved("L"), saved("RGBA"), saved("P"), saved("1"), words(), saved(icc_profile=b"no profile at all"),
    ],
    ids=lambda data: f"{zlib.crc32(data):08x}",
)
def test_another_kind_of_bytes_is_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match=r"PNG"):
        rgb_png(data)


@pytest.mark.parametrize(
    "data",
    [
        made(0, 3), made(4, 0), made(2**31, 1, rows=b""), made(30_000, 30_000, rows=b""),
        made(kind=b"\x10\x02\0\0\0"), made(kind=b"\x08\x02\0\0\1"), made(kind=b"\x08\x02\1\0\0"),
        made(rows=b""), made(rows=bytes(38)), made(rows=bytes(40)), made(rows=bytes(13) + b"\5" + bytes(25)),
        made(rows=bytes(5_000_000)), made(packed=b"no packing"), made(packed=zlib.compress(bytes(39)) + b"more"),
        made(packed=zlib.compress(bytes(39))[:-2]),
        made(more=chunk(b"tEXt", b"a\0b")), made(more=chunk(b"pHYs", b"12345678")), made(more=chunk(b"IHDR", bytes(13))),
        made(after=chunk(b"IEND", b"")), made(more=chunk(b"pHYs", bytes(9)) * 2),
    ],
    ids=lambda data: f"{zlib.crc32(data):08x}",
)
def test_a_png_that_is_built_to_harm_its_reader_is_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match=r"PNG"):
        rgb_png(data)


def test_chunks_of_a_length_beyond_the_end_are_refused() -> None:
    for length in (2**31, 2**32 - 1):
        data = RIGHT[:8] + struct.pack(">I", length) + RIGHT[12:]
        with pytest.raises(ValueError, match="PNG"):
            rgb_png(data)
