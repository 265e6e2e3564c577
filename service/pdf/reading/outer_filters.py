"""The start of data that lies inside text or Flate filters, such as a JPEG written in ASCII (ISO 32000-2:2020, 7.4.2 to 7.4.4).

Only as much is unpacked as a header takes; the rest is never looked at.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence

from service.pdf.reading.parser_filters import undone_by_parser
from service.pdf.reading.reading_errors import READING_ERRORS

MOST_BYTES = 256 * 1024
"""A JPEG's header with a large profile still fits; unpacking more text would cost time on every picture. Ours, no source."""

_WHITE = b"\x00\t\n\f\r "
_END = {"ASCII85Decode": b"~", "ASCIIHexDecode": b">"}


def start_of(data: bytes, filters: Sequence[str]) -> bytes | None:
    """The first bytes after these filters, in the order of decoding; None for another filter, or damaged data."""
    for name in filters:
        data = data[: 2 * MOST_BYTES]
        try:
            if name in _END:
                text = data.translate(None, _WHITE).removeprefix(b"<~").partition(_END[name])[0]
                data = undone_by_parser(text, name, {})
            elif name == "FlateDecode":
                data = zlib.decompressobj().decompress(data, MOST_BYTES)
            else:
                return None
        except (zlib.error, *READING_ERRORS):
            return None
    return data
