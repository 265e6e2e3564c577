"""What a graphics state parameter dictionary sets (ISO 32000-2:2020, 8.4.5, Table 57), read for `gs`."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import pikepdf

from service.pdf.reading.names import name_text

SEPARABLE_MODES = frozenset(
    ("Normal", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn", "HardLight", "SoftLight",
     "Difference", "Exclusion")
)
NON_SEPARABLE_MODES = frozenset(("Hue", "Saturation", "Color", "Luminosity"))
"""11.3.5.2 and 11.3.5.3."""


class StateParameters(NamedTuple):
    """None: the dictionary says nothing of it, and what was set before stays."""

    line_width: float | None
    fill_alpha: float | None
    stroke_alpha: float | None
    fill_overprint: bool | None
    stroke_overprint: bool | None
    overprint_mode: int | None
    blend_mode: str | None
    """The first of those named that there is, else Normal (11.6.3)."""
    soft_mask: pikepdf.Dictionary | None
    has_soft_mask: bool | None
    font: tuple[pikepdf.Dictionary, float] | None


def state_parameters(entries: pikepdf.Dictionary) -> StateParameters:
    both, fill, mode = entries.get("/OP"), entries.get("/op"), entries.get("/OPM")
    mask, font = entries.get("/SMask"), entries.get("/Font")
    stroke_overprint = both if isinstance(both, bool) else None
    return StateParameters(
        line_width=_number(entries.get("/LW")),
        fill_alpha=_number(entries.get("/ca")),
        stroke_alpha=_number(entries.get("/CA")),
        fill_overprint=fill if isinstance(fill, bool) else stroke_overprint,  # OP sets both unless op stands beside it
        stroke_overprint=stroke_overprint,
        overprint_mode=mode if isinstance(mode, int) else None,
        blend_mode=_blend_mode(entries["/BM"]) if "/BM" in entries else None,
        soft_mask=mask if isinstance(mask, pikepdf.Dictionary) else None,
        has_soft_mask=None if mask is None else isinstance(mask, pikepdf.Dictionary),
        font=_font(font) if isinstance(font, pikepdf.Array) else None,
    )


def set_on(state: object, parameters: StateParameters, names: Iterable[str]) -> None:
    """Set the named ones, of which a state has attributes of the same names, where the dictionary says something."""
    for name in names:
        value = getattr(parameters, name)
        if value is not None:
            setattr(state, name, value)


def _number(value: object) -> float | None:
    return None if value is None or isinstance(value, pikepdf.Object) else float(value)  # type: ignore[arg-type]


def _blend_mode(written: pikepdf.Object) -> str:
    names = [name_text(one) for one in written] if isinstance(written, pikepdf.Array) else [name_text(written)]
    known = (name for name in names if name == "Compatible" or name in SEPARABLE_MODES or name in NON_SEPARABLE_MODES)
    mode = next(known, "Normal")
    return "Normal" if mode == "Compatible" else mode


def _font(written: pikepdf.Array) -> tuple[pikepdf.Dictionary, float] | None:
    if len(written) != 2 or not isinstance(written[0], pikepdf.Dictionary):
        return None
    return written[0], float(written[1])
