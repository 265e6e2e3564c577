"""Where on the page the outlines of a run's glyphs lie, to the edge of their ink.

* Upright text, or text turned by a right angle: from the boxes of its glyphs. Turned otherwise: from their outlines, since a box
  around a turned box has empty corners.
* Blanks and empty glyphs have no ink. Where one glyph's outline is not known, the run's ink is not.
* The ink of a Type 3 glyph is what its procedure paints (ISO 32000-2:2020, 9.6.4), whatever box `d1` or the font states.
"""

from __future__ import annotations

from math import inf

from service.pdf.content.text_fonts import Glyph, TextFont
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.unknown import Unmeasured
from service.pdf.glyphs.outline import Outline, Point
from service.pdf.reading.streams import content_bytes
from service.pdf.walk.walker import Mark, Walk

Inked = tuple[float, Outline]
"""Where its origin lies along the line, in text space; and its outline."""
_EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)


def ink_of_glyphs(glyphs: list[Inked], size: float, across: float, rise: float, vertical: bool, matrix: Matrix) -> Box:
    """Around at least one glyph. `across` is the size along x, horizontal scaling included; `matrix` leads from text space."""
    a, b, c, d, _, _ = matrix
    if (b == 0 == c) or (a == 0 == d):
        return matrix.box(_in_text_space(glyphs, size, across, rise, vertical))
    points: list[Point] = []
    for pen, outline in glyphs:
        at = (0.0, pen + rise) if vertical else (pen, rise)
        p, q, r, s, t, u = Matrix(across, 0, 0, size, *at).then(matrix)
        points += [(p * x + r * y + t, q * x + s * y + u) for x, y in outline.hull]
    return Box.around(points)


def _in_text_space(glyphs: list[Inked], size: float, across: float, rise: float, vertical: bool) -> Box:
    x0 = y0 = inf
    x1 = y1 = -inf
    for pen, outline in glyphs:
        left, low, right, high = outline.box
        along, up = (0.0, pen) if vertical else (pen, 0.0)
        left, right = left * across + along, right * across + along
        low, high = low * size + up, high * size + up
        if left > right:
            left, right = right, left
        if low > high:
            low, high = high, low
        x0, y0 = left if left < x0 else x0, low if low < y0 else y0
        x1, y1 = right if right > x1 else x1, high if high > y1 else y1
    return Box(x0, y0 + rise, x1, y1 + rise)


def with_procedure_ink(walk: Walk, font: TextFont, glyph: Glyph) -> Glyph:
    """A Type 3 glyph with the ink of its procedure, walked once for the document in the glyph's own space."""
    if not isinstance(glyph.ink, Unmeasured):
        return glyph
    procedure = font.glyph_procedure(glyph.code)
    if procedure is None:
        return font.inked(glyph, None)  # nothing is painted (9.6.4)
    if procedure.objgen in walk.running:
        return glyph
    points: list[Point] = []

    def listen(mark: Mark) -> None:
        if mark.visible is not None and mark.kind not in ("group", "soft mask"):
            x0, y0, x1, y1 = mark.visible
            points.extend(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))

    inner = Walk(walk.handlers, font.matrix, _EVERYWHERE, walk.shared, [listen])
    inner.running = [*walk.running, procedure.objgen]
    inner.operators_left, inner.bytes_left = walk.operators_left, walk.bytes_left
    inner.run(content_bytes(procedure), walk.resources.inner(font.dictionary.get("/Resources")))
    walk.operators_left, walk.bytes_left = inner.operators_left, inner.bytes_left
    return font.inked(glyph, Outline.of_points(points))
