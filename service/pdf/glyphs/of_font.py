"""From the codes of a font dictionary to the outlines of its program; each program is read when its first glyph is asked for."""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Mapping
from functools import cached_property

from fontTools.ttLib import TTFont, TTLibError

from service.pdf.facts.unknown import Unmeasured
from service.pdf.glyphs.compact import Compact
from service.pdf.glyphs.outline import NOT_KNOWN, Outline
from service.pdf.glyphs.standard import standard_outline
from service.pdf.glyphs.true_type import TrueType
from service.pdf.glyphs.type_1 import Type1

GlyphInk = Outline | Unmeasured | None
"""None: it leaves no ink."""

Program = TrueType | Compact | Type1

_CANNOT_BE_DRAWN = (
    TTLibError, struct.error, ValueError, KeyError, IndexError, AssertionError, AttributeError, TypeError, EOFError,
    OverflowError, NotImplementedError, RecursionError, ZeroDivisionError,
)
"""What fontTools raises on damaged programs."""


def read_program(data: bytes) -> Program:
    """By what the data are, whatever the dictionary calls them."""
    if data[:4] in (b"OTTO", b"\0\1\0\0", b"true", b"ttcf"):
        return _open_type(data)
    if data[:1] == b"\x80" or data[:2] == b"%!":
        return Type1(data)
    return Compact(data)


def _open_type(data: bytes) -> Program:
    with TTFont(io.BytesIO(data), lazy=True, fontNumber=0) as font:
        if "CFF " in font:
            return Compact(font.reader["CFF "])
    return TrueType(data)


class GlyphsOfFont:
    """Outlines of one font, by code. `program` gives the embedded data; None where they cannot be used."""

    def __init__(self, name: str, program: Callable[[], bytes | None]) -> None:
        self._name, self._data = name, program

    @cached_property
    def _program(self) -> Program | None:
        data = self._data()
        try:
            return read_program(data) if data else None
        except _CANNOT_BE_DRAWN:
            return None

    def of_cid(self, cid: int | None, to_glyph: bytes | None) -> GlyphInk:
        """`to_glyph`: the font's CIDToGIDMap; None where it is Identity."""
        program = self._program
        if program is None or cid is None:
            return NOT_KNOWN
        try:
            if isinstance(program, TrueType):
                return program.outline(cid if to_glyph is None else int.from_bytes(to_glyph[2 * cid : 2 * cid + 2], "big"))
            return program.of_cid(cid) if isinstance(program, Compact) else NOT_KNOWN
        except _CANNOT_BE_DRAWN:
            return NOT_KNOWN

    def of_code(self, code: int, names: Mapping[int, str], written: Mapping[int, str], symbolic: bool) -> GlyphInk:
        """`written`: the names that the font dictionary itself gives, where it does not leave them to the program."""
        program = self._program
        if program is None:
            return NOT_KNOWN
        try:
            if isinstance(program, TrueType):
                return program.outline(program.glyph_of(code, written.get(code), symbolic))
            name = written.get(code) or self._built_in.get(code) or names.get(code)
            return program.named(name) if name else NOT_KNOWN
        except _CANNOT_BE_DRAWN:
            return NOT_KNOWN

    @cached_property
    def _built_in(self) -> Mapping[int, str]:
        return {} if self._program is None or isinstance(self._program, TrueType) else self._program.encoding()

    def standing_in(self, character: str) -> GlyphInk:
        """Of a font that is not embedded."""
        return standard_outline(self._name, character)
