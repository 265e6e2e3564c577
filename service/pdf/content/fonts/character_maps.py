"""Character maps: from the bytes of a shown string to codes, CIDs and Unicode (ISO 32000-2:2020, 9.7.5 and 9.10.3).

* Embedded CMaps and ToUnicode maps are read with the content lexer: they are PostScript of the same shape.
* Identity maps take two bytes a code. Predefined maps of the CJK collections are cut and read with Python's own codecs;
  their CIDs stay unknown, so that widths fall back to the font's default.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from struct import iter_unpack

from service.pdf.reading.lexer import Name, Operand, operations

MOST_ENTRIES = 200_000
"""A map beyond this is hostile or broken: what it says past that is left out."""

_PREDEFINED = {
    "RKSJ": "cp932", "EUC-": "euc_jp", "GBK": "gbk", "GBpc": "gb2312", "GB-": "gb2312", "B5": "cp950", "ETen": "cp950",
    "HKscs": "big5hkscs", "KSC-": "euc_kr", "KSCms": "cp949", "KSCpc": "euc_kr", "UTF16": "utf-16-be", "UCS2": "utf-16-be",
}
"""Part of a predefined map's name (ISO 32000-2:2020, Table 116) → the codec that cuts its codes."""


@dataclass
class CharacterMap:
    vertical: bool = False
    codec: str | None = None
    """Of a predefined map; None where code and CID are known."""
    spaces: list[tuple[int, int, int]] = field(default_factory=list)
    """Code space ranges: bytes a code, low, high."""
    cids: dict[int, int] = field(default_factory=dict)
    cid_ranges: list[tuple[int, int, int]] = field(default_factory=list)
    identity: bool = False

    def codes(self, shown: bytes) -> Iterable[tuple[int, int]]:
        """(code, number of bytes) of every character in the string."""
        if self.spaces or self.codec or len(shown) % 2:
            return self._cut(shown)
        return [(code, 2) for code, in iter_unpack(">H", shown)]

    def _cut(self, shown: bytes) -> Iterator[tuple[int, int]]:
        position = 0
        while position < len(shown):
            length = self._length(shown, position)
            yield int.from_bytes(shown[position : position + length], "big"), length
            position += length

    def _length(self, shown: bytes, position: int) -> int:
        if self.codec and self.codec != "utf-16-be":
            return 1 if shown[position] < 0x80 or position + 1 == len(shown) else 2
        if not self.spaces:
            return 2
        for length in (1, 2, 3, 4):
            code = int.from_bytes(shown[position : position + length], "big")
            if any(size == length and _within(code, low, high, size) for size, low, high in self.spaces):
                return length
        return min(size for size, _, _ in self.spaces)

    def cid(self, code: int) -> int | None:
        """The CID of a code; None where the map is one of the predefined ones."""
        if self.identity:
            return code
        if self.codec:
            return None
        if code in self.cids:
            return self.cids[code]
        return next((first + code - low for low, high, first in self.cid_ranges if low <= code <= high), 0)

    def unicode(self, code: int, length: int) -> str | None:
        if not self.codec:
            return None
        return code.to_bytes(length, "big").decode(self.codec, "replace")


def _within(code: int, low: int, high: int, size: int) -> bool:
    """Every byte of the code lies in its own range (9.7.6.2)."""
    shifts = range(0, size * 8, 8)
    return all((low >> shift) & 0xFF <= (code >> shift) & 0xFF <= (high >> shift) & 0xFF for shift in shifts)


def predefined_map(name: str) -> CharacterMap:
    vertical = name.endswith("-V")
    if name.startswith("Identity"):
        return CharacterMap(vertical, identity=True)
    codec = next((codec for part, codec in _PREDEFINED.items() if part in name), None)
    return CharacterMap(vertical, codec=codec, identity=codec is None)


def embedded_map(data: bytes, vertical: bool) -> CharacterMap:
    """An encoding CMap that the file brings along."""
    found = CharacterMap(vertical)
    for operator, operands in operations(data):
        if not isinstance(operands, list):
            continue
        if operator == b"endcodespacerange":
            for low, high in _groups(operands, 2):
                if isinstance(low, bytes) and isinstance(high, bytes):
                    found.spaces.append((len(high), _code(low), _code(high)))
        elif operator == b"endcidrange":
            for low, high, first in _groups(operands, 3):
                if isinstance(low, bytes) and isinstance(high, bytes) and isinstance(first, float):
                    found.cid_ranges.append((_code(low), _code(high), int(first)))
        elif operator == b"endcidchar":
            for code, cid in _groups(operands, 2):
                if isinstance(code, bytes) and isinstance(cid, float):
                    found.cids[_code(code)] = int(cid)
        elif operator == b"usecmap" and isinstance(operands[-1], Name) and operands[-1].startswith(b"Identity"):
            found.identity = True
    if not found.cids and not found.cid_ranges:
        found.identity = True
    return found


def to_unicode(data: bytes) -> dict[int, str]:
    """Code → text of a ToUnicode map."""
    found: dict[int, str] = {}
    for operator, operands in operations(data):
        if not isinstance(operands, list) or len(found) > MOST_ENTRIES:
            continue
        if operator == b"endbfchar":
            for code, text in _groups(operands, 2):
                if isinstance(code, bytes) and isinstance(text, bytes):
                    found[_code(code)] = _text(text)
        elif operator == b"endbfrange":
            for low, high, target in _groups(operands, 3):
                if isinstance(low, bytes) and isinstance(high, bytes):
                    _add_range(found, _code(low), min(_code(high), _code(low) + 0xFFFF), target)
    return found


def _add_range(found: dict[int, str], low: int, high: int, target: Operand) -> None:
    if isinstance(target, list):
        for code, text in zip(range(low, high + 1), target, strict=False):
            if isinstance(text, bytes):
                found[code] = _text(text)
    elif isinstance(target, bytes) and target:
        head, last = target[:-2], int.from_bytes(target[-2:], "big")
        for code in range(low, high + 1):
            found[code] = _text(head + ((last + code - low) & 0xFFFF).to_bytes(min(2, len(target)) if last < 256 else 2, "big"))


def _groups(operands: list[Operand], size: int) -> Iterator[tuple[Operand, ...]]:
    return zip(*[iter(operands)] * size, strict=False)


def _code(raw: bytes) -> int:
    return int.from_bytes(raw[:4], "big")


def _text(raw: bytes) -> str:
    return raw.decode("utf-16-be", "replace") if len(raw) > 1 else raw.decode("latin-1")
