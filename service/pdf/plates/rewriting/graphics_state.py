"""Rewriting of graphics state operators (see `rewriter`): what is saved and restored, and what `gs` sets."""

from __future__ import annotations

from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from service.pdf.content.state_parameters import SEPARABLE_MODES, set_on
from service.pdf.content.work_limits import refuse_saved_states
from service.pdf.facts.geometry import Matrix
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.colors.overprint import MixedTreatment
from service.pdf.plates.rewriting.fonts import font_for, is_type_3
from service.pdf.plates.rewriting.rewriter import Handler, Replacement, Rewriter, State
from service.pdf.reading.operands import Operands, floats, name_of

_NOT_WHITE_PRESERVING = {"Difference", "Exclusion"}
_KEPT_STATE = ("/LW", "/LC", "/LJ", "/ML", "/D", "/CA", "/ca", "/AIS", "/SA", "/TK", "/FL")
_SET = ("fill_overprint", "stroke_overprint", "overprint_mode")


def _save(rewriter: Rewriter, _operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    refuse_saved_states(len(rewriter.frame.saved))
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


def _graphics_state(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    source = rewriter.frame.source
    parameters, entries = source.state_parameters(operands), source.dictionary_of("/ExtGState", name_of(operands) or "")
    if parameters is None or entries is None:
        return b""
    state = rewriter.state
    set_on(state, parameters, _SET)
    made = Dictionary()
    for key in _KEPT_STATE:
        if key in entries:
            value: Any = entries[key]
            made[key] = rewriter.copied(value) if isinstance(value, pikepdf.Object) else value
    if parameters.blend_mode is not None:
        blend = _mode_for_all(rewriter, parameters.blend_mode)
        if blend in _NOT_WHITE_PRESERVING:  # no ink over no ink gives ink
            rewriter.table.used.update(rewriter.inks)
        state.blocked = blend is None
        state.blend_mode = blend or "Normal"
        made.BM = Name("/" + state.blend_mode)
    if parameters.has_soft_mask is not None:
        mask = parameters.soft_mask
        made.SMask = Name("/None") if mask is None else rewriter.copied(mask)
    if parameters.font is not None:
        font, size = parameters.font
        state.type_3 = (font, size) if is_type_3(font) else None
        if state.type_3 is None:
            made.Font = Array([font_for(rewriter, font), size])
    return rewriter.frame.name("/ExtGState", made) + b" gs"


def _mode_for_all(rewriter: Rewriter, mode: str) -> str | None:
    """The mode for these inks; None where it leaves them as they are (11.3.5.3: black takes the backdrop's under Hue,
    Saturation and Color and the source's under Luminosity; 11.7.4.2: spots fall back to Normal).
    """
    modes = {_mode_for(ink, mode) for ink in rewriter.inks}
    if len(modes) > 1:
        raise MixedTreatment
    return modes.pop()


def _mode_for(ink: str, mode: str) -> str | None:
    if ink not in PROCESS_INKS:
        return mode if mode in SEPARABLE_MODES - _NOT_WHITE_PRESERVING else "Normal"
    if mode in SEPARABLE_MODES or ink != "Black":
        return mode
    return "Normal" if mode == "Luminosity" else None


GRAPHICS_STATE: dict[bytes, Handler] = {b"q": _save, b"Q": _restore, b"cm": _concatenate, b"gs": _graphics_state}
