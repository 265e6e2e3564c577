"""Whether bytes are a PNG as ours draws them, pixel for pixel (PNG Specification, third edition, 5 and 11).

They may come from a compromised process and go on to a browser, or into a report: nothing but a heading, a resolution,
pixel rows and an end may stand in them, each with its checksum, and the rows must unpack to exactly the picture's size.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_ORDER = (b"IHDR", b"pHYs", b"IDAT", b"IEND")
_LENGTHS = {b"IHDR": 13, b"pHYs": 9, b"IEND": 0}
_FILTER_TYPES = b"\0\1\2\3\4"
"""PNG Specification, 9.2."""
MOST_PIXELS_ACROSS = 30_000
MOST_PIXELS = 40_000_000
"""More is no picture of ours, legend included."""
MOST_CHUNKS = 4096
"""Ours have one for 64 KiB; each costs time, however little it holds."""


def rgb_png(data: bytes, size_px: tuple[int, int] | None = None) -> bytes:
    """The bytes, where they are a PNG of RGB pixels of 8 bits, of that size (None: of any that ours draws).

    Raises ValueError where they are not.
    """
    width = height = 0
    rows: list[bytes] = []
    for kind, content in _chunks(data):
        if kind == b"IHDR":
            width, height = struct.unpack_from(">II", content)
            if content[8:] != b"\x08\x02\0\0\0":
                raise ValueError("this PNG has no RGB pixels of 8 bits, row by row")
        elif kind == b"IDAT":
            rows.append(content)
    if not (0 < width <= MOST_PIXELS_ACROSS and 0 < height <= MOST_PIXELS_ACROSS and width * height <= MOST_PIXELS):
        raise ValueError(f"a PNG of {width} × {height} pixels is none of ours")
    if size_px is not None and (width, height) != size_px:
        raise ValueError(f"a PNG of {width} × {height} pixels was not asked for")
    _hold_rows(rows, 3 * width + 1, height)
    return data


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Kind and content of each chunk, in the one order in which ours come."""
    if not data.startswith(_SIGNATURE):
        raise ValueError(f"this is no PNG: {data[:40]!r}")
    at, place, seen = len(_SIGNATURE), 0, 0
    while at < len(data):
        if at + 12 > len(data):
            raise ValueError("this PNG is cut off")
        length, kind = struct.unpack_from(">I4s", data, at)
        if length > len(data) - at - 12 or length != _LENGTHS.get(kind, length):
            raise ValueError("a chunk of this PNG is cut off, or of a wrong length")
        if seen == MOST_CHUNKS:
            raise ValueError("this PNG is in more pieces than ours are")
        if kind not in _ORDER[place:] or (kind != b"IHDR" and not seen):
            raise ValueError(f"this PNG has a chunk {kind!r} where ours have none")
        content = data[at + 8 : at + 8 + length]
        if struct.pack(">I", zlib.crc32(content, zlib.crc32(kind))) != data[at + 8 + length : at + 12 + length]:
            raise ValueError("a chunk of this PNG is damaged")
        yield kind, content
        at, seen = at + 12 + length, seen + 1
        place = _ORDER.index(kind) + (kind != b"IDAT")
    if place != len(_ORDER):
        raise ValueError("this PNG has no end")


def _hold_rows(packed: list[bytes], row_bytes: int, rows: int) -> None:
    """Raises ValueError unless they unpack to just so many rows, each of which begins with a filter type that there is."""
    taken = 0
    try:
        for some in _unpacked(packed):
            if some[-taken % row_bytes :: row_bytes].strip(_FILTER_TYPES):
                raise ValueError("a pixel row of this PNG has no filter type that there is")
            taken += len(some)
            if taken > row_bytes * rows:
                break
    except zlib.error as error:
        raise ValueError("the pixel rows of this PNG are damaged") from error
    if taken != row_bytes * rows:
        raise ValueError("this PNG has other pixel rows than it says")


def _unpacked(packed: list[bytes]) -> Iterator[bytes]:
    """A mebibyte at a time, so that whoever asks can stop."""
    unpacker = zlib.decompressobj()
    for piece in packed:
        left = piece
        while left:
            yield unpacker.decompress(left, 2**20)
            left = unpacker.unconsumed_tail
    yield unpacker.flush()
    if not unpacker.eof or unpacker.unused_data:
        raise ValueError("the pixel rows of this PNG do not end where they should")
