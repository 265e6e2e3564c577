"""What an empty document of a printer asks: trimmed size, bleed, safety margin and folds, each with where it comes from.

* Size: the TrimBox (or ArtBox, or crop marks), or one rectangle named as the cut. Where both are there and differ, it is asked.
* Bleed: the BleedBox, or one rectangle named as bleed, as far around on every side.
* Safety margin: one rectangle as far inside on every side, named so, or dashed among guides.
* Folds: lines across the page that are named so, or dashed among guides, on the first page.

What is not certain is asked with what was seen, never guessed: the media alone is no size, what lies beyond the trim is no
bleed, an unnamed solid line is no fold. What an empty document does not show (colours, pictures, type) it does not ask.
"""

from __future__ import annotations

from service.language.spoken import say
from service.language.wording import quoted, reason
from service.pdf.facts.geometry import Box
from service.pdf.facts.guide_names import Role
from service.pdf.facts.guides import GuidedPages
from service.pdf.facts.unknown import Unmeasured
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.templates.edges import bleed, margin
from service.sheets.templates.folds import folds
from service.sheets.templates.outlines import Outlines, crossing, is_level, outlines_of, same
from service.sheets.templates.size import DECLARED, trimmed
from service.sheets.templates.told import SAME_SIZE_MM, Asked, Read, TemplateReading, all_round, depths_of, neat, size_said


def read_template(pages: GuidedPages) -> TemplateReading:
    """Of the first page; what later pages show otherwise is asked."""
    first = pages.pages[0]
    values: list[Read] = []
    questions: list[Asked] = []
    outlines = Outlines({}, {}, {})
    if isinstance(first.shapes, Unmeasured):
        says = say("The guides could not be looked at: what do they show?")
        questions.append(Asked("trim", says, reason(first.shapes)))
    else:
        outlines = outlines_of(first.shapes)
    size = trimmed(first, outlines, questions)
    if size is not None:
        trim = size.box_mm
        for pointer, length in (("/trim/width", trim.width), ("/trim/height", trim.height)):
            values.append(Read(pointer, neat(length), size.name))
        values += bleed(first, trim, outlines, questions)
        values += margin(trim, outlines, questions)
        values += folds(first, trim, outlines, questions)
        _left_over(trim, outlines, questions)
        _later_pages(pages, trim, questions)
    return _sound(values, questions)


def _left_over(trim: Box, outlines: Outlines, questions: list[Asked]) -> None:
    """Rectangles and lines among the guides that were none of the above: an area that stays clear, or nothing."""
    roles: tuple[Role, ...] = ("guides", "other")
    boxes = [one for role in roles for one in outlines.rectangles.get(role, ())]
    areas = [one for one in boxes if not same(one.box_mm, trim, SAME_SIZE_MM) and trim.contains(one.box_mm)]
    for one in areas[:10]:
        if all_round(depths_of(trim, one.box_mm)) is None:
            left, top, right, bottom = (neat(side) for side in _from_corner(one.box_mm, trim))
            seen = say(
                "a rectangle from {left}, {top} to {right}, {bottom} named {name}",
                left=left, top=top, right=right, bottom=bottom, name=quoted(one.name),
            )
            questions.append(Asked("keep_clear", say("Does this area stay clear?"), seen))
    solid = crossing([one for one in outlines.lines.get("guides", ()) if not one.dashed], trim, 0.0)
    if solid:
        at = (one.box_mm.y0 - trim.y0 if is_level(one.box_mm) else one.box_mm.x0 - trim.x0 for one in solid[:10])
        places = ", ".join(map(neat, at))
        seen = say("lines across the page at {places}, named {name}", places=places, name=quoted(solid[0].name))
        questions.append(Asked("folds", say("Are these lines folds?"), seen))


def _from_corner(box: Box, trim: Box) -> tuple[float, float, float, float]:
    return box.x0 - trim.x0, box.y0 - trim.y0, box.x1 - trim.x0, box.y1 - trim.y0


def _later_pages(pages: GuidedPages, trim: Box, questions: list[Asked]) -> None:
    declared = [one for one in pages.pages[1:] if one.trim_source in DECLARED]
    unlike = [one for one in declared if not same_size(one.trim_mm, trim)]
    if unlike:
        seen = say("page {page}: {size}", page=unlike[0].number, size=size_said(unlike[0].trim_mm))
        questions.append(Asked("trim", say("Not all pages have one size: is the first page's the product's?"), seen))
    seen = say("pages in the template: {count}", count=pages.page_count)
    questions.append(Asked("pages", say("How many pages do you take?"), seen))


def _sound(values: list[Read], questions: list[Asked]) -> TemplateReading:
    """A draft that the service itself would refuse is none: what contradicts the rest is asked."""
    while values:
        reading = TemplateReading(tuple(values), tuple(questions))
        try:
            read_sheet(reading.document())
        except SheetRefused as refused:
            pointer, detail = refused.errors[0]
            block = "/" + pointer.split("/")[1] if pointer else values[-1].pointer
            out = [one for one in values if one.pointer.startswith(block)] or values[-1:]
            values = [one for one in values if one not in out]
            says = say("What was read does not fit together: {why}", why=detail)
            questions.append(Asked(block.split("/")[1], says, out[0].source))
        else:
            return reading
    return TemplateReading((), tuple(questions))


def same_size(one: Box, other: Box) -> bool:
    return max(abs(one.width - other.width), abs(one.height - other.height)) <= SAME_SIZE_MM
