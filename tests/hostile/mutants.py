"""PDFs with something changed: bytes, pieces, numbers, names, lengths, streams. The same number gives the same file."""

from __future__ import annotations

import random
import re
import zlib
from collections.abc import Callable, Sequence
from pathlib import Path

from tests.build import document, page

_NUMBERS = (b"0", b"-1", b"1", b"65536", b"2147483648", b"99999999999999999999", b"1e300", b"0.0000001", b"-0", b"[", b"null")
_NAMES = (b"/Length", b"/Filter", b"/Type", b"/Kids", b"/Parent", b"/Count", b"/Contents", b"/Resources", b"/MediaBox", b"/W",
          b"/Size", b"/Root", b"/Prev", b"/Font", b"/XObject", b"/SMask", b"/Decode", b"/N", b"/First", b"/Extends")  # fmt: skip
_FILTERS = (b"/FlateDecode", b"/LZWDecode", b"/ASCII85Decode", b"/ASCIIHexDecode", b"/RunLengthDecode", b"/DCTDecode",
            b"/JPXDecode", b"/CCITTFaxDecode", b"/JBIG2Decode", b"/Crypt")  # fmt: skip


def originals(folder: Path) -> list[bytes]:
    """Right files, small ones, with what files for print hold."""
    card = page(85, 55, bleed=3).fill(cyan=1).text("Halyard Lane", size=8, at=(12, 20)).picture(ppi=80, at=(10, 30, 30, 45))
    inside = (page(99, 210, bleed=3).fill(magenta=0.4).text(f"Page {one}", size=9, at=(9, 9)) for one in range(3))
    made = {
        "card.pdf": document(card),
        "leaflet.pdf": document(*inside),
        "turned.pdf": document(page(148, 210).rotated(90).user_unit(2).fill(black=1)),
    }
    return [one.save(folder / name).read_bytes() for name, one in made.items()]


def mutant(of: Sequence[bytes], number: int) -> bytes:
    dice = random.Random(number)
    data = dice.choice(of)
    for _ in range(dice.choice((1, 1, 1, 2, 3, 8))):
        data = dice.choice(_CHANGES)(data, dice) or b"%"
    return data if b"%PDF-" in data[:1024] else b"%PDF-1.7\n" + data


def _byte(data: bytes, dice: random.Random) -> bytes:
    at = dice.randrange(len(data))
    return data[:at] + bytes([dice.randrange(256)]) + data[at + 1 :]


def _cut(data: bytes, dice: random.Random) -> bytes:
    return data[: max(20, dice.randrange(len(data)))]


def _without_a_piece(data: bytes, dice: random.Random) -> bytes:
    at = dice.randrange(len(data))
    return data[:at] + data[at + dice.randrange(1, 400) :]


def _twice(data: bytes, dice: random.Random) -> bytes:
    at = dice.randrange(len(data))
    return data[:at] + data[max(0, at - dice.randrange(1, 2000)) : at] + data[at:]


def _swapped(pattern: bytes, others: Sequence[bytes]) -> Callable[[bytes, random.Random], bytes]:
    def change(data: bytes, dice: random.Random) -> bytes:
        found = list(re.finditer(pattern, data))
        if not found:
            return data
        one = dice.choice(found)
        return data[: one.start()] + dice.choice(others) + data[one.end() :]

    return change


def _inside_a_stream(data: bytes, dice: random.Random) -> bytes:
    """What was compressed is changed and compressed again, so that the change is reached."""
    found = [one for one in re.finditer(rb"stream\r?\n(.*?)\r?\nendstream", data, re.S) if one[1][:1] == b"x"]
    if not found:
        return data
    one = dice.choice(found)
    try:
        inside = zlib.decompressobj().decompress(one[1], 2**20)
    except zlib.error:
        return data
    if not inside:
        return data
    changed = zlib.compress(dice.choice((_byte, _twice, _without_a_piece, _number))(inside, dice))
    return data[: one.start(1)] + changed + data[one.end(1) :]


_number = _swapped(rb"(?<![\w.])-?\d+(?:\.\d+)?", _NUMBERS)
_CHANGES = (
    _byte, _byte, _cut, _without_a_piece, _twice, _number, _number, _swapped(rb"/[A-Za-z]\w+", _NAMES),
    _swapped(rb"/\w+Decode", _FILTERS), _swapped(rb"\d+ 0 R", (b"1 0 R", b"3 0 R", b"0 0 R", b"9999 0 R", b"null")),
    _inside_a_stream, _inside_a_stream,
)  # fmt: skip
