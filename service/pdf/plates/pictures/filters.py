"""Unpack the byte filters of a picture, never beyond a bound (ISO 32000-2:2020, 7.4.2 to 7.4.5).

* Flate, LZW and RunLength stop at the bytes that the picture needs: more of them paint nothing.
* Predictors, ASCIIHex and ASCII85 can hardly grow; the parser undoes them, predictors a few rows at a time.
* Data that end before the picture does raise Unreadable: half a picture is not measured.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Mapping, Sequence

from PIL import TiffImagePlugin

from service.pdf.plates.pictures.source import Filter
from service.pdf.plates.unreadable import TooLarge, Unreadable
from service.pdf.reading.parser_filters import undone_by_parser
from service.pdf.reading.streams import MOST_UNPACKED_BYTES

_ZLIB_HEADER_BYTES = 2
_PREDICTED_AT_A_TIME = 16_000_000
_MOST_SLOW_LZW_BYTES = 2_000_000
"""What our own LZW reading takes on: a few seconds."""


def ends_early() -> Unreadable:
    return Unreadable("the data of a picture end before the picture does")


def _too_large() -> TooLarge:
    return TooLarge("a picture unpacks to more than the {count} MB that a check may use", count=MOST_UNPACKED_BYTES // 1_000_000)


def unpacked(data: bytes, filters: Sequence[Filter], needed: int) -> bytes:
    """The first `needed` bytes behind the filters, at least; raises Unreadable where there are fewer or far too many."""
    if needed > MOST_UNPACKED_BYTES:
        raise _too_large()
    for at, one in enumerate(filters):
        wanted = needed if at == len(filters) - 1 else MOST_UNPACKED_BYTES
        data = _undone(data, one, wanted, whole=at < len(filters) - 1)
    if len(data) < needed:
        raise ends_early()
    return data


def unpacked_whole(data: bytes, filters: Sequence[Filter]) -> bytes:
    """All that is behind the filters, for a picture coding that knows its own end."""
    for one in filters:
        data = _undone(data, one, MOST_UNPACKED_BYTES, whole=True)
    return data


def _undone(data: bytes, one: Filter, wanted: int, whole: bool) -> bytes:
    """One filter undone: `wanted` bytes at most, but all of them where `whole` asks so."""
    if one.name in ("ASCIIHexDecode", "ASCII85Decode"):
        return undone_by_parser(data, one.name, {})
    if one.name == "RunLengthDecode":
        return _limited(_run_lengths(data, wanted + 1), wanted, whole)
    if one.name not in ("FlateDecode", "LZWDecode"):
        raise Unreadable("a picture is packed by a filter that is not known here: {name}", name=one.name[:40])
    row = _predicted_row_bytes(one.parameters)
    packed_rows = wanted + 1 if row is None else -(-wanted // row) * (row + 1) + 1
    flate = one.name == "FlateDecode"
    done = _flate(data, packed_rows) if flate else _lzw(data, one.parameters.get("EarlyChange", 1), packed_rows, whole)
    done = _limited(done, packed_rows - 1, whole)
    return done if row is None else _unpredicted(done, one.parameters, row)


def _limited(done: bytes, most: int, whole: bool) -> bytes:
    if len(done) <= most:
        return done
    if whole:
        raise _too_large()
    return done[:most]


def _flate(data: bytes, most: int) -> bytes:
    """At most so many bytes. The checksum behind them is not needed (RFC 1950, 2.2)."""
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        return unpacker.decompress(data[_ZLIB_HEADER_BYTES:], max(most, 1))
    except zlib.error as error:
        raise Unreadable("the data of a picture are damaged and do not unpack") from error


def _run_lengths(data: bytes, most: int) -> bytes:
    """7.4.5: 0–127 copies as many bytes and one, 129–255 repeats one byte 257 less that, 128 ends."""
    pieces: list[bytes] = []
    at = size = 0
    while at < len(data) and data[at] != 128 and size < most:
        length = data[at]
        if length < 128:
            pieces.append(data[at + 1 : at + 2 + length])
            at += 2 + length
        else:
            pieces.append(data[at + 1 : at + 2] * (257 - length))
            at += 2
        size += len(pieces[-1])
    return b"".join(pieces)


def _lzw(data: bytes, early: int, most: int, whole: bool) -> bytes:
    """The TIFF library reads what is coded its way and long enough; else our own loop does (7.4.4)."""
    if early and not whole:
        fast = _lzw_as_tiff(data, most - 1)
        if fast is not None:
            return fast
    if len(data) > _MOST_SLOW_LZW_BYTES:
        raise Unreadable("the LZW data of a picture are damaged, or too many for their kind")
    return _lzw_by_hand(data, 1 if early else 0, most)


def _lzw_as_tiff(data: bytes, size: int) -> bytes | None:
    """TIFF 6.0, section 13, is the same coding with EarlyChange 1. None where the data do not give `size` bytes."""
    if size <= 0:
        return None
    width = next(one for one in range(min(size, 1 << 15), 0, -1) if size % one == 0)  # a strip is filled to its end
    rows = size // width
    data_at = 8 + 2 + 9 * 12 + 4
    tags = {256: width, 257: rows, 258: 8, 259: 5, 262: 1, 273: data_at, 277: 1, 278: rows, 279: len(data)}
    directory = struct.pack("<H", len(tags)) + b"".join(struct.pack("<HHII", tag, 4, 1, value) for tag, value in tags.items())
    file = b"II*\0" + struct.pack("<I", 8) + directory + struct.pack("<I", 0) + data
    try:
        return TiffImagePlugin.TiffImageFile(io.BytesIO(file)).tobytes()
    except (OSError, SyntaxError, ValueError, struct.error):
        return None


def _lzw_by_hand(data: bytes, early: int, most: int) -> bytes:
    table = [bytes((one,)) for one in range(256)] + [b"", b""]  # 256 clears, 257 ends
    pieces: list[bytes] = []
    size = bits = held = 0
    width, last = 9, b""
    for byte in data:
        bits, held = (bits << 8 | byte) & 0xFFFFFF, held + 8
        if held < width:
            continue
        held -= width
        code = bits >> held & ((1 << width) - 1)
        if code == 257 or size >= most:
            break
        if code == 256:
            del table[258:]
            width, last = 9, b""
            continue
        if code > len(table) or (code == len(table) and not last):
            raise Unreadable("the LZW data of a picture are damaged")
        entry = table[code] if code < len(table) else last + last[:1]
        if last and len(table) < 4096:
            table.append(last + entry[:1])
        pieces.append(entry)
        size, last = size + len(entry), entry
        width = min(max((len(table) + early).bit_length(), 9), 12)
    return b"".join(pieces)[:most]


# --- Predictors (7.4.4.4) ---------------------------------------------------------------------------------------------


def _predicted_row_bytes(parameters: Mapping[str, int]) -> int | None:
    """Bytes of a row behind the predictor; None where there is no predictor."""
    if parameters.get("Predictor", 1) <= 1:
        return None
    colors, bits = parameters.get("Colors", 1), parameters.get("BitsPerComponent", 8)
    columns = parameters.get("Columns", 1)
    if not (0 < colors <= 64 and bits in (1, 2, 4, 8, 16) and 0 < columns < 1 << 24):
        raise Unreadable("a picture's predictor has numbers that no reader takes")
    return (colors * bits * columns + 7) // 8


def _unpredicted(data: bytes, parameters: Mapping[str, int], row: int) -> bytes:
    """By the parser, some rows at a time; with the PNG predictors the row above goes first, as it is."""
    known = {key: parameters[key] for key in ("Predictor", "Colors", "BitsPerComponent", "Columns") if key in parameters}
    png = known["Predictor"] >= 10
    packed_row = row + 1 if png else row
    step = max(_PREDICTED_AT_A_TIME // packed_row, 1) * packed_row
    pieces: list[bytes] = []
    above = bytes(row)
    for start in range(0, len(data), step):
        part = (b"\0" + above if png else b"") + data[start : start + step]
        done = undone_by_parser(zlib.compress(part, 0), "FlateDecode", known)[row if png else 0 :]
        pieces.append(done)
        above = done[-row:]
    return b"".join(pieces)
