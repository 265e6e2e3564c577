"""Fonts of a rewritten page: copied as they are, but for Type 3, whose glyphs are content (ISO 32000-2:2020, 9.6.4)."""

from __future__ import annotations

from typing import Any

import pikepdf
from pikepdf import Dictionary, Name

from service.pdf.plates.rewriting.rewriter import Rewriter
from service.pdf.reading.streams import content_bytes


def font_for(rewriter: Rewriter, font: Dictionary) -> pikepdf.Object:
    """The font in the rewritten file."""
    identity = font.objgen
    if font.get("/Subtype") == "/Type3":
        return _type_3(rewriter, font)
    if identity == (0, 0):
        return rewriter.copied(font)
    if identity not in rewriter.fonts:
        rewriter.fonts[identity] = rewriter.copied(font)
    return rewriter.fonts[identity]


def _type_3(rewriter: Rewriter, font: Dictionary) -> pikepdf.Object:
    """A Type 3 font whose glyphs are rewritten; they share one set of resources."""
    made = Dictionary()
    own = font.get("/Resources")
    source = rewriter.frame.source.inner(own)
    glyphs = Dictionary()
    procedures = font.get("/CharProcs")
    for name, procedure in procedures.items() if isinstance(procedures, Dictionary) else ():
        if isinstance(procedure, pikepdf.Stream) and procedure.objgen not in rewriter.running:
            rewriter.running.append(procedure.objgen)
            data = rewriter.stream(content_bytes(procedure), source, rewriter.state, made)
            rewriter.running.pop()
            glyphs[name] = rewriter.out.make_indirect(pikepdf.Stream(rewriter.out, data))
    written = Dictionary(Type=Name.Font, Subtype=Name.Type3, CharProcs=glyphs, Resources=made)
    for entry in ("/FontBBox", "/FontMatrix", "/Encoding", "/FirstChar", "/LastChar", "/Widths"):
        value: Any = font.get(entry)
        if value is not None:
            written[entry] = rewriter.copied(value) if isinstance(value, pikepdf.Object) else value
    return rewriter.out.make_indirect(written)
