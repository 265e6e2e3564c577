"""Rules on the copy: text that was to be replaced before printing."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, translated
from service.language.wording import first_few, on_pages, quoted
from service.pdf.facts.painted.text_lines import Line, lines_of
from service.product.kept_clear import area_on
from service.product.spreads import lies_across
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import bleed_area, within
from service.rules.type.guide_copy import (
    FILLER_WORDS_NEEDED,
    SPECIMEN_LETTER,
    filler_words,
    holds_filler,
    says_guide_copy,
)
from service.sheets.model import KeepClearArea, SpecSheet

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
        known = not sheet.trim or not lies_across(sheet.trim, page)
        named = [area for area in sheet.keep_clear if known and (area.pages is None or page.number in area.pages)]
        areas = [area_on(area, sheet.trim, page.number) for area in named]
        printed = bleed_area(page)
        lines = [line for line in lines_of(content.text_runs) if within(printed, [line.box_mm])]
        for area_name, line in guide_lines(lines, areas):
            found.setdefault(area_name, []).append((page.number, line))
    for area_name, left in found.items():
        yield _left_in(area_name, left, notes.get(area_name or ""))


def guide_lines(lines: list[Line], areas: list[KeepClearArea]) -> Iterator[tuple[str | None, Line]]:
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
    return (shared := line.ink_mm.intersection(area.box_mm)) is not None and shared.area > 0


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
