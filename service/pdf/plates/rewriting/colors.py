"""Rewriting of colour operators (see `rewriter`): colours, runs of colours, tiling patterns and gradients."""

from __future__ import annotations

import re

import pikepdf
from pikepdf import Array, Dictionary, Name

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.content.current_color import DEVICE_OPERATORS, CurrentColor, color_in_space, color_of_new_space, device_color
from service.pdf.plates.rewriting.color_runs import Colors
from service.pdf.plates.rewriting.rewriter import CannotSeparate, Handler, Replacement, Rewriter, State, stepped
from service.pdf.plates.rewriting.shadings import rgb_shading
from service.pdf.reading.arrays import matrix_of
from service.pdf.reading.lexer import DEVICE_COLORS, RUN
from service.pdf.reading.operands import Operands
from service.pdf.reading.streams import content_bytes

MOST_COLORS = 4_096


def _device_color(rewriter: Rewriter, operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    known = rewriter.frame.colors
    key = (operator, operands) if isinstance(operands, bytes) else None
    found = known.get(key) if key else None
    device = DEVICE_OPERATORS[operator]
    if found is None:
        color = device_color(device, operands, rewriter.frame.source)
        if color is None:
            return b""
        found = color, _plain(rewriter, color, device.stroke)
        if key and len(known) < MOST_COLORS:
            known[key] = found
    _set(rewriter.state, device.stroke, found[0])
    return found[1]


def _run(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    """Paths that paint as they are, with device colours between them: only these are replaced, in one sweep."""
    assert isinstance(operands, bytes)
    run = rewriter.color_runs.cut(operands)
    if run is None:
        return _run_one_by_one(rewriter, operands)
    if not run.set_there:
        return None
    named_space = rewriter.frame.source.named_space
    for operator, values in run.last():
        device = DEVICE_OPERATORS[operator]
        space = named_space(device.name)
        _set(rewriter.state, device.stroke, CurrentColor(space, space, values))

    def rewritten(operator: bytes, colors: Colors) -> list[bytes]:
        device = DEVICE_OPERATORS[operator]
        return rewriter.channels_of_many(named_space(device.name), colors, b" RG" if device.stroke else b" rg")

    return run.written(rewritten)


def _run_one_by_one(rewriter: Rewriter, run: bytes) -> Replacement:
    """The same where operands are missing or malformed."""

    def replaced(found: re.Match[bytes]) -> bytes:
        return found[2] + (_device_color(rewriter, found[4], found[3], b"") or b"")

    content, count = DEVICE_COLORS.subn(replaced, run)
    return content if count else None


def _set(state: State, stroke: bool, color: CurrentColor) -> None:
    if stroke:
        state.stroke = color
    else:
        state.fill = color


def _color_space(rewriter: Rewriter, operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    stroke, color = operator == b"CS", color_of_new_space(operands, rewriter.frame.source)
    _set(rewriter.state, stroke, color)
    return b"" if color.is_nothing else _plain(rewriter, color, stroke)


def _color(rewriter: Rewriter, operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    """sc, scn and their stroking twins: a colour, a tiling pattern or a shading."""
    stroke = operator in (b"SC", b"SCN")
    before = rewriter.state.stroke if stroke else rewriter.state.fill
    color = color_in_space(before.space, operands, rewriter.frame.source)
    if color is None:
        return b""
    _set(rewriter.state, stroke, color)
    if color.is_nothing:
        return b""
    set_space, set_color = (b"CS", b"SCN") if stroke else (b"cs", b"scn")
    if color.shading_pattern is not None:
        name = rewriter.frame.name("/Pattern", _shading_pattern(rewriter, color.shading_pattern, color.paints_in))
        return b"/Pattern %s %s %s" % (set_space, name, set_color)
    if color.tiles is None:
        return _plain(rewriter, color, stroke)
    cell = rewriter.frame.name("/Pattern", _cell(rewriter, color.tiles))
    if color.values is None:
        return b"/Pattern %s %s %s" % (set_space, cell, set_color)
    pattern_space = rewriter.frame.name("/ColorSpace", Array([Name.Pattern, Name.DeviceRGB]))
    channels = rewriter.channels(color.paints_in, color.values)
    return b"%s %s %s %s %s" % (pattern_space, set_space, channels, cell, set_color)


def _plain(rewriter: Rewriter, color: CurrentColor, stroke: bool) -> bytes:
    assert color.values is not None
    return rewriter.channels(color.paints_in, color.values) + (b" RG" if stroke else b" rg")


def _shading_pattern(rewriter: Rewriter, pattern: pikepdf.Object, space: ColorSpace) -> pikepdf.Object:
    shading, matrix = pattern.Shading, matrix_of(pattern.get("/Matrix"))
    if "/BBox" in shading and 0 not in (matrix.b * matrix.c, matrix.a * matrix.d):
        raise CannotSeparate("a gradient with a box of its own is turned, which the renderer does not follow")
    made = Dictionary(PatternType=2, Shading=shading_for(rewriter, shading, space))
    if isinstance(pattern.get("/Matrix"), Array):
        made.Matrix = Array([float(one) for one in pattern.Matrix])
    return rewriter.out.make_indirect(made)


def shading_for(rewriter: Rewriter, shading: pikepdf.Object, space: ColorSpace) -> pikepdf.Object:
    """The shading for these inks, made once however often it is painted."""
    key = ("shading", shading.objgen, space.written)
    made = rewriter.forms.get(key) if shading.objgen != (0, 0) else None
    if made is None:
        found = rgb_shading(shading, lambda colors: rewriter.table.rgb(space, colors), space.components, rewriter.out)
        made = rewriter.forms[key] = found if found.is_indirect else rewriter.out.make_indirect(found)
    return made


def _cell(rewriter: Rewriter, pattern: pikepdf.Stream) -> pikepdf.Object:
    """The rewritten cell of a tiling pattern; it starts from the page's own state (8.7.3.1)."""
    ctm, step = stepped(matrix_of(pattern.get("/Matrix")).then(rewriter.base), rewriter.steps)
    key = ("cell", pattern.objgen, step)
    if key in rewriter.forms:
        return rewriter.forms[key]
    made = Dictionary()
    data = b""
    if pattern.objgen not in rewriter.running:
        rewriter.running.append(pattern.objgen)
        resources = rewriter.frame.source.inner(pattern.get("/Resources"))
        begun = rewriter.begun() if pattern.get("/PaintType") != 2 else b""
        isolated, rewriter.isolated_groups = rewriter.isolated_groups, 0  # a cell is painted apart, as if it were one
        data = begun + rewriter.stream(content_bytes(pattern), resources, State(ctm=ctm), made)
        rewriter.isolated_groups = isolated
        rewriter.running.pop()
    cell = pikepdf.Stream(rewriter.out, data, Type=Name.Pattern, PatternType=1, Resources=made)
    for entry in ("/PaintType", "/TilingType", "/XStep", "/YStep"):
        if entry in pattern:
            cell[entry] = pattern[entry]
    for entry in ("/BBox", "/Matrix"):
        if entry in pattern:
            cell[entry] = Array([float(one) for one in pattern[entry]])
    rewriter.forms[key] = rewriter.out.make_indirect(cell)
    return rewriter.forms[key]


COLORS: dict[bytes, Handler] = {
    RUN: _run, **dict.fromkeys(DEVICE_OPERATORS, _device_color),
    **dict.fromkeys((b"cs", b"CS"), _color_space), **dict.fromkeys((b"sc", b"scn", b"SC", b"SCN"), _color),
}
