"""The rule on a TrimBox that the artwork contradicts."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import millimetres, pages_phrase, size
from service.pdf.facts.page import Page
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.edges.shown_trim import APART_MM, ShownTrim, disagreeing
from service.rules.seen import Pages, pages_of
from service.sheets.model import SpecSheet


@rule(
    "trim.shown",
    needs=pages_of,
    asks=always,
    asked_by="always",
    level="should",
    source="common practice, no source; ISO 32000-2:2020, 14.11.2 (TrimBox)",
    measured={"width_mm": "trimmed width", "height_mm": "trimmed height", "shown_width_mm": "width that the artwork shows",
              "shown_height_mm": "its height", "shown_by": "crop marks or cut line", **LEFT_OUT},
    required={"apart_mm": "how far the two may lie apart"},
)
def trim_shown(pages: Pages, sheet: SpecSheet) -> Iterator[Outcome]:
    """The page is trimmed where its crop marks, or its cut line, show the cut.

    Why: one printer cuts by the box, the other by the marks; where they differ, one of them cuts the product wrongly.
    Remedy: find out which of the two is the product, and let one program write trim and marks; do not scale the page.
    Knows: crop marks at the corners of one rectangle, and lines in an ink that is named for cutting if they are one outline. A
    cut line well inside the trim of the ordered size may be a window or a label on its backing and is left alone.
    Cannot know: which of the two is right; a cut line in a printing ink, or in an ink of another name.
    """
    groups: dict[tuple[float, ...], list[tuple[Page, ShownTrim]]] = {}
    for page in pages:
        shown = disagreeing(page, sheet.trim) if page.trim_source in ("trim_box", "art_box") else None
        if shown:
            groups.setdefault(tuple(round(one, 1) for one in shown.box), []).append((page, shown))
    for alike in groups.values():
        yield _contradicted(alike)


def _contradicted(alike: list[tuple[Page, ShownTrim]]) -> Finding:
    numbers, (first, shown) = tuple(page.number for page, _ in alike), alike[0]
    trim, box = first.boxes_mm.trim, shown.box
    told = {
        "pages": pages_phrase(numbers),
        "trim": size(trim.width, trim.height),
        "shown": size(box.width, box.height),
        "apart": millimetres(max(abs(one - other) for one, other in zip(box, trim, strict=True))),
    }
    if shown.by == "crop marks":
        message = say(
            "{pages}: the file's trim is {trim}, the crop marks in the artwork show {shown}; the edges lie up to {apart} apart.",
            **told,
        )
    else:
        message = say(
            "{pages}: the file's trim is {trim}, the cut line in the artwork goes round {shown}; the edges lie up to {apart} "
            "apart.",
            **told,
        )
    return Finding(
        message=message,
        remedy=say(
            "Find out which of the two is the product, set the document to that size, and export again so that the trim and the "
            "lines agree. Do not scale the page."
        ),
        measured={
            "width_mm": round(trim.width, 2), "height_mm": round(trim.height, 2),
            "shown_width_mm": round(box.width, 2), "shown_height_mm": round(box.height, 2), "shown_by": shown.by,
        },
        required={"apart_mm": APART_MM},
        pages=numbers,
        places=tuple(Place(page.number, one.box) for page, one in alike),
    )
