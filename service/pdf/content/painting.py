"""Which operators and modes fill and stroke (ISO 32000-2:2020, 8.5.3 and 9.3.6)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from service.pdf.reading.operands import Operands, floats


class Painting(NamedTuple):
    fills: bool
    strokes: bool


_FILLS, _STROKES, _BOTH = Painting(True, False), Painting(False, True), Painting(True, True)
PATH_PAINTING: Mapping[bytes, Painting] = {
    b"f": _FILLS, b"F": _FILLS, b"f*": _FILLS, b"S": _STROKES, b"s": _STROKES,
    b"B": _BOTH, b"B*": _BOTH, b"b": _BOTH, b"b*": _BOTH,
}
EVEN_ODD = frozenset(one for one in PATH_PAINTING if one.endswith(b"*"))
"""Of these the ones that fill by the even-odd rule."""
_TEXT_MODES = (_FILLS, _STROKES, _BOTH, Painting(False, False)) * 2
"""Modes 4 to 7 clip besides."""


def text_mode(operands: Operands) -> int | None:
    """Of Tr; None where there is no such mode."""
    values = floats(operands, 1)
    return int(values[0]) if values and 0 <= values[0] <= 7 else None


def text_painting(mode: int) -> Painting:
    return _TEXT_MODES[mode]
