"""What a sheet takes in several ways, way by way: its other sizes, its panels as single pages, and the scales at which the file
may be drawn.

Each variant is a plain sheet of one size at 1 : 1 of the file, so that whoever compares a file with it knows of no other. Boxes
of areas count from the top-left corner there, whichever corner the sheet measures them from.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from service.pdf.facts.geometry import Box
from service.sheets.model import Block, KeepClearArea, MarginAsked, OtherSize, Part, Resolution, SpecSheet, TrimAsked

Some = TypeVar("Some", bound=Block)

_OF_MARGINS = ("preferred_mm", "frame_minimum_mm", "frame_width_mm")
LEAST_TOLERANCE_MM = 0.2
"""Of a page drawn to scale: rounding to whole points makes that much. Arithmetic: half a point at each edge is 0.18 mm."""


def variants(sheet: SpecSheet) -> tuple[SpecSheet, ...]:
    """The sheet as it is written first: its own size, at the first of its scales."""
    return tuple(way for _, way in variants_at_scale(sheet))


def variants_at_scale(sheet: SpecSheet) -> tuple[tuple[int, SpecSheet], ...]:
    """Each with the n of the 1 : n at which the file is drawn."""
    if sheet.trim is None:
        return ((1, sheet),)
    trim = sheet.trim
    sizes = (OtherSize(trim.width_mm, trim.height_mm), *trim.alternatives)
    ways = [_of_size(sheet, trim, size) for size in sizes]
    ways += [_as_single_pages(way) for way in ways] if sheet.folding and sheet.folding.single_pages == "allowed" else []
    return tuple((scale, _drawn_at(scale, way)) for scale in trim.scales for way in ways)


def in_single_pages(way: SpecSheet) -> bool:
    """Whether this variant of a folded product has its panels as single pages."""
    return way.folding is not None and not way.folds


def _as_single_pages(way: SpecSheet) -> SpecSheet:
    """The four pages of an upright half fold in the order of reading: at the fold each meets its neighbour and needs no bleed.
    Where areas that stay clear lie on them is not known.
    """
    trim, pages, (fold,) = way.trim, way.pages, way.folds
    assert trim
    orientation = trim.orientation
    if orientation != "any":
        orientation = "portrait" if fold.at_mm < trim.height_mm else "landscape" if fold.at_mm > trim.height_mm else "any"
    counted = pages is not None and (pages.allowed or (pages.minimum, pages.maximum, pages.multiple_of) != (None, None, None))
    return replace(
        way,
        trim=replace(trim, width_mm=fold.at_mm, orientation=orientation, parts=()),
        pages=pages and replace(pages, allowed=(4,) if counted else (), minimum=None, maximum=None, multiple_of=None),
        bleed=way.bleed and replace(way.bleed, binding_mm=0.0),
        keep_clear=(),
        folds=(),
    )


def _of_size(sheet: SpecSheet, trim: TrimAsked, size: OtherSize) -> SpecSheet:
    width_mm, height_mm, orientation = size.width_mm, size.height_mm, trim.orientation
    if orientation != "any" and width_mm != height_mm and (width_mm, height_mm) != (trim.width_mm, trim.height_mm):
        orientation = "portrait" if width_mm < height_mm else "landscape"
    one = replace(trim, width_mm=width_mm, height_mm=height_mm, orientation=orientation, alternatives=(), scales=(1,))
    margin = sheet.margin
    if margin and margin.live_area and (width_mm, height_mm) != (trim.width_mm, trim.height_mm):
        sheet = with_live_area(replace(sheet, trim=one))
    if size.folds_mm:
        folds = tuple(replace(fold, at_mm=at) for fold, at in zip(sheet.folds, size.folds_mm, strict=True))
        sheet = replace(sheet, folds=folds)
    areas = (_from_the_top_left(area, width_mm, height_mm) for area in sheet.keep_clear)
    if trim.parts:
        areas = (replace(area, bound_to=own.corner) for area, own in zip(areas, sheet.keep_clear, strict=True))
    return replace(sheet, trim=one, keep_clear=tuple(areas))


def _part_at(scale: int, part: Part) -> Part:
    return replace(part, width_mm=part.width_mm / scale, height_mm=part.height_mm / scale)


def with_live_area(sheet: SpecSheet) -> SpecSheet:
    """With the depths that a live area in the middle of the trimmed page leaves on each side."""
    trim, margin = sheet.trim, sheet.margin
    if trim is None or margin is None or margin.live_area is None:
        return sheet
    across, down = (trim.width_mm - margin.live_area.width_mm) / 2, (trim.height_mm - margin.live_area.height_mm) / 2
    across, down = max(across, 0.0), max(down, 0.0)
    alike = across == down
    sides, ends = (None, None) if alike else (across, down)
    margin = replace(margin, minimum_mm=min(across, down), binding_mm=sides, outer_mm=sides, head_mm=ends, foot_mm=ends)
    return replace(sheet, margin=margin)


def _from_the_top_left(area: KeepClearArea, width_mm: float, height_mm: float) -> KeepClearArea:
    box = area.box_mm
    if area.corner.endswith("right"):
        box = box._replace(x0=width_mm - box.x1, x1=width_mm - box.x0)
    if area.corner.startswith("bottom"):
        box = box._replace(y0=height_mm - box.y1, y1=height_mm - box.y0)
    return replace(area, box_mm=box, corner="top-left")


# --- Pages of a size of their own -------------------------------------------------------------------------------------


def with_parts_of(sheet: SpecSheet, page_count: int) -> SpecSheet:
    """The sheet whose parts know where a file of so many pages ends."""
    if sheet.trim is None or not sheet.trim.parts:
        return sheet
    parts = tuple(replace(part, of_pages=page_count) for part in sheet.trim.parts)
    return replace(sheet, trim=replace(sheet.trim, parts=parts))


# --- Drawn to scale ---------------------------------------------------------------------------------------------------


def _drawn_at(scale: int, sheet: SpecSheet) -> SpecSheet:
    """The same demands on a file at 1 : `scale`: lengths are smaller there, and pixels denser."""
    if scale == 1:
        return sheet
    assert sheet.trim
    trim = _shorter(sheet.trim, scale, "width_mm", "height_mm", "corner_radius_mm")
    parts = tuple(_part_at(scale, part) for part in trim.parts)
    trim = replace(trim, tolerance_mm=max(sheet.trim.tolerance_mm / scale, LEAST_TOLERANCE_MM), parts=parts)
    edges = ("minimum_mm", "binding_mm", "outer_mm", "head_mm", "foot_mm")
    spine = ("page_width_mm", "page_height_mm", "caliper_mm", "cover_caliper_mm", "text_free_mm", "tolerance_mm")
    images, color = sheet.images, sheet.color
    return replace(
        sheet,
        trim=trim,
        bleed=sheet.bleed and _shorter(sheet.bleed, scale, *edges, "preferred_mm", "maximum_mm"),
        margin=sheet.margin and _margin_at(scale, _shorter(sheet.margin, scale, *edges, *_OF_MARGINS)),
        marks=sheet.marks and _shorter(sheet.marks, scale, "offset_minimum_mm"),
        color=color and replace(color, ink_area_mm2=color.ink_area_mm2 / scale**2),
        images=images and replace(images, contone=_denser(images.contone, scale), bilevel=_denser(images.bilevel, scale)),
        text=sheet.text
        and _shorter(sheet.text, scale, "minimum_size_pt", "reversed_minimum_size_pt", "rich_black_minimum_size_pt"),
        lines=sheet.lines and _shorter(sheet.lines, scale, "minimum_width_pt", "reversed_minimum_width_pt"),
        keep_clear=tuple(replace(one, box_mm=Box(*(side / scale for side in one.box_mm))) for one in sheet.keep_clear),
        folds=tuple(replace(one, at_mm=one.at_mm / scale) for one in sheet.folds),
        spine=sheet.spine and _shorter(sheet.spine, scale, *spine),
    )


def _margin_at(scale: int, margin: MarginAsked) -> MarginAsked:
    keys = ("minimum_mm", "binding_mm", "outer_mm", "head_mm", "foot_mm")
    steps = []
    for step in margin.by_pages:
        found = {key: getattr(step, key) for key in keys}
        steps.append(replace(step, **{key: value / scale for key, value in found.items() if value is not None}))
    return replace(margin, by_pages=tuple(steps), live_area=None)


def _shorter(block: Some, scale: int, *lengths: str) -> Some:
    found = {key: getattr(block, key) for key in lengths}
    return replace(block, **{key: value / scale for key, value in found.items() if value is not None})


def _denser(asked: Resolution | None, scale: int) -> Resolution | None:
    if asked is None:
        return None
    ppi = {"minimum_ppi": asked.minimum_ppi, "preferred_ppi": asked.preferred_ppi, "maximum_ppi": asked.maximum_ppi}
    return replace(asked, **{key: value * scale for key, value in ppi.items() if value is not None})
