"""Unpacking streams: whole or not at all, and never beyond a bound.

A reader unpacks what is there and goes on; what comes after a cut is silently lost. Here a stream that ends early says so.
"""

from __future__ import annotations

import zlib

import pikepdf

from service.pdf.reading.names import name_text

MOST_UNPACKED_BYTES = 512_000_000
_AT_A_TIME = 1 << 20
_ZLIB_HEADER_BYTES = 2


class UnpacksTooLarge(ValueError):
    """A limit of ours, no damage."""


def content_bytes(stream: pikepdf.Stream) -> bytes:
    """The unpacked data of a content stream. Raises ValueError where it is cut off, UnpacksTooLarge, and what reading raises."""
    filters = stream.get("/Filter")
    names = [name_text(one) for one in filters] if isinstance(filters, pikepdf.Array) else [name_text(filters)]
    if names not in (["FlateDecode"], ["Fl"]) or stream.get("/DecodeParms") is not None:
        return stream.read_bytes()
    pieces: list[bytes] = []
    raw = stream.read_raw_bytes()
    if not raw:  # an empty stream is written without even a header
        return b""
    if _unpack(raw, pieces) and zlib.adler32(data := b"".join(pieces)).to_bytes(4, "big") in raw[-8:]:
        return data
    data = stream.read_bytes()  # it is damaged: the parser's own reading of it notes how
    if is_cut_off(stream):
        raise ValueError("a stream of the file is cut off")
    return data


def page_streams(page: pikepdf.Dictionary) -> list[bytes]:
    """The page's content as one stream: parts may be cut anywhere between tokens (7.8.2)."""
    contents = page.get("/Contents")
    parts = list(contents) if isinstance(contents, pikepdf.Array) else [contents]
    data = b"\n".join(content_bytes(one) for one in parts if isinstance(one, pikepdf.Stream))
    return [data] if data else []


def is_cut_off(stream: pikepdf.Stream) -> bool:
    """True where Flate data (ISO 32000-2:2020, 7.4.4) ends before its last block does.

    Only the checksum after the last block may be missing: nothing is lost with it (RFC 1950, 2.2; RFC 1951, 3.2.3).
    Other filters, and Flate after another filter, are not looked at: False. Raises what reading raises.
    """
    filters = stream.get("/Filter")
    first = filters[0] if isinstance(filters, pikepdf.Array) and len(filters) > 0 else filters
    if name_text(first) not in ("FlateDecode", "Fl"):
        return False
    return not _unpack(stream.read_raw_bytes(), None)


def _unpack(packed: bytes, pieces: list[bytes] | None) -> bool:
    """Unpack Flate data into `pieces` (or nowhere); False where it ends early or is damaged. Raises UnpacksTooLarge."""
    packed = packed[_ZLIB_HEADER_BYTES:]
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    unpacked = 0
    try:
        while packed and not unpacker.eof:
            if unpacked >= MOST_UNPACKED_BYTES:
                raise UnpacksTooLarge(f"a stream of the file unpacks to more than {MOST_UNPACKED_BYTES} bytes")
            piece = unpacker.decompress(packed, _AT_A_TIME)
            unpacked += len(piece)
            if pieces is not None:
                pieces.append(piece)
            packed = unpacker.unconsumed_tail
    except zlib.error:
        return False
    return unpacker.eof
