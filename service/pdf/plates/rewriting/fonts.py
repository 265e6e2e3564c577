"""Fonts of a rewritten page: copied as they are, but for Type 3, whose glyphs are content (ISO 32000-2:2020, 9.6.4).

A glyph of Type 3 (`d0`) may set colours of its own: whether it paints on these inks is its own operators' matter, in the state in
which it is shown. So such a font is rewritten where its text is shown, not where it is chosen.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pikepdf
from pikepdf import Dictionary, Name

from service.pdf.content.current_color import CurrentColor
from service.pdf.plates.rewriting.rewriter import Rewriter
from service.pdf.reading.streams import content_bytes


def font_for(rewriter: Rewriter, font: Dictionary) -> pikepdf.Object:
    """The font in the rewritten file; not for Type 3."""
    identity = font.objgen
    if identity == (0, 0):
        return rewriter.copied(font)
    if identity not in rewriter.fonts:
        rewriter.fonts[identity] = rewriter.copied(font)
    return rewriter.fonts[identity]


def is_type_3(font: Dictionary) -> bool:
    return bool(font.get("/Subtype") == "/Type3")


def type_3_chosen(rewriter: Rewriter, font: Dictionary, size: float) -> bytes:
    """Tf for a Type 3 font in the present state."""
    return rewriter.frame.name("/Font", _type_3_for(rewriter, font)) + b" %.6f Tf" % size


def _type_3_for(rewriter: Rewriter, font: Dictionary) -> pikepdf.Object:
    """One for each state that its glyphs can inherit, as forms are (`objects.form_for`)."""
    key = ("type 3", font.objgen, *inherited_state(rewriter))
    made = rewriter.forms.get(key) if font.objgen != (0, 0) else None
    if made is None:
        made = rewriter.forms[key] = _type_3(rewriter, font)
    return made


def inherited_state(rewriter: Rewriter) -> tuple[object, ...]:
    """What of the state decides how content is rewritten that inherits it; without colours where none is left out for its own."""
    state = rewriter.state
    always = state.fill.paints_in.family is not None and state.stroke.paints_in.family is not None
    if always and not (state.fill_overprint or state.stroke_overprint or state.blocked):
        return ()
    return (
        *state.fill.inherited, *state.stroke.inherited,
        state.fill_overprint, state.stroke_overprint, state.overprint_mode, state.blocked,
    )


def inherited_color(color: CurrentColor) -> tuple[object, ...]:
    """What of a colour decides how content is rewritten that inherits it."""
    return color.space.written, color.paints_in.written, color.values, color.tiles is None


def _type_3(rewriter: Rewriter, font: Dictionary) -> pikepdf.Object:
    """Its glyphs are rewritten; they share one set of resources."""
    made = Dictionary()
    isolated, rewriter.isolated_groups = rewriter.isolated_groups, 0  # a `d1` glyph is a shape: it covers by its text's colour
    own = font.get("/Resources")
    source = rewriter.frame.source.inner(own)
    glyphs = Dictionary()
    procedures = font.get("/CharProcs")
    for name, procedure in procedures.items() if isinstance(procedures, Dictionary) else ():
        if isinstance(procedure, pikepdf.Stream) and procedure.objgen not in rewriter.running:
            rewriter.running.append(procedure.objgen)
            data = rewriter.stream(content_bytes(procedure), source, replace(rewriter.state, placed=False), made)
            rewriter.running.pop()
            glyphs[name] = rewriter.out.make_indirect(pikepdf.Stream(rewriter.out, data))
    rewriter.isolated_groups = isolated
    written = Dictionary(Type=Name.Font, Subtype=Name.Type3, CharProcs=glyphs, Resources=made)
    for entry in ("/FontBBox", "/FontMatrix", "/Encoding", "/FirstChar", "/LastChar", "/Widths"):
        value: Any = font.get(entry)
        if value is not None:
            written[entry] = rewriter.copied(value) if isinstance(value, pikepdf.Object) else value
    return rewriter.out.make_indirect(written)
