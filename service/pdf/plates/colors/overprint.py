"""Which inks an object leaves as they are (ISO 32000-2:2020, 8.6.7 and 11.7.4.3, Tables 148 and 149)."""

from __future__ import annotations

from collections.abc import Collection

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.facts.ink_names import PROCESS_INKS


class MixedTreatment(Exception):
    """Inks of one rendering would have to be treated differently: they need renderings of their own."""


def untouched(
    space: ColorSpace, color: tuple[float, ...] | None, overprint: bool, mode: int, inks: Collection[str]
) -> set[str]:
    """The inks among these that stay below the object. `color` is None for pictures and shadings, where mode 1 has no say."""
    if not overprint:
        return set()
    base = space.base if space.base is not None and not space.palette else space
    # a table's colours name the inks that its base names (8.6.6.3); those of DeviceCMYK are then not "specified directly"
    if base.written.removeprefix("Indexed (").startswith(("Separation", "DeviceN")):
        if "All" in base.colorants:
            return set()
        return {ink for ink in inks if ink not in base.colorants}
    spots = {ink for ink in inks if ink not in PROCESS_INKS}
    if base.written == "DeviceCMYK" and mode == 1 and color is not None:
        zero = {name for name, value in zip(PROCESS_INKS, color, strict=False) if value == 0}
        return spots | {ink for ink in inks if ink in zero}
    return spots


def paints(left: set[str], inks: Collection[str]) -> bool:
    """Whether the object paints on the rendering of these inks; raises MixedTreatment where it does on some only."""
    if not left:
        return True
    if left >= set(inks):
        return False
    raise MixedTreatment
