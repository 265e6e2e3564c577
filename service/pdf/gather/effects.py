"""What becomes of a mark's ink on the plates (ISO 32000-2:2020, 8.6.7 and 11.7.4.3)."""

from __future__ import annotations

from service.pdf.content.graphics_state import Paint
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.walk.walker import Mark

SOLID = 0.99
"""A tint from here on prints as solid ink."""


def leaves_ink_below(mark: Mark) -> bool:
    """Whether inks that the mark does not paint stay: overprint is on, and the way its colour is written lets it work.

    Separation and DeviceN leave every other ink. DeviceCMYK leaves an ink at zero only in overprint mode 1, and never in
    a picture or a shading. Every other space knocks out all process inks.
    """
    if not mark.overprint:
        return False
    if mark.paint.written.startswith(("Separation", "DeviceN")):
        return True
    return mark.paint.written == "DeviceCMYK" and mark.overprint_mode == 1 and mark.kind in ("fill", "stroke", "text")


def white_vanishes(mark: Mark) -> bool:
    """White that overprints paints nothing: what is below stays."""
    return mark.paint.white and mark.paint.family is not None and leaves_ink_below(mark)


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
