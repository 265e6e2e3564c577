"""Outlines of a TrueType program, and the way from codes to them (ISO 32000-2:2020, 9.6.5.4 and 9.7.4.2).

The box is the one that the program stores with each glyph; a glyph that is not made of others is moved to where `hmtx` has its
left edge, as rasterizers do.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from struct import unpack_from
from typing import Any

from fontTools import agl
from fontTools.ttLib import TTFont

from service.pdf.facts.geometry import Box, Matrix
from service.pdf.glyphs.outline import Outline, Point, PointsPen

_SYMBOL_PAGES = (0, 0xF000, 0xF100, 0xF200)
"""Where a (3, 0) character map has its codes (9.6.5.4)."""


class TrueType:
    def __init__(self, data: bytes) -> None:
        self._font = TTFont(io.BytesIO(data), lazy=True, fontNumber=0, recalcBBoxes=False)
        self._em = 1 / (self._font["head"].unitsPerEm or 1000)
        self._places = self._font["loca"].locations
        self._glyf = self._font.reader["glyf"] if "glyf" in self._font else b""
        self._metrics = self._font.reader["hmtx"] if "hmtx" in self._font else b""
        self._wide = self._font["hhea"].numberOfHMetrics if "hhea" in self._font else 0
        self._names = [f"glyph{at:05d}" for at in range(len(self._places) - 1)]
        self._drawable: Any = None
        self._maps: dict[tuple[int, int], dict[int, int]] | None = None

    def outline(self, glyph: int) -> Outline | None:
        """KeyError for a glyph that the program does not have."""
        if not 0 <= glyph < len(self._names):
            raise KeyError(glyph)
        start, end = self._places[glyph], self._places[glyph + 1]
        if end - start < 10:
            return None
        contours, x0, y0, x1, y1 = unpack_from(">5h", self._glyf, start)
        if not contours or x1 < x0 or y1 < y0:
            return None
        moved = self._left_edge(glyph, x0) - x0 if contours > 0 else 0
        em = self._em
        box = Box((x0 + moved) * em, y0 * em, (x1 + moved) * em, y1 * em)
        return Outline(box, lambda: self._points(glyph, moved))

    def _left_edge(self, glyph: int, otherwise: int) -> int:
        at = glyph * 4 + 2 if glyph < self._wide else self._wide * 4 + (glyph - self._wide) * 2
        return int(unpack_from(">h", self._metrics, at)[0]) if at + 2 <= len(self._metrics) else otherwise

    def _points(self, glyph: int, moved: int) -> list[Point]:
        if self._drawable is None:
            self._font.setGlyphOrder(self._names)
            self._drawable = _Drawable(self._font["glyf"])
        pen = PointsPen(Matrix(self._em, 0, 0, self._em, moved * self._em, 0), self._drawable)
        self._drawable[self._names[glyph]].draw(pen)
        return pen.points

    def glyph_of(self, code: int, name: str | None, symbolic: bool) -> int:
        """Of a simple font's code; KeyError where no character map of the program leads to one."""
        maps = self._character_maps()
        by_name = self._by_name(name, maps) if name else None
        by_code = self._by_code(code, maps)
        found = (by_code, by_name) if symbolic or not name else (by_name, by_code)
        for glyph in found:
            if glyph:
                return glyph
        raise KeyError(code)

    def _by_code(self, code: int, maps: Mapping[tuple[int, int], Mapping[int, int]]) -> int | None:
        symbols = maps.get((3, 0), {})
        for page in _SYMBOL_PAGES:
            if page + code in symbols:
                return symbols[page + code]
        return maps.get((1, 0), {}).get(code)

    def _by_name(self, name: str, maps: Mapping[tuple[int, int], Mapping[int, int]]) -> int | None:
        character = agl.toUnicode(name)
        if len(character) == 1:
            for key in ((3, 1), (3, 10), (0, 3), (0, 4), (0, 1), (0, 0)):
                if ord(character) in maps.get(key, {}):
                    return maps[key][ord(character)]
            in_roman = character.encode("mac_roman", "ignore")
            if in_roman and in_roman[0] in maps.get((1, 0), {}):
                return maps[1, 0][in_roman[0]]
        return self._by_post(name)

    def _by_post(self, name: str) -> int | None:
        if "post" not in self._font:
            return None
        order = getattr(self._font["post"], "glyphOrder", None) or []
        return order.index(name) if name in order else None

    def _character_maps(self) -> dict[tuple[int, int], dict[int, int]]:
        """(platform, encoding) → code → glyph."""
        if self._maps is None:
            self._font.setGlyphOrder(self._names)
            tables = self._font["cmap"].tables if "cmap" in self._font else []
            numbers = {name: at for at, name in enumerate(self._names)}
            self._maps = {
                (one.platformID, one.platEncID): {code: numbers.get(name, 0) for code, name in one.cmap.items()} for one in tables
            }
        return self._maps


class _Drawable:
    """What a composite glyph finds its parts in."""

    def __init__(self, glyphs: Any) -> None:
        self._glyphs = glyphs

    def __getitem__(self, name: str) -> _Drawn:
        return _Drawn(self._glyphs, name)


class _Drawn:
    def __init__(self, glyphs: Any, name: str) -> None:
        self._glyphs, self._name = glyphs, name

    def draw(self, pen: PointsPen) -> None:
        self._glyphs[self._name].draw(pen, self._glyphs)
