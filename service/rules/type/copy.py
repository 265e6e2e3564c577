"""Rules on the copy: text that was to be replaced before printing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.language.spoken import say, say_many, translated
from service.language.wording import first_few, listed, number, on_pages, quoted
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.ink_map import InkMap
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.text_lines import Line, lines_of
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.seen import PagesWithContent, contents_of, not_measured_on
from service.rules.sightings import bleed_area, within
from service.rules.type.guide_copy import (
    FILLER_WORDS_NEEDED,
    SPECIMEN_LETTER,
    filler_words,
    holds_filler,
    says_guide_copy,
)
from service.sheets.model import Block, KeepClearArea, SpecSheet

OVERHANG_MM = 0.5
"""Letters may stand out of the bounds of their line that far. Ours, no source."""

MOST_TEXTS = 20
"""How many different texts one finding quotes."""


@rule(
    "copy.placeholder",
    needs=contents_of,
    asks=always,
    asked_by="always (a must inside an area of keep_clear)",
    level="should",
    source="common practice, no source; RFC 2606 for host names that belong to nobody",
    measured={"texts": "the lines found, the first ones", "lines": "how many lines", **LEFT_OUT},
    required={"keep_clear": "name of the area that must stay free of it; null for the page at large"},
)
def copy_placeholder(pages: PagesWithContent, sheet: SpecSheet) -> Iterator[Outcome]:
    """No placeholder or dummy text is left in.

    Why: what stands in for the real text gets printed: 'Your name here' on a thousand cards, a specimen letter on every sheet
    of letter paper.
    Remedy: put in the real text, or delete the line; keep placeholder text on a layer that does not print.
    Knows: the visible text on the page and its bleed, line by line: filler Latin, 'your name here' in some languages, rows of
    x, merge brackets, made-up numbers and addresses; in a keep-clear area the usual lines of a specimen letter too. The slug
    is cut off and may say what it likes.
    Cannot know: a specimen text that reads like a real one, text turned to outlines or pictures, or a line that is meant to
    read so.
    """
    found: dict[str | None, list[tuple[int, Line]]] = {}
    notes = {area.name: area.note for area in sheet.keep_clear}
    for page, content in pages:
        areas = [area for area in sheet.keep_clear if area.pages is None or page.number in area.pages]
        printed = bleed_area(page)
        lines = [line for line in lines_of(content.text_runs) if within(printed, [line.box_mm])]
        for area_name, line in _guide_lines(lines, areas):
            found.setdefault(area_name, []).append((page.number, line))
    for area_name, left in found.items():
        yield _left_in(area_name, left, notes.get(area_name or ""))


def _guide_lines(lines: list[Line], areas: list[KeepClearArea]) -> Iterator[tuple[str | None, Line]]:
    """Lines of guide copy on one page, each with the area that it stands in."""
    filler = [filler_words(line.text) for line in lines]
    is_filler = len(frozenset().union(*filler)) >= FILLER_WORDS_NEEDED
    for line, words in zip(lines, filler, strict=True):
        area = next((one.name for one in areas if _stands_in(line, one)), None)
        if (
            says_guide_copy(line.text)
            or (is_filler and (words or holds_filler(line.text)))
            or (area is not None and SPECIMEN_LETTER.search(line.text.casefold()))
        ):
            yield area, line


def _stands_in(line: Line, area: KeepClearArea) -> bool:
    shared = line.ink_mm.intersection(area.box_mm)
    return shared is not None and shared.area > 0


def _left_in(area_name: str | None, lines: list[tuple[int, Line]], note: str | None) -> Finding:
    pages = tuple(sorted({page for page, _ in lines}))
    texts = list(dict.fromkeys(line.text for _, line in lines))
    where = on_pages(pages)
    told = first_few([quoted(text) for text in texts], 3)
    if area_name is not None:
        message = say(
            "Placeholder text is left in {on_pages}, in the area {area}, which must stay clear: {texts}.",
            on_pages=where, area=quoted(translated(area_name)), texts=told,
        )
        remedy = say("Delete it, or move it to a layer that does not print.")
    else:
        message = say("Placeholder text is left in {on_pages}: {texts}.", on_pages=where, texts=told)
        remedy = say("Put the real text in its place, or delete it.")
    return Finding(
        message=message,
        remedy=remedy,
        measured={"texts": [text[:200] for text in texts[:MOST_TEXTS]], "lines": len(lines)},
        required={"keep_clear": area_name},
        pages=pages,
        places=tuple(Place(page, line.box_mm) for page, line in lines),
        level="must" if area_name is not None else None,
        note=note,
    )


# --- Areas that stay clear --------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class AreasAsked(Block):
    areas: tuple[KeepClearArea, ...]


def _areas_asked(sheet: SpecSheet) -> AreasAsked | None:
    """All areas; the block's level is that of the strictest one, so that an open must stays open."""
    if not sheet.keep_clear:
        return None
    strictest = min(sheet.keep_clear, key=lambda area: area.level == "should")
    return AreasAsked(areas=sheet.keep_clear, level=strictest.level)


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
    Cannot know: a tint so light that the printer lets it pass; within a millimetre of the area's edge, and where plates could
    not be made, bounds alone decide.
    """
    found: dict[int, list[tuple[int, _Inside]]] = {}
    for page, content in pages:
        areas = [(at, area) for at, area in enumerate(asked.areas) if area.pages is None or page.number in area.pages]
        maps = _ink_maps(page)
        if areas and not maps and isinstance(content.artwork, Unmeasured):
            yield not_measured_on((page.number,), content.artwork)
        for at, area in areas:
            inside = _inside(content, area, maps)
            if inside.boxes:
                found.setdefault(at, []).append((page.number, inside))
    for at, items in sorted(found.items()):
        yield _not_clear(asked.areas[at], items)


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
    guides = {line for _, line in _guide_lines(lines_of(content.text_runs), [area])}
    ink: list[tuple[InkMap, tuple[int, ...]]] = [(one, ()) for one in maps]
    lines = tuple(line for line in inked if line not in guides and _inked_part(line.ink_mm, area, ink))
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
        message=say(
            "The area {area} must stay clear; {on_pages} it holds {what}.",
            area=quoted(translated(area.name)), on_pages=on_pages(pages), what=_held(texts, pictures, shapes, inked_mm2),
        ),
        remedy=say("Move it out of the area, or end the background before it."),
        measured={"texts": texts[:MOST_TEXTS], "lines": len(lines), "pictures": pictures, "shapes": shapes, **told_ink},
        required={"keep_clear": area.name, "box_mm": list(area.box_mm)},
        pages=pages,
        places=tuple(Place(page, box) for page, inside in items for box in inside.boxes),
        level=area.level,
        note=area.note,
    )


def _held(texts: list[str], pictures: int, shapes: int, inked_mm2: float) -> str:
    what = [say("text ({texts})", texts=first_few([quoted(text) for text in texts], 3))] if texts else []
    what += [say_many("{count} picture", "{count} pictures", pictures)] if pictures else []
    what += [say_many("{count} line or area of colour", "{count} lines or areas of colour", shapes)] if shapes else []
    if inked_mm2:
        area = number(inked_mm2, 0)
        what.append(say("other ink on about {area} mm²", area=area) if what else say("ink on about {area} mm²", area=area))
    return listed(what)
