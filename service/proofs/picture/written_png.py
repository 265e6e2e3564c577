"""Write a PNG of RGB or grey pixels quickly (PNG Specification, third edition, 5 and 9).

The imaging library tries five filters a row and takes half of the time of a photograph's picture for it. Here it is the better of
two, worked out for all rows at once, packed by ISA-L: a quarter of zlib's time at its quickest; a photograph is 10 % larger, a
page of text a quarter smaller (measured).
"""

from __future__ import annotations

import struct
import zlib

import numpy as np
import numpy.typing as npt
from isal import isal_zlib
from PIL import Image

from service.pdf.facts.geometry import MM_PER_INCH

Bytes = npt.NDArray[np.uint8]

_LEVEL = 1
"""Of ISA-L's four: the next ones take longer and leave as much."""
_SUB, _UP = 1, 2
"""PNG Specification, 9.2: what is left of the pixel before, or of the one above."""
_COLOR_TYPES = {"L": 0, "RGB": 2}
_ROW_BYTES_AT_A_TIME = 1_000_000


def png(picture: Image.Image, ppi: float) -> bytes:
    """`picture` in RGB or L."""
    rows, pixel_bytes = np.asarray(picture).reshape(picture.height, -1), len(picture.getbands())
    packing = isal_zlib.compressobj(_LEVEL)
    step = max(_ROW_BYTES_AT_A_TIME // rows.shape[1], 1)
    packed = [packing.compress(_filtered(rows, start, start + step, pixel_bytes)) for start in range(0, len(rows), step)]
    per_metre = round(ppi * 1000 / MM_PER_INCH)
    return b"\x89PNG\r\n\x1a\n" + b"".join((
        _chunk(b"IHDR", struct.pack(">IIBBBBB", *picture.size, 8, _COLOR_TYPES[picture.mode], 0, 0, 0)),
        _chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1)),
        *(_chunk(b"IDAT", piece) for piece in (*packed, packing.flush()) if piece),
        _chunk(b"IEND", b""),
    ))  # fmt: skip


def _filtered(rows: Bytes, start: int, end: int, pixel_bytes: int) -> bytes:
    """Each row by the filter that leaves less, as the specification advises (12.7): the sum of what is left, either way."""
    own = rows[start:end]
    beside, above = own.copy(), own.copy()
    beside[:, pixel_bytes:] -= own[:, :-pixel_bytes]
    above[1:] -= own[:-1]
    if start:
        above[0] -= rows[start - 1]
    left = [np.abs(one.view(np.int8)).view(np.uint8).sum(axis=1, dtype=np.uint32) for one in (beside, above)]
    is_up = left[1] <= left[0]
    made = np.empty((len(own), own.shape[1] + 1), np.uint8)
    made[:, 0] = np.where(is_up, _UP, _SUB)
    made[:, 1:] = np.where(is_up[:, np.newaxis], above, beside)
    return made.tobytes()


def _chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))
