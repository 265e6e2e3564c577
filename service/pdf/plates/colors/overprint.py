"""Which inks of a rendering an object leaves as they are, and whether it paints there at all (see `content.overprint`)."""

from __future__ import annotations

from collections.abc import Collection

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.content.overprint import EVERY_INK, inks_set


class MixedTreatment(Exception):
    """Inks of one rendering would have to be treated differently: they need renderings of their own."""


def untouched(
    space: ColorSpace, color: tuple[float, ...] | None, overprint: bool, mode: int, inks: Collection[str]
) -> set[str]:
    """The inks among these that stay below the object. `color` is None for pictures and shadings."""
    if not overprint:
        return set()
    found = inks_set(space.written, space.colorants, color, mode)
    return set() if found is EVERY_INK else {ink for ink in inks if ink not in found}


def paints(left: set[str], inks: Collection[str]) -> bool:
    """Whether the object paints on the rendering of these inks; raises MixedTreatment where it does on some only."""
    if not left:
        return True
    if left >= set(inks):
        return False
    raise MixedTreatment
