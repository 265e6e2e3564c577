"""Rewriting of path and text painting (see `rewriter`): what leaves these inks as they are paints nothing."""

from __future__ import annotations

from service.pdf.content.painting import PATH_PAINTING, Painting, text_mode, text_painting
from service.pdf.plates.rewriting.fonts import font_for, is_type_3, type_3_chosen
from service.pdf.plates.rewriting.rewriter import Handler, Replacement, Rewriter, Treatment
from service.pdf.reading.operands import Operands, floats, name_of

_ONE_ALONE: dict[bytes, tuple[bytes, bytes]] = {
    # the operator that only fills, and the one that only strokes
    b"f": (b"f", b"n"), b"F": (b"f", b"n"), b"f*": (b"f*", b"n"), b"S": (b"n", b"S"), b"s": (b"n", b"s"),
    b"B": (b"f", b"S"), b"B*": (b"f*", b"S"), b"b": (b"f", b"s"), b"b*": (b"f*", b"s"),
}


def _paint_path(rewriter: Rewriter, operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    painting = PATH_PAINTING[operator]
    fill, stroke, left = _treatments(rewriter, painting)
    if (fill, stroke) == painting:
        return None
    fill_only, stroke_only = _ONE_ALONE[operator]
    return fill_only if fill else stroke_only if stroke else rewriter.left(operator, b"n") if left else b"n"


def _treatments(rewriter: Rewriter, painting: Painting) -> tuple[bool, bool, bool]:
    """Whether the filling paints and whether the stroke does; whether all that there is of them leaves the inks as they are."""
    found = (rewriter.fill_treatment() if painting.fills else None, rewriter.stroke_treatment() if painting.strokes else None)
    fill, stroke = (one is Treatment.PAINTS for one in found)
    return fill, stroke, {*found} - {None} == {Treatment.LEAVES}


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
    rewriter.state.type_3 = (font, size[0]) if is_type_3(font) else None
    if rewriter.state.type_3:
        return b""
    return rewriter.frame.name("/Font", font_for(rewriter, font)) + b" %.6f Tf" % size[0]


def _show(rewriter: Rewriter, _operator: bytes, _operands: Operands, written: bytes) -> Replacement:
    mode, type_3 = rewriter.state.text_mode, rewriter.state.type_3
    if type_3:
        shown = b"%s %s" % (type_3_chosen(rewriter, *type_3), written)
        return b"3 Tr %s %d Tr" % (shown, mode) if rewriter.hidden else shown
    painting = text_painting(mode)
    fill, stroke, left = _treatments(rewriter, painting)
    if (fill, stroke) == painting:
        return None
    clips = 4 if mode >= 4 else 0
    unseen = b"%d Tr %s %d Tr" % ((0 if fill else 1 if stroke else 3) + clips, written, mode)
    return rewriter.left(written, unseen) if left else unseen


PAINTING: dict[bytes, Handler] = {
    **dict.fromkeys(PATH_PAINTING, _paint_path), b"Tr": _text_mode, b"Tf": _font,
    **dict.fromkeys((b"Tj", b"TJ", b"'", b'"'), _show),
}
