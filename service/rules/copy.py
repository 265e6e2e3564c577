"""Rules on the copy: text that was to be replaced before printing."""

from __future__ import annotations

from collections.abc import Iterator

from service.pdf.measurements import Measurements
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, Place, always, contents_of, rule
from service.rules.guide_copy import FILLER_WORDS_NEEDED, SPECIMEN_LETTER, filler_words, says_guide_copy
from service.rules.text_lines import Line, lines_of
from service.rules.wording import first_few, page_list, quoted
from service.sheets.model import KeepClearArea, SpecSheet

MOST_TEXTS = 20
"""How many different texts one finding quotes."""


@rule(
    "copy.placeholder",
    asks=always,
    asked_by="always (a must inside an area of keep_clear)",
    level="should",
    source="common practice, no source; RFC 2606 for host names that belong to nobody",
    measured={"texts": "the lines found, the first ones", "lines": "how many lines", **LEFT_OUT},
    required={"keep_clear": "name of the area that must stay free of it; null for the page at large"},
)
def copy_placeholder(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:
    """No guide or dummy copy is left in.

    Why: what stands in for the real text gets printed: 'Your name here' on a thousand cards, a specimen letter on every sheet
    of letter paper.
    Remedy: put in the real text, or delete the line; keep guide copy on a layer that does not print.
    Knows: the visible text, line by line: filler Latin, 'your name here' in some languages, rows of x, merge brackets, made-
    up numbers and
    addresses; in a keep-clear area the usual lines of a specimen letter too.
    Cannot know: a specimen text that reads like a real one, text turned to outlines or pictures, or a line that is meant to
    read so.
    """
    found: dict[str | None, list[tuple[int, Line]]] = {}
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        areas = [area for area in sheet.keep_clear if area.pages is None or page.number in area.pages]
        for area_name, line in _guide_lines(lines_of(content.text_runs), areas):
            found.setdefault(area_name, []).append((page.number, line))
    for area_name, lines in found.items():
        yield _left_in(area_name, lines)


def _guide_lines(lines: list[Line], areas: list[KeepClearArea]) -> Iterator[tuple[str | None, Line]]:
    """Lines of guide copy on one page, each with the area that it stands in."""
    filler = [filler_words(line.text) for line in lines]
    is_filler = len(frozenset().union(*filler)) >= FILLER_WORDS_NEEDED
    for line, words in zip(lines, filler, strict=True):
        area = next((one.name for one in areas if _stands_in(line, one)), None)
        if (
            says_guide_copy(line.text)
            or (is_filler and words)
            or (area is not None and SPECIMEN_LETTER.search(line.text.casefold()))
        ):
            yield area, line


def _stands_in(line: Line, area: KeepClearArea) -> bool:
    shared = line.box_mm.intersection(area.box_mm)
    return shared is not None and shared.area > 0


def _left_in(area_name: str | None, lines: list[tuple[int, Line]]) -> Finding:
    pages = tuple(sorted({page for page, _ in lines}))
    texts = list(dict.fromkeys(line.text for _, line in lines))
    where = f"{'page' if len(pages) == 1 else 'pages'} {page_list(pages)}"
    area = f", in the area {quoted(area_name)}, which must stay clear" if area_name is not None else ""
    return Finding(
        message=f"Guide copy is left in on {where}{area}: {first_few([quoted(text) for text in texts], 3)}.",
        remedy="Delete it, or move it to a layer that does not print."
        if area_name is not None
        else "Put the real text in its place, or delete it.",
        measured={"texts": [text[:200] for text in texts[:MOST_TEXTS]], "lines": len(lines)},
        required={"keep_clear": area_name},
        pages=pages,
        places=tuple(Place(page, line.box_mm) for page, line in lines),
        level="must" if area_name is not None else None,
    )
