"""Rules on printer's marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many, to_say
from service.language.wording import asked_length, listed, millimetres, page_list, pages_phrase, size
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.vectors import MarkLine
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import Block, MarksAsked, SpecSheet

LINED_UP_MM = 0.25
"""A mark within this of an edge is in line with it: a mark is some 0.1 mm thick. Ours, no source."""

FARTHEST_MM = 25.0
"""How far from its corner a crop mark may start; 2 to 10 mm are usual. Common practice, no source."""

FEWEST_CORNERS = 2
"""One corner with lines beside it may be artwork; two in line with the trim are crop marks. Ours, no source."""

CORNERS = (to_say("top left"), to_say("top right"), to_say("bottom left"), to_say("bottom right"))


def marks_at_corners(page: Page, lines: tuple[MarkLine, ...]) -> dict[str, list[MarkLine]]:
    """Corners of the trim that have a level and an upright mark in line with its edges, each with these marks."""
    trim = page.boxes_mm.trim
    found = {}
    for corner in CORNERS:
        top, left = corner.startswith("top"), corner.endswith("left")
        x, y = trim.x0 if left else trim.x1, trim.y0 if top else trim.y1
        levels = [one for one in lines if _is_level(one) and _points_at(one.box_mm, x, y, left)]
        uprights = [one for one in lines if not _is_level(one) and _points_at(_turned(one.box_mm), y, x, top)]
        if levels and uprights:
            found[corner] = levels + uprights
    return found


def _is_level(line: MarkLine) -> bool:
    return line.box_mm.width > line.box_mm.height


def _turned(box: Box) -> Box:
    return Box(box.y0, box.x0, box.y1, box.x1)


def _points_at(line: Box, x: float, y: float, before: bool) -> bool:
    """Whether a level line is at height y and ends before x, or starts after it."""
    gap = x - line.x1 if before else line.x0 - x
    return abs((line.y0 + line.y1) / 2 - y) <= LINED_UP_MM and -SLACK_MM <= gap <= FARTHEST_MM


# --- Crop marks -------------------------------------------------------------------------------------------------------


@rule(
    "marks.crop",
    needs=contents_of,
    asks=lambda sheet: sheet.marks if sheet.marks and sheet.marks.crop_marks not in (None, "allowed") else None,
    asked_by="marks.crop_marks",
    level="must",
    source="common practice, no source; ISO 32000-2:2020, 14.11.3 (printer's marks) does not say how they look",
    measured={"corners": "corners of the trim that have both crop marks", "width_mm": "width of what the marks point at instead",
              "height_mm": "its height", **LEFT_OUT},
    required={"crop_marks": "required or forbidden", "corners": "4 where they are required, 0 where they are forbidden"},
)
def marks_crop(pages: PagesWithContent, marks: MarksAsked) -> Iterator[Outcome]:
    """Crop marks stand at the corners of the trim where the printer wants them, and nowhere where not.

    Why: a printer who cuts by the marks cuts wrongly where they are missing or stand elsewhere; one who sets marks himself
    gets them twice.
    Remedy: switch crop marks on (or off) in the export dialogue; do not draw them by hand.
    Knows: short thin lines outside the trim, level and upright, and whether they are in line with its edges; whether they
    point at another rectangle instead.
    Cannot know: marks of another shape, marks inside a picture, or marks that a TrimBox as large as the sheet takes in.
    """
    groups: dict[tuple[tuple[str, ...], tuple[float, float] | None], list[Page]] = {}
    for page, content in pages:
        corners, elsewhere = tuple(marks_at_corners(page, content.mark_lines)), _elsewhere(page)
        there = len(corners) >= FEWEST_CORNERS or elsewhere is not None
        if there if marks.crop_marks == "forbidden" else len(corners) < len(CORNERS):
            groups.setdefault((corners, elsewhere), []).append(page)
    for (corners, elsewhere), alike in groups.items():
        yield _unwanted(corners, alike) if marks.crop_marks == "forbidden" else _missing(corners, elsewhere, alike)


def _elsewhere(page: Page) -> tuple[float, float] | None:
    """Size of the rectangle that the marks point at, where it is not the trim."""
    marked, trim = page.crop_marks_mm, page.boxes_mm.trim
    if marked is None or isinstance(marked, Unmeasured):
        return None
    if max(abs(one - other) for one, other in zip(marked, trim, strict=True)) <= LINED_UP_MM:
        return None
    return round(marked.width, 1), round(marked.height, 1)


def _missing(corners: tuple[str, ...], elsewhere: tuple[float, float] | None, pages: list[Page]) -> Finding:
    numbers = tuple(page.number for page in pages)
    missing = [corner for corner in CORNERS if corner not in corners]
    if elsewhere:
        message = say_many(
            "Page {pages} has crop marks that point at {size} and not at the trim; the printer asks for them at all four "
            "corners.",
            "Pages {pages} have crop marks that point at {size} and not at the trim; the printer asks for them at all four "
            "corners.",
            len(numbers),
            pages=page_list(numbers),
            size=size(*elsewhere),
        )
        cure = say("Set the document to the size that is to be cut, and let the export set marks and TrimBox together.")
    else:
        message = _told_missing(missing, numbers)
        cure = say("Switch crop marks on in the export dialogue, and give the sheet room for them beyond the bleed.")
    measured: dict[str, int | float] = {"corners": len(corners)}
    if elsewhere:
        measured |= {"width_mm": elsewhere[0], "height_mm": elsewhere[1]}
    return Finding(
        message=message,
        remedy=cure,
        measured=measured,
        required={"crop_marks": "required", "corners": len(CORNERS)},
        pages=numbers,
        places=tuple(Place(page.number, _around(page.boxes_mm.trim, corner)) for page in pages for corner in missing),
    )


def _told_missing(corners: list[str], numbers: tuple[int, ...]) -> str:
    if len(corners) == len(CORNERS):
        return say_many(
            "Page {pages} has no crop marks; the printer asks for them at all four corners.",
            "Pages {pages} have no crop marks; the printer asks for them at all four corners.",
            len(numbers),
            pages=page_list(numbers),
        )
    names = listed(say(one) for one in corners)
    at_corners = say_many("at the {corners} corner", "at the {corners} corners", len(corners), corners=names)
    return say_many(
        "Page {pages} has no crop marks {at_corners}; the printer asks for them at all four corners.",
        "Pages {pages} have no crop marks {at_corners}; the printer asks for them at all four corners.",
        len(numbers),
        pages=page_list(numbers),
        at_corners=at_corners,
    )


def _unwanted(corners: tuple[str, ...], pages: list[Page]) -> Finding:
    numbers = tuple(page.number for page in pages)
    return Finding(
        message=say_many(
            "Page {pages} has crop marks; the printer asks for a file without them.",
            "Pages {pages} have crop marks; the printer asks for a file without them.",
            len(numbers),
            pages=page_list(numbers),
        ),
        remedy=say("Switch crop marks off in the export dialogue; keep the bleed on."),
        measured={"corners": len(corners)},
        required={"crop_marks": "forbidden", "corners": 0},
        pages=numbers,
        places=tuple(Place(page.number, _around(page.boxes_mm.trim, corner)) for page in pages for corner in corners or CORNERS),
    )


def _around(trim: Box, corner: str, reach_mm: float = 10.0) -> Box:
    """The square outside a corner, where its marks stand."""
    x = (trim.x0 - reach_mm, trim.x0) if corner.endswith("left") else (trim.x1, trim.x1 + reach_mm)
    y = (trim.y0 - reach_mm, trim.y0) if corner.startswith("top") else (trim.y1, trim.y1 + reach_mm)
    return Box(x[0], y[0], x[1], y[1])


# --- Their distance ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class OffsetAsked(Block):
    offset_minimum_mm: float | None
    bleed_mm: float
    """The bleed that marks must keep out of; 0 where none is asked for."""


def _offset_asked(sheet: SpecSheet) -> OffsetAsked | None:
    marks, bleed = sheet.marks, sheet.bleed.minimum_mm if sheet.bleed else 0.0
    if marks is None or (marks.offset_minimum_mm is None and (bleed <= 0 or marks.crop_marks not in ("required", "allowed"))):
        return None
    return OffsetAsked(offset_minimum_mm=marks.offset_minimum_mm, bleed_mm=bleed, level=marks.level, note=marks.note)


@rule(
    "marks.offset",
    needs=contents_of,
    asks=_offset_asked,
    asked_by="marks.offset_minimum; the bleed's minimum where the sheet takes crop marks",
    level="must",
    source="common practice, no source; the distance is the printer's",
    measured={"offset_mm": "least distance of a mark from the trim", "marks": "how many marks are too near", **LEFT_OUT},
    required={"offset_minimum_mm": "least distance from the trim", "bleed_mm": "the bleed that marks must keep out of"},
)
def marks_offset(pages: PagesWithContent, asked: OffsetAsked) -> Iterator[Outcome]:
    """Marks keep their distance from the trim, and out of the bleed.

    Why: a mark in the bleed shows on the product's edge when the cut is a millimetre off. Many programs start with 2.1 mm
    (6 pt), which lies inside a bleed of 3 mm.
    Remedy: set the offset of the marks to at least the bleed in the export dialogue.
    Knows: the crop marks at the trim's corners, and other short thin lines in all inks. What keeps the printer's distance and
    still lies in the bleed is an observation.
    Cannot know: marks that are no straight lines, such as rings and colour patches.
    """
    groups: dict[bool, list[tuple[Page, MarkLine, float]]] = {}
    for page, content in pages:
        at_corners = (one for found in marks_at_corners(page, content.mark_lines).values() for one in found)
        for mark in dict.fromkeys((*at_corners, *(one for one in content.mark_lines if one.registration))):
            distance = _distance(mark.box_mm, page.boxes_mm.trim)
            if distance < max(asked.offset_minimum_mm or 0, asked.bleed_mm) - SLACK_MM:
                only_bleed = asked.offset_minimum_mm is None or distance >= asked.offset_minimum_mm - SLACK_MM
                groups.setdefault(only_bleed, []).append((page, mark, distance))
    for only_bleed, items in sorted(groups.items()):
        yield _too_near(only_bleed, items, asked)


def _distance(line: Box, trim: Box) -> float:
    """How far outside the trim; 0 where it touches."""
    return max(trim.x0 - line.x1, line.x0 - trim.x1, trim.y0 - line.y1, line.y0 - trim.y1, 0.0)


def _too_near(only_bleed: bool, items: list[tuple[Page, MarkLine, float]], asked: OffsetAsked) -> Finding:
    numbers = tuple(sorted({page.number for page, _, _ in items}))
    least = min(distance for _, _, distance in items)
    wish = max(asked.offset_minimum_mm or 0, asked.bleed_mm)
    found = say("{pages}: {marks}", pages=pages_phrase(numbers), marks=_marks_near(len(items), least))
    return Finding(
        message=say(
            "{found}, inside the bleed of {bleed}; marks stay out of it.", found=found, bleed=asked_length(asked.bleed_mm)
        )
        if only_bleed
        else say("{found}; the printer asks for {asked}.", found=found, asked=asked_length(asked.offset_minimum_mm or 0)),
        remedy=say("Set the offset of the marks to {offset} or more in the export dialogue.", offset=asked_length(wish)),
        measured={"offset_mm": round(least, 2), "marks": len(items)},
        required={"bleed_mm": asked.bleed_mm} if only_bleed else {"offset_minimum_mm": asked.offset_minimum_mm},
        pages=numbers,
        places=tuple(Place(page.number, mark.box_mm) for page, mark, _ in items),
        level="should" if only_bleed else None,
    )


def _marks_near(count: int, least_mm: float) -> str:
    """'3 printer's marks stand only 2 mm from the trim', without a full stop."""
    if least_mm > SLACK_MM:
        return say_many(
            "{count} printer's mark stands only {distance} from the trim",
            "{count} printer's marks stand only {distance} from the trim",
            count,
            distance=millimetres(least_mm),
        )
    return say_many("{count} printer's mark stands right at the trim", "{count} printer's marks stand right at the trim", count)
