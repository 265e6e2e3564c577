"""The start of data that lies inside text or Flate filters, such as a JPEG written in ASCII (ISO 32000-2:2020, 7.4.2 to 7.4.4).

Only as much is unpacked as a header takes; the rest is never looked at.
"""

from __future__ import annotations

import base64
import re
import zlib
from collections.abc import Sequence

MOST_BYTES = 256 * 1024
"""A JPEG's header with a large profile still fits; unpacking more text would cost time on every picture. Ours, no source."""

_WHITE = re.compile(rb"[\x00\t\n\f\r ]+")


def start_of(data: bytes, filters: Sequence[str]) -> bytes | None:
    """The first bytes after these filters, in the order of decoding; None for another filter, or damaged data."""
    for name in filters:
        data = data[: 2 * MOST_BYTES]
        try:
            match name:
                case "ASCII85Decode":
                    data = _ascii85(data)
                case "ASCIIHexDecode":
                    data = _ascii_hex(data)
                case "FlateDecode":
                    data = zlib.decompressobj().decompress(data, MOST_BYTES)
                case _:
                    return None
        except (ValueError, zlib.error):
            return None
    return data


def _ascii85(data: bytes) -> bytes:
    text = _WHITE.sub(b"", data).removeprefix(b"<~").partition(b"~")[0]
    return base64.a85decode(text)


def _ascii_hex(data: bytes) -> bytes:
    text = _WHITE.sub(b"", data).partition(b">")[0]
    return bytes.fromhex(text[: len(text) // 2 * 2].decode("ascii"))
