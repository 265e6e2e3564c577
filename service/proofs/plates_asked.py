"""What is asked of a page's ink plates and what comes back: plain records, so that callers need no PDF library."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from math import isfinite
from typing import Literal

from service.pdf.geometry import Box
from service.pdf.inks_needed import inks_of
from service.pdf.measurements import Page, Unmeasured

LIST = "service.proofs.plates:plates_told"
"""Where they are made: the facts of all plates of a page as JSON."""
PLATE = "service.proofs.plates:plate_png"
"""One plate as PNG."""

PlatesArea = Literal["bleed", "trim", "media"]
LOWEST_PPI, DEFAULT_PPI, HIGHEST_PPI = 10, 100, 300

TOTAL_BLACK_PERCENT = 400
"""Total ink that the map shows as black: the four process inks at full tint. More stays black."""

_MOST_PIXELS_ACROSS = 100_000


@dataclass(frozen=True)
class PlatesAsked:
    """Which page, as it was measured, and how it is to be shown."""

    page: int
    inks: tuple[str, ...]
    """All that the page's plates need, in order."""
    media_mm: Box
    trim_mm: Box
    area_mm: Box
    """What is to be shown, ruler mm, within the media."""
    ppi: float
    ink: str | None = None
    """Whose plate; None: the map of total ink."""

    def of(self, ink: str | None) -> PlatesAsked:
        return replace(self, ink=ink)


@dataclass(frozen=True)
class PlatesTold:
    """The facts of all plates of one page."""

    area_mm: Box
    """What the plates show, to whole pixels."""
    width_px: int
    height_px: int
    ppi: float
    """As made: large pages are made coarser."""
    coverage_percent: Mapping[str, float]
    """Of each ink: the mean over the trimmed page."""
    highest_percent: float
    """The most total ink at one pixel of the area."""
    conversion: str | None
    """How RGB and Lab colours became process inks; None where there are none."""


def asked_of(page: Page, area: PlatesArea, ppi: float) -> PlatesAsked | Unmeasured:
    """What is to be asked for a measured page; the map of total ink until `of` says another plate."""
    if isinstance(page.content, Unmeasured):
        return Unmeasured(f"What page {page.number} paints is not known. {page.content.why}")
    boxes = page.boxes_mm
    return PlatesAsked(page.number, inks_of(page.content), boxes.media, boxes.trim, getattr(boxes, area), float(ppi))


def told_to_json(told: PlatesTold) -> bytes:
    return json.dumps(asdict(told), allow_nan=False).encode()


def told_from_json(data: bytes, inks: tuple[str, ...]) -> PlatesTold:
    """Raises ValueError where the text is not that of these inks' plates: it may come from a compromised process."""
    try:
        match json.loads(data):
            case {
                "area_mm": [_, _, _, _] as area,
                "width_px": int(width),
                "height_px": int(height),
                "ppi": float(ppi),
                "coverage_percent": dict(coverage),
                "highest_percent": float(highest),
                "conversion": str() | None as conversion,
            } if list(coverage) == list(inks) and 0 < width < _MOST_PIXELS_ACROSS and 0 < height < _MOST_PIXELS_ACROSS:
                percents = {ink: _number(value) for ink, value in coverage.items()}
                box = Box(*(_number(one) for one in area))
                return PlatesTold(box, width, height, _number(ppi), percents, _number(highest), conversion)
    except RecursionError as error:
        raise ValueError("nested without end") from error
    raise ValueError(f"these are no facts of plates: {data[:80]!r}")


def _number(value: object) -> float:
    if not isinstance(value, int | float) or isinstance(value, bool) or not isfinite(value):
        raise ValueError(f"{value!r:.80} is no number")
    return float(value)


def grey_png(data: bytes) -> bytes:
    """The bytes, where they begin and end as a PNG of grey 8-bit pixels (PNG Specification, third edition, 5.2 and 11.2.1).

    Raises ValueError where they do not: they may come from a compromised process.
    """
    if data.startswith(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR") and data.endswith(b"\0\0\0\0IEND\xaeB`\x82"):
        width, height, depth, color = struct.unpack_from(">IIBB", data, 16)
        if 0 < width < _MOST_PIXELS_ACROSS and 0 < height < _MOST_PIXELS_ACROSS and (depth, color) == (8, 0):
            return data
    raise ValueError(f"this is no grey PNG: {data[:40]!r}")
