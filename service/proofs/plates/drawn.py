"""Ink plates of one page to look at: white where no ink lies, black or the ink's own hue for full tint; and the map of total ink.

* A plate is cut to whole pixels around the area of the brief; the arrays stand over the page's media, or, for the area of
  the page's picture, pixel for pixel over that.
* In the map of total ink black stands for 400 %, everywhere alike, so that pages can be compared; so does the end of its scale.
* Only the inks are separated that the plate cannot be made without.

Not a proof of colour: a hue is what the file says of an ink, or its output intent (`ink_hues`); the plates say where it lies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import MM_PER_INCH, Box
from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.pages.page_boxes import read_page
from service.pdf.plates.page_plates import plates_or_reason, to_process_inks
from service.pdf.plates.separation import PageToSeparate, Plates, rendered_together
from service.pdf.reading.opening import OpenedPdf, opened
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.picture.framed_plates import PageInFile, framed_plates
from service.proofs.picture.ink_hues import InkHues
from service.proofs.picture.page_brief import Frame, size_px
from service.proofs.picture.written_png import png
from service.proofs.plates.brief import PlatesBrief, PlatesTold, told_to_json
from service.proofs.plates.ink_scale import with_scale
from service.proofs.plates.ink_scale_brief import TOTAL_BLACK_PERCENT

Percent = npt.NDArray[np.float32]
Cut = tuple[slice, slice]
"""Rows and columns."""


def plates_told(path: Path, brief: PlatesBrief) -> bytes | Unmeasured:
    """The facts of all plates as JSON (`brief.told_from_json`), or why there are none."""
    made = _separated(path, brief, brief.inks)
    if isinstance(made, Unmeasured):
        return made
    plates = made.plates
    rows, columns = _shape(plates, brief)
    cut = _cut(brief.area_mm, plates, rows, columns)
    trim = _cut(brief.trim_mm, plates, rows, columns)
    highest = float(_total(plates, cut).max())
    told = PlatesTold(
        area_mm=_box(cut, plates, rows, columns),
        width_px=cut[1].stop - cut[1].start,
        height_px=cut[0].stop - cut[0].start,
        ppi=float(plates.ppi),
        coverage_percent={ink: float(plates.coverage[ink][trim].mean() / 2.55) for ink in brief.inks},
        highest_percent=highest,
        conversion=made.conversion if plates.converted else None,
        hues={ink: "#{:02x}{:02x}{:02x}".format(*made.hues.curve(ink)[255]) for ink in brief.inks},
    )
    return told_to_json(told)


def plate_png(path: Path, brief: PlatesBrief) -> bytes | Unmeasured:
    """One plate, or the map of total ink, as PNG; or why there is none."""
    inks = brief.inks if brief.ink is None else rendered_together(brief.inks, brief.ink)
    made = _separated(path, brief, inks)
    if isinstance(made, Unmeasured):
        return made
    plates = made.plates
    rows, columns = _shape(plates, brief)
    cut = _cut(brief.area_mm, plates, rows, columns)
    if brief.ink is not None:
        coverage = plates.coverage[brief.ink][cut]
        shown = made.hues.curve(brief.ink)[coverage] if brief.look == "hue" else 255 - coverage
    elif brief.scale is not None:
        return png(with_scale(_total(plates, cut, brief.scale.without), brief.scale, plates.ppi), plates.ppi)
    else:
        shown = 255 - np.minimum(_total(plates, cut) * (255 / TOTAL_BLACK_PERCENT), 255).round().astype(np.uint8)
    return png(Image.fromarray(np.ascontiguousarray(shown)), plates.ppi)


@dataclass(frozen=True)
class _Made:
    plates: Plates
    conversion: str
    """How other colours are converted to the process inks."""
    hues: InkHues


def _separated(path: Path, brief: PlatesBrief, inks: Sequence[str]) -> _Made | Unmeasured:
    """The plates of these inks, and how these look."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        try:
            page, shared = _page(pdf, brief, inks), Shared(pdf.pdf)
            hues = InkHues(pdf.pdf, page.page, inks)
        except READING_ERRORS:
            return Unmeasured("The page's separations cannot be made: the page or the file's list of layers is damaged.")
        to_process, conversion = to_process_inks(pdf.pdf)
        if brief.framed:
            one = PageInFile(pdf, brief.page, brief.media_mm)
            plates = framed_plates(one, Frame(brief.area_mm, brief.ppi), inks, to_process)
        else:
            plates = plates_or_reason(pdf.pdf, page, shared, to_process, brief.ppi)
        return plates if isinstance(plates, Unmeasured) else _Made(plates, conversion, hues)


def _page(pdf: OpenedPdf, brief: PlatesBrief, inks: Sequence[str]) -> PageToSeparate:
    page = pdf.pdf.pages[brief.page - 1].obj
    declared = read_page(page, has_size=brief.page not in pdf.without_size)
    return PageToSeparate(page, declared.media_pt, brief.media_mm, declared.rotation, declared.user_unit, inks)


def _shape(plates: Plates, brief: PlatesBrief) -> tuple[int, int]:
    """Rows and columns; of a page without ink those that it would have."""
    if brief.framed:
        columns, rows = size_px(brief.area_mm, brief.ppi)
        return rows, columns
    for coverage in plates.coverage.values():
        rows, columns = coverage.shape
        return rows, columns
    return _pixels(plates.area_mm.height, plates.ppi), _pixels(plates.area_mm.width, plates.ppi)


def _pixels(mm: float, ppi: float) -> int:
    return max(1, ceil(mm / MM_PER_INCH * ppi))


def _cut(area_mm: Box, plates: Plates, rows: int, columns: int) -> Cut:
    """The whole pixels that the area touches, at least one."""
    x_px, y_px = columns / plates.area_mm.width, rows / plates.area_mm.height
    return (
        _range((area_mm.y0 - plates.area_mm.y0) * y_px, (area_mm.y1 - plates.area_mm.y0) * y_px, rows),
        _range((area_mm.x0 - plates.area_mm.x0) * x_px, (area_mm.x1 - plates.area_mm.x0) * x_px, columns),
    )


def _range(start: float, stop: float, most: int) -> slice:
    """A hundredth of a pixel is rounding, not a pixel more."""
    first = min(max(floor(start + 0.01), 0), most - 1)
    return slice(first, min(max(ceil(stop - 0.01), first + 1), most))


def _box(cut: Cut, plates: Plates, rows: int, columns: int) -> Box:
    x_mm, y_mm = plates.area_mm.width / columns, plates.area_mm.height / rows
    left, top = plates.area_mm.x0, plates.area_mm.y0
    across, down = cut[1], cut[0]
    return Box(left + across.start * x_mm, top + down.start * y_mm, left + across.stop * x_mm, top + down.stop * y_mm)


def _total(plates: Plates, cut: Cut, without: Sequence[str] = ()) -> Percent:
    """Percent of all inks together, for each pixel of the area."""
    total = np.zeros((cut[0].stop - cut[0].start, cut[1].stop - cut[1].start), np.float32)
    for ink, coverage in plates.coverage.items():
        if ink not in without:
            total += coverage[cut]
    total /= 2.55
    return total
