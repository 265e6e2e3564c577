"""Where an area that stays clear stands on a page."""

from __future__ import annotations

from dataclasses import replace

from service.pdf.facts.geometry import Box
from service.sheets.model import KeepClearArea, TrimAsked


def area_on(area: KeepClearArea, trim: TrimAsked | None, number: int) -> KeepClearArea:
    """The area of a variant on the page of this number: on one that has a size of its own it keeps to its corner there."""
    part = trim.part_on(number) if trim else None
    if trim is None or part is None:
        return area
    across = part.width_mm - trim.width_mm if area.bound_to.endswith("right") else 0.0
    down = part.height_mm - trim.height_mm if area.bound_to.startswith("bottom") else 0.0
    x0, y0, x1, y1 = area.box_mm
    return replace(area, box_mm=Box(x0 + across, y0 + down, x1 + across, y1 + down))
