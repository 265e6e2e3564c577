"""What becomes of a mark's ink, and of the ink below it, on the plates (ISO 32000-2:2020, 8.6.7 and 11.7.4.3)."""

from __future__ import annotations

from collections.abc import Iterable

from service.pdf.content.graphics_state import Paint
from service.pdf.content.overprint import EVERY_INK, inks_set
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.walk.walker import Mark

COLOR, SPOT, BLACK = 1, 2, 4
"""Sorts of ink, as overprint and what lies below black tell them apart: cyan, magenta or yellow; any beside the process inks;
black. Bits, so that a place on the page can hold several."""
ANY_INK = COLOR | SPOT | BLACK
SOLID = 0.99
"""A tint from here on prints as solid ink."""


def inks_painted(paint: Paint) -> int:
    """The sorts that the paint leaves on the paper; a conversion (RGB, Lab) leaves colour and black."""
    if paint.white:
        return 0
    if paint.family == "registration":
        return ANY_INK
    return _sorts(paint.inks) or COLOR | BLACK


def inks_kept(mark: Mark) -> int:
    """The sorts of ink of which all stays that the mark does not paint (see `content.overprint`)."""
    if not mark.overprint:
        return 0
    paint = mark.paint
    found = inks_set(paint.written, paint.colorants, paint.color, mark.overprint_mode)
    if found is EVERY_INK:
        return ANY_INK if paint.inks else 0
    return ANY_INK & ~_sorts(found.difference(paint.inks))


def leaves_ink_below(mark: Mark, below: int) -> bool:
    """Whether all inks stay that the mark does not paint; of any sort where none is known to lie `below`."""
    return not (below or ANY_INK) & ~inks_kept(mark)


def white_vanishes(mark: Mark, below: int) -> bool:
    """White that overprints paints nothing: what is below stays."""
    return mark.paint.white and mark.paint.family is not None and leaves_ink_below(mark, below)


def _sorts(inks: Iterable[str]) -> int:
    found = 0
    for ink in inks:
        found |= BLACK if ink == "Black" else COLOR if ink in PROCESS_INKS else SPOT
    return found


def is_solid_black(mark: Mark) -> bool:
    """Black ink alone and in full."""
    return mark.paint.inks == ("Black",) and mark.paint.tint >= SOLID and mark.paint.pattern is None


def black_tint(paint: Paint) -> float:
    """How strong black is in the paint, 0–1; 0 where it is none of its inks."""
    if "Black" not in paint.inks:
        return 0.0
    return paint.tint if len(paint.inks) == 1 else paint.tint_of("Black")[1]


def is_registration(mark: Mark) -> bool:
    """Painted in every ink: Separation All, or the four process inks near their full strength."""
    paint = mark.paint
    return paint.family == "registration" or (paint.inks == PROCESS_INKS and len(paint.color) == 4 and min(paint.color) >= 0.95)
