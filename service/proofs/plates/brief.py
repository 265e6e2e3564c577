"""What whoever draws a page's ink plates is told, and what comes back: plain records, so that callers need no PDF library."""

from __future__ import annotations

import json
import re
import struct
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from math import isfinite

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import inks_of
from service.pdf.facts.unknown import Unmeasured, unmeasured
from service.proofs.picture.page_brief import picture_area, ppi_of, size_px
from service.proofs.picture.rgb_png import rgb_png
from service.proofs.plates.ink_scale_brief import ScaleBrief
from service.proofs.plates.wishes import USUAL_LOOK, PlateLook, PlatesWishes, TotalLook

LIST = "service.proofs.plates.drawn:plates_told"
"""Where they are made: the facts of all plates of a page as JSON."""
PLATE = "service.proofs.plates.drawn:plate_png"
"""One plate as PNG."""

_MOST_PIXELS_ACROSS = 100_000


@dataclass(frozen=True)
class PlatesBrief:
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
    look: PlateLook | TotalLook = USUAL_LOOK
    """`hue`: a plate in the ink's own screen colour; `scale`: the map in colours with its scale."""
    scale: ScaleBrief | None = None
    framed: bool = False
    """The area is that of the page's picture."""

    def of(self, ink: str | None, look: PlateLook = USUAL_LOOK) -> PlatesBrief:
        return replace(self, ink=ink, look=look)

    def with_scale(self, scale: ScaleBrief) -> PlatesBrief:
        """The map of total ink in colours."""
        return replace(self, ink=None, look="scale", scale=scale)


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
    hues: Mapping[str, str]
    """Of each ink: its full tint on a screen, '#rrggbb'."""


def plates_brief(page: Page, wishes: PlatesWishes) -> PlatesBrief | Unmeasured:
    """Of a measured page: the map of total ink until `of` says another plate."""
    if isinstance(page.content, Unmeasured):
        return unmeasured("What page {page} paints is not known. {reason}", page=str(page.number), reason=page.content)
    boxes = page.boxes_mm
    inks = inks_of(page.content)
    if wishes.area == "picture":
        whole = picture_area(page)
        return PlatesBrief(page.number, inks, boxes.media, boxes.trim, whole, ppi_of(whole, wishes.ppi), framed=True)
    return PlatesBrief(page.number, inks, boxes.media, boxes.trim, getattr(boxes, wishes.area), float(wishes.ppi))


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
                "hues": dict(hues),
            } if list(coverage) == list(hues) == list(inks) and _is_size(width, height):
                percents = {ink: _number(value) for ink, value in coverage.items()}
                box = Box(*(_number(one) for one in area))
                shown = {ink: _hue(value) for ink, value in hues.items()}
                return PlatesTold(box, width, height, _number(ppi), percents, _number(highest), conversion, shown)
    except RecursionError as error:
        raise ValueError("nested without end") from error
    raise ValueError(f"these are no facts of plates: {data[:80]!r}")


def _is_size(width: int, height: int) -> bool:
    return 0 < width < _MOST_PIXELS_ACROSS and 0 < height < _MOST_PIXELS_ACROSS


def _number(value: object) -> float:
    if not isinstance(value, int | float) or isinstance(value, bool) or not isfinite(value):
        raise ValueError(f"{value!r:.80} is no number")
    return float(value)


def _hue(value: object) -> str:
    if not isinstance(value, str) or not re.fullmatch(r"#[0-9a-f]{6}", value):
        raise ValueError(f"{value!r:.80} is no colour")
    return value


def read_plate(data: bytes, brief: PlatesBrief) -> bytes:
    """The PNG as the brief has it. Raises ValueError where the bytes are not what ours draws."""
    if brief.look == "grey":
        return grey_png(data)
    known = brief.framed and brief.look == "hue"
    return rgb_png(data, size_px(brief.area_mm, brief.ppi) if known else None)


def grey_png(data: bytes) -> bytes:
    """The bytes, where they begin and end as a PNG of grey 8-bit pixels (PNG Specification, third edition, 5.2 and 11.2.1).

    Raises ValueError where they do not: they may come from a compromised process.
    """
    if data.startswith(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR") and data.endswith(b"\0\0\0\0IEND\xaeB`\x82"):
        width, height, depth, color = struct.unpack_from(">IIBB", data, 16)
        if _is_size(width, height) and (depth, color) == (8, 0):
            return data
    raise ValueError(f"this is no grey PNG: {data[:40]!r}")
