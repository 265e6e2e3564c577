"""Where the artwork itself shows the cut: by its crop marks, or by a cut line in an ink that is named for it.

A TrimBox that says otherwise is wrong more often than what the designer sees on the page. Bleed is then counted from the line
that is shown, and nobody is told to scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from typing import Literal

from service.pdf.facts.geometry import MM_PER_POINT, Box, Sides
from service.pdf.facts.ink_names import names_a_cut
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.product.spreads import accepts_page
from service.product.with_bleed import LEAST_BLEED_MM, MOST_BLEED_MM
from service.rules.sightings import bleed_area, within
from service.sheets.model import TrimAsked

APART_MM = 0.5
"""Lines within this are one cut, as sizes within it are one product (`pdf.pages.trim_finding`)."""

_LINE_MM = 1.0
"""A level or upright line has bounds thinner than that. Ours, no source."""


@dataclass(frozen=True)
class ShownTrim:
    box: Box
    by: Literal["crop marks", "cut line"]


def disagreeing(page: Page, asked: TrimAsked | None) -> ShownTrim | None:
    """What the artwork shows where it is not the page's trim; None where they agree, or where it shows nothing.

    Marks at the corners of the BleedBox are bleed marks. A cut line inside the trim may be a window or a label on its backing: it
    counts where it stands in by the same bleed on every side and the trim is not what was ordered.
    """
    trim, marked = page.boxes_mm.trim, page.crop_marks_mm
    if isinstance(marked, Box):
        agrees = _apart(marked, trim) <= APART_MM or (page.bleed_declared and _apart(marked, page.boxes_mm.bleed) <= APART_MM)
        return None if agrees else ShownTrim(marked, "crop marks")
    line = _cut_line(page)
    if line is None or _apart(line, trim) <= APART_MM:
        return None
    insets = _insets(line, trim)
    beyond = min(insets) < -APART_MM
    even = min(insets) >= LEAST_BLEED_MM and max(insets) <= MOST_BLEED_MM and max(insets) - min(insets) <= APART_MM
    ordered = asked is not None and accepts_page(asked, page)
    return ShownTrim(line, "cut line") if beyond or (even and not ordered) else None


def bleed_in_the_trim(page: Page, asked: TrimAsked | None) -> Sides[float]:
    """How much of the bleed lies within the trim, because the cut that is shown lies further in; 0 where none does."""
    shown = disagreeing(page, asked)
    top, right, bottom, left = _insets(shown.box, page.boxes_mm.trim) if shown else (0.0,) * 4
    return Sides(*(max(0.0, one) for one in (top, right, bottom, left)))


def _apart(one: Box, other: Box) -> float:
    return max(abs(a - b) for a, b in zip(one, other, strict=True))


def _insets(inner: Box, outer: Box) -> tuple[float, float, float, float]:
    """Top, right, bottom, left."""
    return inner.y0 - outer.y0, outer.x1 - inner.x1, outer.y1 - inner.y1, inner.x0 - outer.x0


def _cut_line(page: Page) -> Box | None:
    """Around the strokes in such an ink, if they are one outline: in one piece, or of lines along its sides. A sheet of several
    labels has lines inside.
    """
    pieces = list(_cut_strokes(page))
    if not pieces:
        return None
    whole = reduce(Box.union, pieces)
    if min(whole.width, whole.height) <= _LINE_MM:
        return None
    if any(_apart(one, whole) <= APART_MM for one in pieces) or all(_along_a_side(one, whole) for one in pieces):
        return whole.grown(-_half_a_line_mm(page))
    return None


def _half_a_line_mm(page: Page) -> float:
    """The cut runs along the middle of the stroke."""
    lines = () if isinstance(page.content, Unmeasured) else page.content.lines
    return min((one.width_pt for one in lines if any(map(names_a_cut, one.inks))), default=0.0) * MM_PER_POINT / 2


def _cut_strokes(page: Page) -> Iterator[Box]:
    if isinstance(page.content, Unmeasured) or isinstance(page.content.artwork, Unmeasured):
        return
    for one in page.content.artwork:
        if one.kind == "stroke" and one.inks and all(names_a_cut(ink) for ink in one.inks):
            yield from within(bleed_area(page), [one.box_mm])


def _along_a_side(line: Box, whole: Box) -> bool:
    if line.height <= _LINE_MM:
        return min(abs(line.y0 - whole.y0), abs(line.y1 - whole.y1)) <= APART_MM
    return line.width <= _LINE_MM and min(abs(line.x0 - whole.x0), abs(line.x1 - whole.x1)) <= APART_MM
