"""Where on the page the outlines of a run's glyphs lie, to the edge of their ink.

* Upright text, or text turned by a right angle: from the boxes of its glyphs. Turned otherwise: from their outlines, since a box
  around a turned box has empty corners.
* Blanks and empty glyphs have no ink. Where one glyph's outline is not known, the run's ink is not.
* The ink of a Type 3 glyph is what its procedure paints (ISO 32000-2:2020, 9.6.4), whatever box `d1` or the font states.
"""

from __future__ import annotations

from typing import NamedTuple, cast

from service.pdf.content.fonts.text_fonts import Glyph, TextFont
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.unknown import Unmeasured
from service.pdf.glyphs.of_font import GlyphInk
from service.pdf.glyphs.outline import NOT_KNOWN, Outline, Point
from service.pdf.reading.streams import content_bytes
from service.pdf.walk.walker import Mark, PlacedImage, Walk

_EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)


class Line(NamedTuple):
    """How the glyphs of a run are set, in text space."""

    size: float
    across: float
    """The size along x: horizontal scaling included."""
    rise: float
    vertical: bool


def ink_of_glyphs(pens: list[float], inks: list[GlyphInk], line: Line, matrix: Matrix) -> Box | Unmeasured | None:
    """`pens`: where each glyph's origin lies along the line; `matrix` leads from text space to the page."""
    kinds = set(inks)
    kinds.discard(None)
    if not kinds:
        return None
    if NOT_KNOWN in kinds:
        return NOT_KNOWN
    outlines = cast(set[Outline], kinds)
    if (matrix.b == 0 == matrix.c) or (matrix.a == 0 == matrix.d):
        return matrix.box(_in_text_space(pens, inks, outlines, line))
    points: list[Point] = []
    for pen, outline in zip(pens, inks, strict=True):
        if isinstance(outline, Outline):
            at = (0.0, pen + line.rise) if line.vertical else (pen, line.rise)
            p, q, r, s, t, u = Matrix(line.across, 0, 0, line.size, *at).then(matrix)
            points += [(p * x + r * y + t, q * x + s * y + u) for x, y in outline.hull]
    return Box.around(points)


def _in_text_space(pens: list[float], inks: list[GlyphInk], kinds: set[Outline], line: Line) -> Box:
    """Across the line it is enough to look at each kind of glyph once."""
    size, across, rise, vertical = line
    x0s, y0s, x1s, y1s = zip(*[one.box for one in kinds], strict=True)
    x0, y0, x1, y1 = min(x0s) * across, min(y0s) * size, max(x1s) * across, max(y1s) * size
    if across < 0:
        x0, x1 = x1, x0
    if size < 0:
        y0, y1 = y1, y0
    if vertical:
        y0, y1 = _along(pens, inks, y0, y1, size, 1)
    else:
        x0, x1 = _along(pens, inks, x0, x1, across, 0)
    return Box(x0, y0 + rise, x1, y1 + rise)


def _along(pens: list[float], inks: list[GlyphInk], back: float, forth: float, size: float, side: int) -> tuple[float, float]:
    """The ends of the ink along the line. A glyph reaches at most so far `back` and `forth` from its origin: only those that may
    reach beyond the first and last are looked at.
    """
    near, far = (side, side + 2) if size >= 0 else (side + 2, side)
    first, last = 0, len(inks) - 1
    while (head := inks[first]) is None:
        first += 1
    while (tail := inks[last]) is None:
        last -= 1
    start, end = pens[first] + cast(Outline, head).box[near] * size, pens[last] + cast(Outline, tail).box[far] * size
    before, beyond = start - back, end - forth
    for pen, ink in zip(pens, inks, strict=True):
        if (pen < before or pen > beyond) and ink is not None:
            box = cast(Outline, ink).box
            start, end = min(start, pen + box[near] * size), max(end, pen + box[far] * size)
    return start, end


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
            font.has_pictures |= isinstance(mark.detail, PlacedImage)

    inner = Walk(walk.handlers, font.matrix, _EVERYWHERE, walk.shared, [listen])
    inner.running = [*walk.running, procedure.objgen]
    inner.operators_left, inner.bytes_left = walk.operators_left, walk.bytes_left
    inner.run(content_bytes(procedure), walk.resources.inner(font.dictionary.get("/Resources")))
    walk.operators_left, walk.bytes_left = inner.operators_left, inner.bytes_left
    return font.inked(glyph, Outline.of_points(points))
