"""Graphics state, colour and marked-content operators (ISO 32000-2:2020, 8.4.4, 8.6.8, 8.11.3 and 14.6)."""

from __future__ import annotations

from collections.abc import Callable

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.content.current_color import (
    DEVICE_OPERATORS,
    CurrentColor,
    DeviceOperator,
    color_in_space,
    color_of_new_space,
)
from service.pdf.content.graphics_state import Paint, blended_paint, paint_of
from service.pdf.content.state_parameters import set_on
from service.pdf.content.work_limits import refuse_saved_states
from service.pdf.facts.geometry import Matrix
from service.pdf.reading.operands import Operands, floats
from service.pdf.walk.objects import walk_soft_mask
from service.pdf.walk.walker import Handler, Walk

MOST_PAINTS = 4_096
"""Colours that are kept ready, for each set of resources."""


def _save(walk: Walk, _operands: Operands) -> None:
    refuse_saved_states(len(walk.saved))
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


_SET = ("line_width", "fill_alpha", "stroke_alpha", "blend_mode", "fill_overprint", "stroke_overprint", "overprint_mode")


def _graphics_state(walk: Walk, operands: Operands) -> None:
    """`gs`: what of a parameter dictionary changes what is painted (8.4.5)."""
    parameters = walk.resources.state_parameters(operands)
    if parameters is None:
        return
    state = walk.state
    set_on(state, parameters, _SET)
    if parameters.font is not None:
        font, size = parameters.font
        state.text = state.text._replace(font=walk.resources.font_of(font), size=size)
    if parameters.has_soft_mask is not None:
        state.soft_mask = parameters.has_soft_mask
    if parameters.soft_mask is not None:
        walk_soft_mask(walk, parameters.soft_mask)


# --- Colour -----------------------------------------------------------------------------------------------------------


def set_device_color(walk: Walk, device: DeviceOperator, values: tuple[float, ...]) -> None:
    """As g, rg, k and their stroking twins do."""
    if walk.colors_fixed:
        return
    space, known = walk.resources.named_space(device.name), walk.resources.paints
    paint = known.get((device.name, values))
    if paint is None:
        paint = paint_of(space, values)
        if len(known) < MOST_PAINTS:
            known[device.name, values] = paint
    _set(walk, device.stroke, space, paint)


def _device_color(device: DeviceOperator) -> Handler:
    """g, rg, k and their stroking twins."""
    name, stroke = device.name, device.stroke

    def set_color(walk: Walk, operands: Operands) -> None:
        if walk.colors_fixed:
            return
        space, known = walk.resources.named_space(name), walk.resources.paints
        paint = known.get((name, operands)) if isinstance(operands, bytes) else None
        if paint is None:
            values = device.values(operands)
            if values is None:
                return
            paint = paint_of(space, values)
            if isinstance(operands, bytes) and len(known) < MOST_PAINTS:
                known[name, operands] = paint
        _set(walk, stroke, space, paint)

    return set_color


def _color_space(stroke: bool) -> Handler:
    def set_space(walk: Walk, operands: Operands) -> None:
        if not walk.colors_fixed:
            color = color_of_new_space(operands, walk.resources)
            _set(walk, stroke, color.space, _paint_for(color))

    return set_space


def _color(stroke: bool) -> Handler:
    """sc, scn and their stroking twins."""

    def set_color(walk: Walk, operands: Operands) -> None:
        if walk.colors_fixed:
            return
        color = color_in_space(walk.state.stroke_space if stroke else walk.state.fill_space, operands, walk.resources)
        if color is not None:
            _set(walk, stroke, color.space, _paint_for(color))

    return set_color


def _paint_for(color: CurrentColor) -> Paint:
    if color.shading_pattern is not None:
        return blended_paint(color.paints_in, shading=True)
    if color.values is None:
        return Paint(None, "Pattern", (), white=color.is_nothing, pattern=color.tiles)
    paint = paint_of(color.paints_in, color.values)
    return paint if color.tiles is None else paint._replace(pattern=color.tiles)


def _set(walk: Walk, stroke: bool, space: ColorSpace, paint: Paint) -> None:
    if stroke:
        walk.state.stroke_space, walk.state.stroke = space, paint
    else:
        walk.state.fill_space, walk.state.fill = space, paint


# --- Marked content ---------------------------------------------------------------------------------------------------


def _begin_marked(walk: Walk, operands: Operands) -> None:
    walk.marked_hidden.append(walk.hide_by(walk.resources.layer_of(operands), walk.hidden))


def _end_marked(walk: Walk, _operands: Operands) -> None:
    if len(walk.marked_hidden) > 1:
        walk.marked_hidden.pop()


STATE: dict[bytes, Callable[[Walk, Operands], None]] = {
    b"q": _save, b"Q": _restore, b"cm": _concatenate, b"w": _line_width, b"gs": _graphics_state,
    **{operator: _device_color(device) for operator, device in DEVICE_OPERATORS.items()},
    b"cs": _color_space(False), b"CS": _color_space(True),
    b"sc": _color(False), b"scn": _color(False), b"SC": _color(True), b"SCN": _color(True),
    b"BMC": _begin_marked, b"BDC": _begin_marked, b"EMC": _end_marked,
}
