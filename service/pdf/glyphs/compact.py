"""Outlines of a CFF program, by glyph name or by CID (ISO 32000-2:2020, 9.9.1; 9.7.4.2)."""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any

from fontTools.cffLib import CFFFontSet
from fontTools.encodings.StandardEncoding import StandardEncoding

from service.pdf.facts.geometry import Matrix
from service.pdf.glyphs.outline import Outline, PointsPen

_USUAL_MATRIX = (0.001, 0, 0, 0.001, 0, 0)


class Compact:
    def __init__(self, data: bytes) -> None:
        fonts = CFFFontSet()
        fonts.decompile(io.BytesIO(data), None, isCFF2=False)
        self._top = fonts[0]
        self._glyphs = self._top.CharStrings
        self.by_cid = hasattr(self._top, "ROS")

    def named(self, name: str) -> Outline | None:
        """KeyError for a name that the program does not have."""
        outline, place = self._glyphs.getItemAndSelector(name)
        pen = PointsPen(self._matrix(place), self._glyphs)
        outline.draw(pen)
        return Outline.of_points(pen.points)

    def of_cid(self, cid: int) -> Outline | None:
        """A program without CIDs of its own is asked by glyph number."""
        return self.named(f"cid{cid:05d}" if self.by_cid and cid else self._top.charset[cid])

    def _matrix(self, place: int | None) -> Matrix:
        whole = self._top.rawDict.get("FontMatrix")
        own = self._top.FDArray[place or 0].rawDict.get("FontMatrix") if self.by_cid else None
        if whole and own:
            return Matrix(*own).then(Matrix(*whole))
        return Matrix(*(own or whole or _USUAL_MATRIX))

    def encoding(self) -> Mapping[int, str]:
        """Built in: code → glyph name."""
        written: Any = "StandardEncoding" if self.by_cid else getattr(self._top, "Encoding", "StandardEncoding")
        table = StandardEncoding if written == "StandardEncoding" else written if isinstance(written, list) else []
        return {code: name for code, name in enumerate(table) if name and name != ".notdef"}
