"""The rule on areas that must stay clear."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from service.language.spoken import say, say_many, to_say, translated
from service.language.wording import first_few, listed, number, on_pages, quoted
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.ink_map import InkMap
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.text_lines import Line, lines_of
from service.pdf.facts.unknown import Unmeasured
from service.product.kept_clear import area_on
from service.product.spreads import lies_across
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.seen import NotMeasured, PagesWithContent, contents_of, not_measured_on
from service.rules.type.copy import MOST_TEXTS, guide_lines
from service.sheets.model import Block, KeepClearArea, SpecSheet, TrimAsked

OVERHANG_MM = 0.5
"""Letters may stand out of the bounds of their line that far. Ours, no source."""

_LIES_ACROSS = to_say("Page {page} lies on its side: where its areas that stay clear are is not known.")


@dataclass(frozen=True, kw_only=True)
class AreasAsked(Block):
    areas: tuple[KeepClearArea, ...]
    trim: TrimAsked | None


def _areas_asked(sheet: SpecSheet) -> AreasAsked | None:
    """The block's level is that of the strictest area, so that an open must stays open."""
    if not sheet.keep_clear:
        return None
    strictest = min(sheet.keep_clear, key=lambda area: area.level == "should")
    return AreasAsked(areas=sheet.keep_clear, trim=sheet.trim, level=strictest.level)


@rule(
    "copy.keep-clear",
    needs=contents_of,
    asks=_areas_asked,
    asked_by="keep_clear",
    level="must",
    source="common practice, no source; the areas are the printer's (a letter's: DIN 5008)",
    measured={"texts": "the texts that stand in it, the first ones", "lines": "how many lines of text",
              "pictures": "how many pictures", "shapes": "how many lines and areas of colour",
              "inked_mm2": "how much of it carries other ink, where there are too many objects to count", **LEFT_OUT},
    required={"keep_clear": "name of the area", "box_mm": "where it lies"},
)
def copy_keep_clear(pages: PagesWithContent, asked: AreasAsked) -> Iterator[Outcome]:
    """Areas that must stay clear have no ink in them.

    Why: addresses, stamps, glue, barcodes and letters need bare paper; ink there cannot be written on, glued or scanned.
    Remedy: move what stands there out of the area, or cut the background out of it.
    Knows: the outlines of visible text, the bounds of pictures, lines and areas of colour; and from the ink plates, by squares
    of about 1 mm, whether ink lies in that part of the area: a frame around it, or the white part of a picture, is not in the
    way. Dummy copy in the area is copy.placeholder's.
    Areas that are kept free of text alone may hold pictures and colour. On pages that have a size of their own (trim.parts) an
    area keeps to the corner that it is measured from.
    Cannot know: a tint so light that the printer lets it pass; within a millimetre of the area's edge, and where plates could
    not be made, bounds alone decide.
    """
    found: dict[tuple[int, Box], list[tuple[int, _Inside]]] = {}
    for page, content in pages:
        named = [(at, area) for at, area in enumerate(asked.areas) if area.pages is None or page.number in area.pages]
        areas = [(at, area_on(area, asked.trim, page.number)) for at, area in named]
        maps = _ink_maps(page)
        if areas and asked.trim and lies_across(asked.trim, page):
            yield NotMeasured(say(_LIES_ACROSS, page=page.number))
            continue
        if any(area.free_of == "ink" for _, area in areas) and not maps and isinstance(content.artwork, Unmeasured):
            yield not_measured_on((page.number,), content.artwork)
        for at, area in areas:
            inside = _inside(content, area, maps)
            if inside.boxes:
                found.setdefault((at, area.box_mm), []).append((page.number, inside))
    for (at, box), items in sorted(found.items(), key=lambda one: one[0][0]):
        yield _not_clear(replace(asked.areas[at], box_mm=box), items)


@dataclass(frozen=True)
class _Inside:
    """What stands in one area of one page, by its bounds cut to the area."""

    lines: tuple[Line, ...]
    pictures: tuple[Box, ...]
    shapes: tuple[Box, ...]
    other_ink: tuple[Box, ...]
    """Ink beside text and pictures, on a page with too many shapes to know them one by one."""

    @property
    def boxes(self) -> tuple[Box, ...]:
        return (*(line.ink_mm for line in self.lines), *self.pictures, *self.shapes, *self.other_ink)


def _ink_maps(page: Page) -> tuple[InkMap, ...]:
    """Of printing and of finishing inks: nobody writes on varnish or glues foil. Empty where plates do not tell."""
    if isinstance(page.plates, Unmeasured) or isinstance(page.plates.ink_map, Unmeasured):
        return ()
    return (page.plates.ink_map, *(one.ink_map for one in page.plates.finishing))


def _inside(content: Content, area: KeepClearArea, maps: tuple[InkMap, ...]) -> _Inside:
    """The ink of text, dummy copy included, proves nothing of the pictures and shapes around it."""
    inked = lines_of(run for run in content.text_runs if not run.white)
    guides = {line for _, line in guide_lines(lines_of(content.text_runs), [area])}
    ink: list[tuple[InkMap, tuple[int, ...]]] = [(one, ()) for one in maps]
    lines = tuple(line for line in inked if line not in guides and _inked_part(line.ink_mm, area, ink))
    if area.free_of == "text":
        return _Inside(lines, (), (), ())
    texts = [line.box_mm.union(line.ink_mm).grown(OVERHANG_MM) for line in (*lines, *guides)]
    beside_text = [(one, one.touched_by(texts)) for one in maps]
    pictures = tuple(part for one in content.images if (part := _inked_part(one.visible_box_mm, area, beside_text)))
    if isinstance(content.artwork, Unmeasured):
        known = [*texts, *(box.grown(OVERHANG_MM) for box in pictures)]
        other = tuple(box for one in maps for box in one.inked_boxes(area.box_mm, one.touched_by(known)))
        return _Inside(lines, pictures, (), other)
    shapes = tuple(part for one in content.artwork if (part := _inked_part(one.box_mm, area, beside_text)))
    return _Inside(lines, pictures, shapes, ())


def _inked_part(box: Box, area: KeepClearArea, maps: Sequence[tuple[InkMap, tuple[int, ...]]]) -> Box | None:
    """What of the box lies in the area, unless the plates show no ink in it; squares that are set apart tell nothing."""
    part = _part(box, area)
    if part is None or not maps:
        return part
    told = [one.holds_ink(area.box_mm, part, apart) for one, apart in maps]
    return part if any(one is not False for one in told) else None


def _part(box: Box, area: KeepClearArea) -> Box | None:
    """What of the box lies in the area by more than the slack; a hairline has no width and counts too."""
    reaches = area.box_mm.grown(-SLACK_MM).intersection(box) is not None
    return box.intersection(area.box_mm) if reaches else None


def _not_clear(area: KeepClearArea, items: list[tuple[int, _Inside]]) -> Finding:
    pages = tuple(page for page, _ in items)
    lines = [line for _, inside in items for line in inside.lines]
    pictures, shapes = (sum(len(getattr(inside, name)) for _, inside in items) for name in ("pictures", "shapes"))
    texts = list(dict.fromkeys(line.text[:200] for line in lines))
    inked_mm2 = sum(box.area for _, inside in items for box in inside.other_ink)
    told_ink = {"inked_mm2": round(inked_mm2, 1)} if inked_mm2 else {}
    return Finding(
        message=_told_not_clear(area, on_pages(pages), _held(texts, pictures, shapes, inked_mm2)),
        remedy=say("Move the text out of the area.")
        if area.free_of == "text"
        else say("Move it out of the area, or end the background before it."),
        measured={"texts": texts[:MOST_TEXTS], "lines": len(lines), "pictures": pictures, "shapes": shapes, **told_ink},
        required={"keep_clear": area.name, "box_mm": list(area.box_mm)},
        pages=pages,
        places=tuple(Place(page, box) for page, inside in items for box in inside.boxes),
        level=area.level,
        note=area.note,
    )


def _told_not_clear(area: KeepClearArea, where: str, what: str) -> str:
    name = quoted(translated(area.name))
    if area.free_of == "text":
        return say("The area {area} must stay free of text; {on_pages} it holds {what}.", area=name, on_pages=where, what=what)
    return say("The area {area} must stay clear; {on_pages} it holds {what}.", area=name, on_pages=where, what=what)


def _held(texts: list[str], pictures: int, shapes: int, inked_mm2: float) -> str:
    what = [say("text ({texts})", texts=first_few([quoted(text) for text in texts], 3))] if texts else []
    what += [say_many("{count} picture", "{count} pictures", pictures)] if pictures else []
    what += [say_many("{count} line or area of colour", "{count} lines or areas of colour", shapes)] if shapes else []
    if inked_mm2:
        area = number(inked_mm2, 0)
        what.append(say("other ink on about {area} mm²", area=area) if what else say("ink on about {area} mm²", area=area))
    return listed(what)
