"""Outlines of a Type 1 program (Adobe Type 1 Font Format, chapters 2, 6 and 7).

The encrypted part is taken apart by its fixed forms (`dup 5 23 RD …`, `/A 120 RD …`), as the format asks every
program to keep to; no PostScript is run.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from fontTools.encodings.StandardEncoding import StandardEncoding
from fontTools.misc.psCharStrings import T1CharString

from service.pdf.facts.geometry import Matrix
from service.pdf.glyphs.outline import Outline, PointsPen

_EEXEC_KEY, _CHARSTRING_KEY = 55665, 4330
_HEX = frozenset(b"0123456789abcdefABCDEF \t\r\n")
_LEAD = re.compile(rb"/lenIV\s+(\d+)")
_SUBROUTINE = re.compile(rb"\s*dup\s+(\d+)\s+(\d+)\s+\S+ ")
_GLYPH = re.compile(rb"/([^\s/]+)\s+(\d+)\s+(?:RD|-\||\S+) ")
_ENCODED = re.compile(rb"dup\s+(\d+)\s*/(\S+)\s+put")
_MATRIX = re.compile(rb"/FontMatrix\s*\[([^\]]*)\]")


class Type1:
    def __init__(self, data: bytes) -> None:
        if data[:1] == b"\x80":
            data = _without_segments(data)
        at = data.index(b"eexec")
        self._clear = data[:at]
        private = _private_part(data[at + 5 :].lstrip(b" \t\r\n"))
        lead = _LEAD.search(private)
        self._lead = int(lead[1]) if lead else 4
        self._subroutines: list[T1CharString] = []
        starts = private.index(b"/CharStrings")
        self._read_subroutines(private, starts)
        self._encrypted = dict(_glyphs(private, starts))
        self._drawable = {name: _Encrypted(self, name) for name in self._encrypted}
        written = _MATRIX.search(self._clear)
        self._matrix = Matrix(*(float(one) for one in written[1].split())) if written else Matrix(0.001, 0, 0, 0.001, 0, 0)

    def _read_subroutines(self, private: bytes, until: int) -> None:
        at = private.find(b"/Subrs", 0, until)
        at = private.find(b"dup", at, until) if at >= 0 else -1
        while 0 <= at < until:
            found = _SUBROUTINE.match(private, at)
            if not found:
                break
            number, length = int(found[1]), int(found[2])
            if number > 65535:
                raise ValueError("a subroutine has an impossible number")
            missing = number + 1 - len(self._subroutines)
            self._subroutines += [T1CharString(b"\x0b", subrs=self._subroutines) for _ in range(missing)]
            self._subroutines[number] = self._charstring(private[found.end() : found.end() + length])
            at = private.find(b"dup", found.end() + length, until)

    def _charstring(self, encrypted: bytes) -> T1CharString:
        return T1CharString(_decrypted(encrypted, _CHARSTRING_KEY)[self._lead :], subrs=self._subroutines)

    def draw(self, name: str, pen: PointsPen) -> None:
        self._charstring(self._encrypted[name]).draw(pen)

    def named(self, name: str) -> Outline | None:
        """KeyError for a name that the program does not have."""
        pen = PointsPen(self._matrix, self._drawable)
        self.draw(name, pen)
        return Outline.of_points(pen.points)

    def encoding(self) -> Mapping[int, str]:
        """Built in: code → glyph name."""
        if re.search(rb"/Encoding\s+StandardEncoding", self._clear):
            return {code: name for code, name in enumerate(StandardEncoding) if name != ".notdef"}
        return {int(code): name.decode("latin-1") for code, name in _ENCODED.findall(self._clear)}


class _Encrypted:
    """What an accented glyph finds its parts in."""

    def __init__(self, program: Type1, name: str) -> None:
        self._program, self._name = program, name

    def draw(self, pen: PointsPen) -> None:
        self._program.draw(self._name, pen)


def _without_segments(data: bytes) -> bytes:
    """A font file of its own has a header before each part: 128, kind, length."""
    parts, at = [], 0
    while data[at : at + 1] == b"\x80" and data[at + 1 : at + 2] in (b"\1", b"\2"):
        length = int.from_bytes(data[at + 2 : at + 6], "little")
        parts.append(data[at + 6 : at + 6 + length])
        at += 6 + length
    return b"".join(parts)


def _private_part(encrypted: bytes) -> bytes:
    if all(byte in _HEX for byte in encrypted[:8]):
        digits = re.match(rb"[0-9a-fA-F\s]*", encrypted)
        text = (digits[0] if digits else b"").translate(None, b" \t\r\n")
        encrypted = bytes.fromhex(text[: len(text) // 2 * 2].decode("ascii"))
    return _decrypted(encrypted, _EEXEC_KEY)[4:]


def _decrypted(data: bytes, key: int) -> bytes:
    """Chapter 7.1; fontTools' own takes five times as long."""
    plain = bytearray(len(data))
    for at, byte in enumerate(data):
        plain[at] = byte ^ key >> 8
        key = (byte + key) * 52845 + 22719 & 65535
    return bytes(plain)


def _glyphs(private: bytes, start: int) -> list[tuple[str, bytes]]:
    found, at = [], start + len(b"/CharStrings")
    while match := _GLYPH.search(private, at):
        length = int(match[2])
        found.append((match[1].decode("latin-1"), private[match.end() : match.end() + length]))
        at = match.end() + length
    return found
