"""Whether a packed stream is whole. A reader unpacks what is there and goes on; what comes after the cut is silently lost."""

from __future__ import annotations

import zlib

import pikepdf

from service.pdf.names import name_text

MOST_UNPACKED_BYTES = 512_000_000
_AT_A_TIME = 1 << 20
_ZLIB_HEADER_BYTES = 2


def is_cut_off(stream: pikepdf.Stream) -> bool:
    """True where Flate data (ISO 32000-2:2020, 7.4.4) ends before its last block does.

    Only the checksum after the last block may be missing: nothing is lost with it (RFC 1950, 2.2; RFC 1951, 3.2.3).
    Other filters, and Flate after another filter, are not looked at: False. Raises what reading raises.
    """
    filters = stream.get("/Filter")
    first = filters[0] if isinstance(filters, pikepdf.Array) and len(filters) > 0 else filters
    if name_text(first) not in ("FlateDecode", "Fl"):
        return False
    packed = stream.read_raw_bytes()[_ZLIB_HEADER_BYTES:]
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    unpacked = 0
    try:
        while packed and not unpacker.eof and unpacked < MOST_UNPACKED_BYTES:
            unpacked += len(unpacker.decompress(packed, _AT_A_TIME))
            packed = unpacker.unconsumed_tail
    except zlib.error:
        return True
    return not unpacker.eof
