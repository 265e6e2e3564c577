"""Graphics state, colour and marked-content operators (ISO 32000-2:2020, 8.4.4, 8.6.8, 8.11.3 and 14.6)."""

from __future__ import annotations

from collections.abc import Callable

import pikepdf

from service.pdf.content.color_spaces import CMYK, GRAY, PATTERN, RGB, ColorSpace
from service.pdf.content.graphics_state import GraphicsState, Paint, blended_paint, paint_of
from service.pdf.facts.geometry import Matrix
from service.pdf.reading.names import name_text
from service.pdf.walk.objects import walk_soft_mask
from service.pdf.walk.walker import MOST_SAVED_STATES, Handler, Operands, TooMuchWork, Walk, floats, name_of

MOST_PAINTS = 4_096
"""Colours that are kept ready, for each set of resources."""


def _save(walk: Walk, _operands: Operands) -> None:
    if len(walk.saved) >= MOST_SAVED_STATES:
        raise TooMuchWork("it saves the drawing state more than {count} times without restoring it", count=MOST_SAVED_STATES)
    walk.saved.append(walk.state)
    walk.state = walk.state.saved()


def _restore(walk: Walk, _operands: Operands) -> None:
    if walk.saved:
        walk.state = walk.saved.pop()


def _concatenate(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 6)
    if values:
        walk.state.ctm = Matrix(*values).then(walk.state.ctm)


def _line_width(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 1)
    if values:
        walk.state.line_width = abs(values[0])


def _graphics_state(walk: Walk, operands: Operands) -> None:
    """`gs`: what of an ExtGState changes what is painted (8.4.5, Table 57)."""
    entries = walk.resources.dictionary_of("/ExtGState", name_of(operands) or "")
    if entries is None:
        return
    state = walk.state
    for key, attribute in (("/LW", "line_width"), ("/ca", "fill_alpha"), ("/CA", "stroke_alpha")):
        value = entries.get(key)
        if value is not None and not isinstance(value, pikepdf.Object):
            setattr(state, attribute, float(value))
    font = entries.get("/Font")
    if isinstance(font, pikepdf.Array) and len(font) == 2 and isinstance(font[0], pikepdf.Dictionary):
        state.text = state.text._replace(font=walk.resources.font_of(font[0]), size=float(font[1]))
    blend = entries.get("/BM")
    if blend is not None:
        first = name_text(blend[0] if isinstance(blend, pikepdf.Array) and len(blend) else blend)
        state.blend_mode = "Normal" if first in ("Compatible", "") else first
    _overprint(state, entries)
    mask = entries.get("/SMask")
    if mask is not None:
        state.soft_mask = isinstance(mask, pikepdf.Dictionary)
        if isinstance(mask, pikepdf.Dictionary):
            walk_soft_mask(walk, mask)


def _overprint(state: GraphicsState, entries: pikepdf.Dictionary) -> None:
    """OP sets both parameters unless op is in the same dictionary (8.4.5, Table 57)."""
    both, fill, mode = entries.get("/OP"), entries.get("/op"), entries.get("/OPM")
    if isinstance(both, bool):
        state.stroke_overprint = state.fill_overprint = both
    if isinstance(fill, bool):
        state.fill_overprint = fill
    if isinstance(mode, int):
        state.overprint_mode = mode


# --- Colour -----------------------------------------------------------------------------------------------------------


def _device_color(name: str, device: ColorSpace, stroke: bool) -> Handler:
    """g, rg, k and their stroking twins: space and colour in one (8.6.8)."""

    def set_color(walk: Walk, operands: Operands) -> None:
        if walk.colors_fixed:
            return
        space, known = walk.resources.named_space(name), walk.resources.paints
        paint = known.get((name, operands)) if isinstance(operands, bytes) else None
        if paint is None:
            values = floats(operands, device.components)
            if not values:
                return
            paint = paint_of(space, tuple(values))
            if isinstance(operands, bytes) and len(known) < MOST_PAINTS:
                known[name, operands] = paint
        _set(walk, stroke, space, paint)

    return set_color


def _color_space(stroke: bool) -> Handler:
    def set_space(walk: Walk, operands: Operands) -> None:
        if not walk.colors_fixed:
            space = walk.resources.named_space(name_of(operands) or "")
            _set(walk, stroke, space, paint_of(space, space.initial))

    return set_space


def _color(stroke: bool) -> Handler:
    """sc, scn and their stroking twins."""

    def set_color(walk: Walk, operands: Operands) -> None:
        if walk.colors_fixed:
            return
        space = walk.state.stroke_space if stroke else walk.state.fill_space
        values = floats(operands, 0) or []
        name = name_of(operands)
        if name is not None:
            _set(walk, stroke, space, _pattern_paint(walk, space, name, values))
        elif space is not PATTERN:
            _set(walk, stroke, space, paint_of(space, tuple(values[: space.components])))

    return set_color


def _pattern_paint(walk: Walk, space: ColorSpace, name: str, values: list[float]) -> Paint:
    """A tiling pattern, coloured or not, or a shading pattern, which paints in its shading's space (8.7)."""
    pattern = walk.resources.pattern(name)
    if pattern is None:
        return paint_of(PATTERN, ())
    shading = pattern.get("/Shading")
    if pattern.get("/PatternType") == 2 and isinstance(shading, pikepdf.Dictionary | pikepdf.Stream):
        return blended_paint(walk.resources.space(shading.get("/ColorSpace")), shading=True)
    if pattern.get("/PaintType") == 2 and space.base:
        base = paint_of(space.base, tuple(values[: space.base.components]))
        return base._replace(pattern=pattern)
    return Paint(None, "Pattern", (), False, (), pattern)


def _set(walk: Walk, stroke: bool, space: ColorSpace, paint: Paint) -> None:
    if stroke:
        walk.state.stroke_space, walk.state.stroke = space, paint
    else:
        walk.state.fill_space, walk.state.fill = space, paint


# --- Marked content ---------------------------------------------------------------------------------------------------


def _begin_marked(walk: Walk, operands: Operands) -> None:
    hidden = walk.hidden
    if isinstance(operands, list) and len(operands) > 1 and operands[-2] == b"OC":
        hidden = walk.hide_by(walk.resources.dictionary_of("/Properties", name_of(operands) or ""), hidden)
    walk.marked_hidden.append(hidden)


def _end_marked(walk: Walk, _operands: Operands) -> None:
    if len(walk.marked_hidden) > 1:
        walk.marked_hidden.pop()


STATE: dict[bytes, Callable[[Walk, Operands], None]] = {
    b"q": _save, b"Q": _restore, b"cm": _concatenate, b"w": _line_width, b"gs": _graphics_state,
    b"g": _device_color("DeviceGray", GRAY, False), b"G": _device_color("DeviceGray", GRAY, True),
    b"rg": _device_color("DeviceRGB", RGB, False), b"RG": _device_color("DeviceRGB", RGB, True),
    b"k": _device_color("DeviceCMYK", CMYK, False), b"K": _device_color("DeviceCMYK", CMYK, True),
    b"cs": _color_space(False), b"CS": _color_space(True),
    b"sc": _color(False), b"scn": _color(False), b"SC": _color(True), b"SCN": _color(True),
    b"BMC": _begin_marked, b"BDC": _begin_marked, b"EMC": _end_marked,
}  # fmt: skip
