"""Text state, positioning and showing (ISO 32000-2:2020, 9.3 and 9.4)."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from service.pdf.content.fonts.text_fonts import Glyph, TextFont
from service.pdf.content.graphics_state import Paint, TextMatrices, TextState
from service.pdf.content.painting import text_mode, text_painting
from service.pdf.facts.geometry import MM_PER_POINT, Box, Matrix
from service.pdf.facts.unknown import Unmeasured
from service.pdf.glyphs.of_font import GlyphInk
from service.pdf.reading.lexer import Operand, operations
from service.pdf.reading.operands import Operands, floats, name_of
from service.pdf.reading.streams import content_bytes
from service.pdf.walk.patterns import paint_area
from service.pdf.walk.text_ink import Line, ink_of_glyphs, with_procedure_ink
from service.pdf.walk.walker import Handler, ShownText, Walk

_BREAK_FORWARD_EM, _BREAK_BACK_EM = 1.0, -0.6
"""A jump inside one TJ beyond these is a new place on the page, not spacing. Our own choice."""
_WORD_GAP_EM = 0.2
"""A gap from which on a reader sees two words. Our own choice."""
_STROKED = (1, 2, 5, 6)
"""Text rendering modes (9.3.6, Table 104)."""
_UNCOLOURED = re.compile(rb"[\s\d.+-]*d1\b")


def _begin(walk: Walk, _operands: Operands) -> None:
    walk.text = TextMatrices()
    walk.text_clip = []


def _end(walk: Walk, _operands: Operands) -> None:
    """What modes 4 to 7 have gathered clips from here on (9.3.6)."""
    if walk.text_clip:
        walk.state.clip_to(
            Box(*(pick(side) for pick, side in zip((min, min, max, max), zip(*walk.text_clip, strict=True), strict=True)))
        )
        walk.text_clip = []


def _number(attribute: str, factor: float = 1.0) -> Handler:
    def set_number(walk: Walk, operands: Operands) -> None:
        values = floats(operands, 1)
        if values:
            change: dict[str, Any] = {attribute: values[0] * factor}
            walk.state.text = walk.state.text._replace(**change)

    return set_number


def _mode(walk: Walk, operands: Operands) -> None:
    mode = text_mode(operands)
    if mode is not None:
        walk.state.text = walk.state.text._replace(mode=mode)


def _font(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 1)
    if values:
        font = walk.resources.font(name_of(operands) or "")
        walk.state.text = walk.state.text._replace(font=font, size=values[0])


def _move(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 2)
    if values:
        walk.text.line = Matrix(1, 0, 0, 1, values[0], values[1]).then(walk.text.line)
        walk.text.now = walk.text.line


def _move_and_lead(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 2)
    if values:
        walk.state.text = walk.state.text._replace(leading=-values[1])
        _move(walk, operands)


def _matrix(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 6)
    if values:
        walk.text.line = walk.text.now = Matrix(*values)


def _next_line(walk: Walk, _operands: Operands) -> None:
    walk.text.line = Matrix(1, 0, 0, 1, 0, -walk.state.text.leading).then(walk.text.line)
    walk.text.now = walk.text.line


def _show_operator(walk: Walk, operands: Operands) -> None:
    pieces = operands[-1] if isinstance(operands, list) and operands else None
    _show(walk, pieces if isinstance(pieces, list) else [pieces])


def _show_on_next_line(walk: Walk, operands: Operands) -> None:
    _next_line(walk, operands)
    _show_operator(walk, operands)


def _space_and_show(walk: Walk, operands: Operands) -> None:
    values = floats(operands, 2)
    if values:
        walk.state.text = walk.state.text._replace(word_spacing=values[0], character_spacing=values[1])
    _show_on_next_line(walk, operands)


def _show(walk: Walk, pieces: list[Operand]) -> None:
    """Show strings and adjustments (9.4.3); one run of text for each place on the page."""
    text = walk.state.text
    font = text.font
    if font is None:
        return
    run, is_drawn = _Run(text, font), font.facts.type == "Type3"
    for piece in pieces:
        if isinstance(piece, bytes):
            if not is_drawn:
                run.add(font.glyphs(piece))
                continue
            for at in range(len(piece)):  # of one byte each, and a glyph's ink is known from the first one on
                (glyph,) = font.glyphs(piece[at : at + 1])
                glyph = with_procedure_ink(walk, font, glyph)
                _walk_glyph(walk, font, glyph, run)
                run.add((glyph,))
        elif isinstance(piece, float):
            run.adjust(walk, piece)
    run.finish(walk)
    along = (0.0, run.pen) if font.vertical else (run.pen, 0.0)
    walk.text.now = Matrix(1, 0, 0, 1, *along).then(walk.text.now)


class _Run:
    """Glyphs shown side by side; `pen` is in unscaled text space along the writing direction."""

    def __init__(self, text: TextState, font: TextFont) -> None:
        self.text, self.font = text, font
        self.scale = 1.0 if font.vertical else text.horizontal_scale
        self.pen = 0.0
        self.start: float | None = None
        self.end = 0.0
        self.characters: list[str] = []
        self.spans: list[tuple[str, float, float]] = []
        self.inks: list[GlyphInk] = []

    def add(self, glyphs: Iterable[Glyph]) -> None:
        size, scale = self.text.size, self.scale
        between, between_words = self.text.character_spacing, self.text.word_spacing
        pen, end = self.pen, self.end
        for _, glyph_width, text, is_space, ink in glyphs:
            if self.start is None:
                self.start = pen
            width = glyph_width * size
            end = pen + width * scale
            self.spans.append((text, pen, end))
            self.inks.append(ink)
            self.characters.append(text)
            pen += (width + (between + (between_words if is_space else 0.0))) * scale
        self.pen, self.end = pen, end

    def adjust(self, walk: Walk, thousandths: float) -> None:
        move = -thousandths / 1000
        self.pen += move * self.text.size * self.scale
        if not _BREAK_BACK_EM < move < _BREAK_FORWARD_EM and not self.font.vertical:
            self.finish(walk)
        elif move > _WORD_GAP_EM and self.characters and self.characters[-1] != " ":
            self.characters.append(" ")

    def finish(self, walk: Walk) -> None:
        """Tell of the run as it is on the page, and be ready for the next one."""
        if self.start is not None:
            matrix = walk.text.now.then(walk.state.ctm)
            _emit_run(walk, self, matrix, matrix.box(self._box()), self._ink(walk, matrix))
        self.start, self.characters, self.spans, self.inks = None, [], [], []

    def _ink(self, walk: Walk, matrix: Matrix) -> Box | Unmeasured | None:
        """On the page; a stroked outline is wider by half its line."""
        text, state = self.text, walk.state
        line = Line(text.size, text.size * self.scale, text.rise, self.font.vertical)
        box = ink_of_glyphs([pen for _, pen, _ in self.spans], self.inks, line, matrix)
        if text.mode in _STROKED and isinstance(box, Box):
            return box.grown(state.line_width * state.stroke_scales()[1] / 2)
        return box

    def _box(self) -> Box:
        """In text space."""
        size, rise = self.text.size, self.text.rise
        start = self.start or 0.0
        if self.font.vertical:
            return Box.of_corners(-size / 2, start, size / 2, self.end)
        return Box.of_corners(start, self.font.descent * size + rise, self.end, self.font.ascent * size + rise)


def _emit_run(walk: Walk, run: _Run, matrix: Matrix, placed: Box, ink: Box | Unmeasured | None) -> None:
    state = walk.state
    across = matrix.x_scale
    size_pt = abs(state.text.size) * (abs(matrix.determinant) / across if across else matrix.y_scale) / MM_PER_POINT
    mode = state.text.mode
    fills, strokes = text_painting(mode)
    paint: Paint = state.stroke if strokes and not fills else state.fill
    paints = (fills and state.fill_alpha > 0) or (strokes and state.stroke_alpha > 0)
    spans = tuple(run.spans)
    shown = ShownText("".join(run.characters), run.font, size_pt, paints, spans, matrix, state.text.rise, ink)
    paint_area(walk, "text", placed, paint, shown, stroked=strokes and not fills)
    if fills and strokes and ink is not None:
        paint_area(walk, "text", placed if isinstance(ink, Unmeasured) else ink, state.stroke, stroked=True)
    if mode >= 4:
        walk.text_clip.append(placed)


def _walk_glyph(walk: Walk, font: TextFont, glyph: Glyph, run: _Run) -> None:
    """What a Type 3 glyph paints in colours of its own (9.6.4, `d0`), once for each glyph of the page."""
    key = (id(font), glyph.code)
    procedure = font.glyph_procedure(glyph.code)
    if procedure is None or key in walk.glyphs_walked or procedure.objgen in walk.running:
        return
    walk.glyphs_walked.add(key)
    data = content_bytes(procedure)
    if _UNCOLOURED.match(data) or not any(True for _ in operations(data)):
        return
    outer, inside = walk.state, walk.inside_glyph
    walk.state = outer.saved()
    text = outer.text
    place = Matrix(text.size * text.horizontal_scale, 0, 0, text.size, run.pen, text.rise)
    walk.state.ctm = font.matrix.then(place).then(walk.text.now).then(outer.ctm)
    walk.inside_glyph = True
    own = font.dictionary.get("/Resources")
    walk.running.append(procedure.objgen)
    walk.run(data, walk.resources.inner(own))
    walk.running.pop()
    walk.state, walk.inside_glyph = outer, inside


TEXT: dict[bytes, Handler] = {
    b"BT": _begin, b"ET": _end,
    b"Tc": _number("character_spacing"), b"Tw": _number("word_spacing"), b"Tz": _number("horizontal_scale", 0.01),
    b"TL": _number("leading"), b"Ts": _number("rise"), b"Tr": _mode, b"Tf": _font,
    b"Td": _move, b"TD": _move_and_lead, b"Tm": _matrix, b"T*": _next_line,
    b"Tj": _show_operator, b"TJ": _show_operator, b"'": _show_on_next_line, b'"': _space_and_show,
}
