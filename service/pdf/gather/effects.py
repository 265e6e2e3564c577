"""What becomes of a mark's ink, and of the ink below it, on the plates (ISO 32000-2:2020, 8.6.7 and 11.7.4.3)."""

from __future__ import annotations

from collections.abc import Iterable

from service.pdf.content.graphics_state import Paint
from service.pdf.content.overprint import EVERY_INK, inks_set
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.colors import OverprintCase, Tint
from service.pdf.gather.ground import Below, Tints
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


def laid_down(mark: Mark) -> Below:
    """What the mark leaves on the paper. Tints are told of an area in one plain colour that covers what is below; of RGB they are
    its complement, which is near enough to tell light from strong.
    """
    paint = mark.paint
    plain = mark.kind == "fill" and paint.pattern is None and not paint.shading
    covers = mark.alpha == 1 and mark.blend_mode == "Normal" and not mark.masked
    return Below(inks_painted(paint), tints_of(paint) if plain and covers else None)


def tints_of(paint: Paint) -> Tints | None:
    """Of a plain colour; of RGB its complements. None where a conversion decides."""
    if paint.white:
        return ()
    if paint.family == "rgb" and len(paint.color) == 3:
        return tuple((ink, round(1 - light, 3)) for ink, light in zip(PROCESS_INKS, paint.color, strict=False))
    if not paint.colorants or len(paint.color) != len(paint.colorants):
        return None
    if paint.additive:
        return (("Black", round(1 - paint.color[0], 3)),)
    return tuple((ink, round(tint, 3)) for ink, tint in zip(paint.colorants, paint.color, strict=True) if tint > 0)


def facts_of(tints: Tints | None) -> tuple[Tint, ...] | None:
    return None if tints is None else tuple(Tint(ink, strength) for ink, strength in tints)


def inks_at_the_edge(paint: Paint, below: Below | None) -> tuple[str, ...]:
    """The inks that show where the mark ends. Flattening writes black that overprints as black with the inks of the plain colour
    below: then black alone has an edge.
    """
    tints = None if below is None or "Black" not in paint.inks or paint.pattern is not None else tints_of(paint)
    if tints is None or below is None or not below.tints:
        return paint.inks
    return ("Black",) if stands_on_its_own_colors(tints, below.tints) else paint.inks


def stands_on_its_own_colors(tints: Tints, below: Tints) -> bool:
    """But for black, both are alike."""
    own, around = dict(tints), dict(below)
    return all(abs(own.get(ink, 0.0) - around.get(ink, 0.0)) <= ALIKE for ink in (own.keys() | around.keys()) - {"Black"})


ALIKE = 0.02
"""Tints that differ by less are one: half a step of 8 bits, rounded by whoever wrote them. Ours, no source."""


def overprint_case(mark: Mark, below: Below) -> OverprintCase | None:
    """What becomes of white or solid black upon what lies below; None where that is paper."""
    if mark.paint.white:
        return "white vanishes" if below.sorts and white_vanishes(mark, below.sorts) else None
    if not below.sorts & ~BLACK or mark.kind not in ("fill", "stroke", "text") or not is_solid_black(mark):
        return None  # bare paper, or black alone: there is no colour to leave a hole in
    return "black overprints" if leaves_ink_below(mark, below.sorts) else "black knocks out"


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
