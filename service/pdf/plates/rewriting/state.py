"""Rewriting of graphics state, colour, path and text operators (see `rewriting`)."""

from __future__ import annotations

import re
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from service.pdf.content.color_spaces import CMYK, GRAY, PATTERN, RGB, ColorSpace
from service.pdf.facts.geometry import Matrix
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.colors.overprint import MixedTreatment
from service.pdf.plates.rewriting.color_runs import Colors
from service.pdf.plates.rewriting.fonts import font_for, is_type_3, type_3_chosen
from service.pdf.plates.rewriting.rewriter import (
    CannotSeparate,
    Handler,
    Operands,
    Replacement,
    Rewriter,
    State,
    Treatment,
    stepped,
)
from service.pdf.plates.rewriting.shadings import rgb_shading
from service.pdf.reading.arrays import matrix_of
from service.pdf.reading.lexer import DEVICE_COLORS, RUN, numbers
from service.pdf.reading.names import name_text
from service.pdf.reading.streams import content_bytes
from service.pdf.walk.walker import floats, name_of

_SEPARABLE = {
    "Normal", "Compatible", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn", "HardLight",
    "SoftLight", "Difference", "Exclusion",
}  # fmt: skip
_NOT_WHITE_PRESERVING = {"Difference", "Exclusion"}
_KEPT_STATE = ("/LW", "/LC", "/LJ", "/ML", "/D", "/CA", "/ca", "/AIS", "/SA", "/TK", "/FL")


def _save(rewriter: Rewriter, _operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    rewriter.frame.saved.append(rewriter.state)
    rewriter.state = State(**vars(rewriter.state))
    return None


def _restore(rewriter: Rewriter, _operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    if not rewriter.frame.saved:
        return b""
    rewriter.state = rewriter.frame.saved.pop()
    return None


def _concatenate(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    values = floats(operands, 6)
    if values:
        rewriter.state.ctm = Matrix(*values).then(rewriter.state.ctm)
    return None


# --- Colour -----------------------------------------------------------------------------------------------------------

_DEVICE: dict[bytes, tuple[str, ColorSpace, bool]] = {
    b"g": ("DeviceGray", GRAY, False), b"G": ("DeviceGray", GRAY, True),
    b"rg": ("DeviceRGB", RGB, False), b"RG": ("DeviceRGB", RGB, True),
    b"k": ("DeviceCMYK", CMYK, False), b"K": ("DeviceCMYK", CMYK, True),
}  # fmt: skip
MOST_COLORS = 4_096


def _device_color(rewriter: Rewriter, operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    name, device, stroke = _DEVICE[operator]
    known = rewriter.frame.colors
    key = (operator, operands) if isinstance(operands, bytes) else None
    found = known.get(key) if key else None
    if found is None:
        values = floats(operands, device.components)
        if not values:
            return b""
        space, color = rewriter.frame.source.named_space(name), tuple(values)
        found = space, color, rewriter.channels(space, color) + (b" RG" if stroke else b" rg")
        if key and len(known) < MOST_COLORS:
            known[key] = found
    _set(rewriter.state, stroke, found[0], found[1])
    return found[2]


def _run(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    """Paths that paint as they are, with device colours between them: only these are replaced, in one sweep."""
    assert isinstance(operands, bytes)
    run = rewriter.color_runs.cut(operands)
    if run is None:
        return _run_one_by_one(rewriter, operands)
    if not run.set_there:
        return None
    named_space = rewriter.frame.source.named_space
    for operator, color in run.last():
        name, _, stroke = _DEVICE[operator]
        _set(rewriter.state, stroke, named_space(name), color)

    def rewritten(operator: bytes, colors: Colors) -> list[bytes]:
        name, _, stroke = _DEVICE[operator]
        return rewriter.channels_of_many(named_space(name), colors, b" RG" if stroke else b" rg")

    return run.written(rewritten)


def _run_one_by_one(rewriter: Rewriter, run: bytes) -> Replacement:
    """The same where operands are missing or malformed."""

    def replaced(found: re.Match[bytes]) -> bytes:
        return found[2] + (_device_color(rewriter, found[4], found[3], b"") or b"")

    content, count = DEVICE_COLORS.subn(replaced, run)
    return content if count else None


def _set(state: State, stroke: bool, space: ColorSpace, color: tuple[float, ...] | None) -> None:
    if stroke:
        state.stroke_space, state.stroke_color = space, color
    else:
        state.fill_space, state.fill_color = space, color


def _color_space(rewriter: Rewriter, operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    space = rewriter.frame.source.named_space(name_of(operands) or "")
    stroke = operator == b"CS"
    if space.components == 0 or (space.written == "Pattern" and space.base is None):
        _set(rewriter.state, stroke, PATTERN, None)
        return b""
    _set(rewriter.state, stroke, space, space.initial)
    return _plain(rewriter, space, space.initial, stroke)


def _plain(rewriter: Rewriter, space: ColorSpace, color: tuple[float, ...], stroke: bool) -> bytes:
    return rewriter.channels(space, color) + (b" RG" if stroke else b" rg")


def _color(rewriter: Rewriter, operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    """sc, scn and their stroking twins: a colour, a tiling pattern or a shading."""
    stroke = operator in (b"SC", b"SCN")
    state = rewriter.state
    space = state.stroke_space if stroke else state.fill_space
    values = tuple(floats(operands, 0) or [])
    name = name_of(operands)
    if name is not None:
        return _pattern(rewriter, space, values, name, stroke)
    if space is PATTERN or len(values) < space.components:
        return b""
    color = values[: space.components]
    _set(state, stroke, space, color)
    return _plain(rewriter, space, color, stroke)


def _pattern(rewriter: Rewriter, space: ColorSpace, values: tuple[float, ...], name: str, stroke: bool) -> bytes:
    pattern = rewriter.frame.source.pattern(name)
    set_space, set_color = (b"CS", b"SCN") if stroke else (b"cs", b"scn")
    if pattern is None:
        _set(rewriter.state, stroke, PATTERN, None)
        return b""
    shading = pattern.get("/Shading")
    if pattern.get("/PatternType") == 2 and isinstance(shading, Dictionary | pikepdf.Stream):
        painted = rewriter.frame.source.space(shading.get("/ColorSpace"))
        _set(rewriter.state, stroke, painted, None)
        matrix = matrix_of(pattern.get("/Matrix"))
        if "/BBox" in shading and 0 not in (matrix.b * matrix.c, matrix.a * matrix.d):
            raise CannotSeparate("a gradient with a box of its own is turned, which the renderer does not follow")
        made = Dictionary(PatternType=2, Shading=shading_for(rewriter, shading, painted))
        if isinstance(pattern.get("/Matrix"), Array):
            made.Matrix = Array([float(one) for one in pattern.Matrix])
        return b"/Pattern %s %s %s" % (set_space, rewriter.frame.name("/Pattern", rewriter.out.make_indirect(made)), set_color)
    if not isinstance(pattern, pikepdf.Stream):
        return b""
    if pattern.get("/PaintType") == 2 and (space.base or space is not PATTERN):
        base = space.base or space
        color = values[: base.components]
        _set(rewriter.state, stroke, ColorSpace("Pattern", base.family, base.components, base.colorants, base=base), color)
        pattern_space = rewriter.frame.name("/ColorSpace", Array([Name.Pattern, Name.DeviceRGB]))
        cell = rewriter.frame.name("/Pattern", _cell(rewriter, pattern))
        return b"%s %s %s %s %s" % (pattern_space, set_space, rewriter.channels(base, color), cell, set_color)
    _set(rewriter.state, stroke, PATTERN, None)
    return b"/Pattern %s %s %s" % (set_space, rewriter.frame.name("/Pattern", _cell(rewriter, pattern)), set_color)


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


# --- Graphics state ---------------------------------------------------------------------------------------------------


def _graphics_state(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    entries = rewriter.frame.source.dictionary_of("/ExtGState", name_of(operands) or "")
    if entries is None:
        return b""
    state = rewriter.state
    both, fill, mode = entries.get("/OP"), entries.get("/op"), entries.get("/OPM")
    if isinstance(both, bool):
        state.stroke_overprint = state.fill_overprint = both
    if isinstance(fill, bool):
        state.fill_overprint = fill
    if isinstance(mode, int):
        state.overprint_mode = mode
    made = Dictionary()
    for key in _KEPT_STATE:
        if key in entries:
            value: Any = entries[key]
            made[key] = rewriter.copied(value) if isinstance(value, pikepdf.Object) else value
    if "/BM" in entries:
        blend = _blend_mode(rewriter, entries["/BM"])
        if blend in _NOT_WHITE_PRESERVING:  # no ink over no ink gives ink
            rewriter.table.used.update(rewriter.inks)
        state.blocked = blend is None
        state.blend_mode = blend or "Normal"
        made.BM = Name("/" + state.blend_mode)
    mask = entries.get("/SMask")
    if rewriter.knockout_groups and (_is_blended(entries) or isinstance(mask, Dictionary)):
        raise CannotSeparate("it blends objects inside a knockout group (ISO 32000-2:2020, 11.4.6)")
    if isinstance(mask, Dictionary):
        made.SMask = rewriter.copied(mask)
    elif mask is not None:
        made.SMask = Name("/None")
    font = entries.get("/Font")
    if isinstance(font, Array) and len(font) == 2 and isinstance(font[0], Dictionary):
        state.type_3 = (font[0], float(font[1])) if is_type_3(font[0]) else None
        if state.type_3 is None:
            made.Font = Array([font_for(rewriter, font[0]), float(font[1])])
    return rewriter.frame.name("/ExtGState", made) + b" gs"


def _is_blended(entries: pikepdf.Dictionary) -> bool:
    alphas = [entries[key] for key in ("/CA", "/ca") if key in entries]
    return any(float(one) < 1 for one in alphas if not isinstance(one, pikepdf.Object)) or (
        "/BM" in entries and entries["/BM"] not in ("/Normal", "/Compatible")
    )


def _blend_mode(rewriter: Rewriter, written: pikepdf.Object) -> str | None:
    """The mode for these inks; None where it leaves them as they are (11.3.5.3: black takes the backdrop's under Hue,
    Saturation and Color and the source's under Luminosity; 11.7.4.2: spots fall back to Normal).
    """
    names = [name_text(one) for one in written] if isinstance(written, Array) else [name_text(written)]
    mode = next((name for name in names if name in _SEPARABLE or name in ("Hue", "Saturation", "Color", "Luminosity")), "Normal")
    mode = "Normal" if mode == "Compatible" else mode
    modes = {_mode_for(ink, mode) for ink in rewriter.inks}
    if len(modes) > 1:
        raise MixedTreatment
    return modes.pop()


def _mode_for(ink: str, mode: str) -> str | None:
    if ink not in PROCESS_INKS:
        return mode if mode in _SEPARABLE - _NOT_WHITE_PRESERVING else "Normal"
    if mode in _SEPARABLE or ink != "Black":
        return mode
    return "Normal" if mode == "Luminosity" else None


# --- Painting ---------------------------------------------------------------------------------------------------------

_PAINTING: dict[bytes, tuple[bool, bool, bytes, bytes, bytes]] = {
    # fills, strokes, and what is left when it fills only, strokes only, or does neither
    b"f": (True, False, b"f", b"n", b"n"), b"F": (True, False, b"f", b"n", b"n"), b"f*": (True, False, b"f*", b"n", b"n"),
    b"S": (False, True, b"n", b"S", b"n"), b"s": (False, True, b"n", b"s", b"n"),
    b"B": (True, True, b"f", b"S", b"n"), b"B*": (True, True, b"f*", b"S", b"n"),
    b"b": (True, True, b"f", b"s", b"n"), b"b*": (True, True, b"f*", b"s", b"n"),
}  # fmt: skip


def _paint_path(rewriter: Rewriter, operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    fills, strokes, fill_only, stroke_only, neither = _PAINTING[operator]
    fill, stroke, left = _treatments(rewriter, fills, strokes)
    if (fill, stroke) == (fills, strokes):
        return None
    return fill_only if fill else stroke_only if stroke else rewriter.left(operator, neither) if left else neither


def _treatments(rewriter: Rewriter, fills: bool, strokes: bool) -> tuple[bool, bool, bool]:
    """Whether the filling paints and whether the stroke does; whether all that there is of them leaves the inks as they are."""
    found = (rewriter.fill_treatment() if fills else None, rewriter.stroke_treatment() if strokes else None)
    fill, stroke = (one is Treatment.PAINTS for one in found)
    return fill, stroke, {*found} - {None} == {Treatment.LEAVES}


def _text_mode(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    values = numbers(operands) if isinstance(operands, bytes) else []
    if values and 0 <= values[-1] <= 7:
        rewriter.state.text_mode = int(values[-1])
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
    fills, strokes = mode in (0, 2, 4, 6), mode in (1, 2, 5, 6)
    fill, stroke, left = _treatments(rewriter, fills, strokes)
    if (fill, stroke) == (fills, strokes):
        return None
    clips = 4 if mode >= 4 else 0
    unseen = b"%d Tr %s %d Tr" % ((0 if fill else 1 if stroke else 3) + clips, written, mode)
    return rewriter.left(written, unseen) if left else unseen


STATE: dict[bytes, Handler] = {
    b"q": _save, b"Q": _restore, b"cm": _concatenate, b"gs": _graphics_state,
    RUN: _run, **dict.fromkeys(_DEVICE, _device_color),
    b"cs": _color_space, b"CS": _color_space, b"sc": _color, b"scn": _color, b"SC": _color, b"SCN": _color,
    **dict.fromkeys(_PAINTING, _paint_path),
    b"Tr": _text_mode, b"Tf": _font, b"Tj": _show, b"TJ": _show, b"'": _show, b'"': _show,
}  # fmt: skip
