"""The rule on plates of spot inks on which nothing prints."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import first_few, pages_phrase, quoted
from service.pdf.facts.ink_names import PROCESS_INKS, same_ink
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.seen import PagesWithPlates, Seen, knowing_gaps, plates_of
from service.sheets.model import SpecSheet


@rule(
    "ink.empty-plate",
    needs=knowing_gaps(plates_of),
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 8.6.6.4 and 8.6.6.5 (Separation, DeviceN); that an empty plate is a mistake is common practice",
    measured={"inks": "spot inks whose plate is empty on every page, as the file spells them", **LEFT_OUT},
    required={"empty": "false: something prints in every spot ink"},
)
def ink_empty_plate(seen: Seen[PagesWithPlates], sheet: SpecSheet) -> Iterator[Outcome]:
    """Something prints on the plate of every spot ink.

    Why: a plate is made, billed and washed up for nothing; or what should print in that ink is white, covered up or missing.
    Remedy: find the objects in that swatch and mend them; delete them only where nothing was to print in it.
    Knows: the spot inks of objects on the pages, and that nothing of them lands inside the bleed. An empty plate of a finishing
    ink that the sheet requires is finish.plate's.
    Cannot know: swatches that no object uses; they make no plate.
    """
    empty: dict[str, list[Page]] = {}
    prints: set[str] = set()
    for page, plates in seen.known:
        for one in plates.inks:
            if not one.empty:
                prints.add(one.ink)
            elif one.ink not in PROCESS_INKS:
                empty.setdefault(one.ink, []).append(page)
    inks = [ink for ink in sorted(empty.keys() - prints) if not _is_required_finish(ink, sheet)]
    if inks and not seen.missing:
        yield _nothing_prints(inks, empty)


def _is_required_finish(ink: str, sheet: SpecSheet) -> bool:
    """finish.plate tells of it: one cause is told once."""
    told = sheet.levels.get("finish.plate") != "off"
    return told and any(one.required and same_ink(ink) in map(same_ink, one.plate_names) for one in sheet.finishes)


def _nothing_prints(inks: list[str], empty: dict[str, list[Page]]) -> Finding:
    pages = {page.number: page for ink in inks for page in empty[ink]}
    numbers = tuple(sorted(pages))
    names = first_few([quoted(one) for one in inks])
    return Finding(
        message=say_many(
            "{pages}: {count} spot ink ({names}) is used, but its plate is empty: nothing prints in it inside the bleed.",
            "{pages}: {count} spot inks ({names}) are used, but their plates are empty: nothing prints in them inside the bleed.",
            len(inks),
            pages=pages_phrase(numbers),
            names=names,
        ),
        remedy=say(
            "Look for objects in this swatch that are white, at 0 %, covered up or outside the page, and mend them. Delete "
            "them only if nothing was to print or to be finished in this ink."
        ),
        measured={"inks": inks},
        required={"empty": False},
        pages=numbers,
        places=tuple(
            Place(page.number, box)
            for page in pages.values()
            if not isinstance(page.content, Unmeasured)
            for use in page.content.spots
            if use.ink in inks
            for box in use.boxes_mm
        ),
    )
