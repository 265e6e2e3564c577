"""Rewriting of path and text painting (see `rewriter`): what leaves these inks as they are paints nothing."""

from __future__ import annotations

from service.pdf.content.painting import PATH_PAINTING, text_mode, text_painting
from service.pdf.plates.rewriting.fonts import font_for
from service.pdf.plates.rewriting.rewriter import Handler, Replacement, Rewriter
from service.pdf.reading.operands import Operands, floats, name_of

_ONE_ALONE: dict[bytes, tuple[bytes, bytes]] = {
    # the operator that only fills, and the one that only strokes
    b"f": (b"f", b"n"), b"F": (b"f", b"n"), b"f*": (b"f*", b"n"), b"S": (b"n", b"S"), b"s": (b"n", b"s"),
    b"B": (b"f", b"S"), b"B*": (b"f*", b"S"), b"b": (b"f", b"s"), b"b*": (b"f*", b"s"),
}  # fmt: skip


def _paint_path(rewriter: Rewriter, operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    fills, strokes = PATH_PAINTING[operator]
    fill, stroke = fills and rewriter.fill_paints(), strokes and rewriter.stroke_paints()
    if (fill, stroke) == (fills, strokes):
        return None
    fill_only, stroke_only = _ONE_ALONE[operator]
    return fill_only if fill else stroke_only if stroke else b"n"


def _text_mode(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    mode = text_mode(operands)
    if mode is not None:
        rewriter.state.text_mode = mode
    return None


def _font(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    name = name_of(operands)
    font = rewriter.frame.source.dictionary_of("/Font", name or "")
    size = floats(operands, 1)
    if font is None or not size:
        return None
    return rewriter.frame.name("/Font", font_for(rewriter, font)) + b" %.6f Tf" % size[0]


def _show(rewriter: Rewriter, _operator: bytes, _operands: Operands, written: bytes) -> Replacement:
    mode = rewriter.state.text_mode
    fills, strokes = text_painting(mode)
    fill, stroke = fills and rewriter.fill_paints(), strokes and rewriter.stroke_paints()
    if (fill, stroke) == (fills, strokes):
        return None
    clips = 4 if mode >= 4 else 0
    left = 0 if fill else 1 if stroke else 3
    return b"%d Tr %s %d Tr" % (left + clips, written, mode)


PAINTING: dict[bytes, Handler] = {
    **dict.fromkeys(PATH_PAINTING, _paint_path), b"Tr": _text_mode, b"Tf": _font,
    **dict.fromkeys((b"Tj", b"TJ", b"'", b'"'), _show),
}  # fmt: skip
