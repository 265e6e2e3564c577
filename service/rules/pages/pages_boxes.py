"""The rule on boxes that the printer wants to find on every page."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import listed, page_list
from service.pdf.facts.box_names import BOX_NAMES, BoxName
from service.pdf.facts.page import Page
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.seen import Pages, pages_of
from service.sheets.model import PagesAsked


@rule(
    "pages.boxes",
    needs=pages_of,
    asks=lambda sheet: sheet.pages if sheet.pages and sheet.pages.boxes else None,
    asked_by="pages.boxes",
    level="must",
    source="ISO 32000-2:2020, 14.11.2 (page boundaries); which boxes are needed is the printer's to say",
    measured={"missing": "the boxes that the page does not have", **LEFT_OUT},
    required={"boxes": "the boxes that every page is to have"},
)
def pages_boxes(pages: Pages, asked: PagesAsked) -> Iterator[Outcome]:
    """Every page has the boxes that the printer asks for.

    Why: software that places pages on the sheet takes trim and bleed from the boxes and does not guess.
    Remedy: export with a print preset, with the document's bleed switched on.
    Knows: the boxes that the page's dictionary has, its own or inherited, whatever their size.
    Cannot know: whether they are the right ones (trim.size, trim.boxes and bleed.declared look at them).
    """
    groups: dict[tuple[BoxName, ...], list[Page]] = {}
    for page in pages:
        missing = tuple(name for name in asked.boxes if page.declared(name) is None)
        if missing:
            groups.setdefault(missing, []).append(page)
    for missing, without in groups.items():
        numbers = tuple(page.number for page in without)
        names = listed(BOX_NAMES[one] for one in missing)
        yield Finding(
            message=say_many(
                "Page {pages} has no {boxes}; the printer asks for it.",
                "Pages {pages} have no {boxes}; the printer asks for it.",
                len(numbers), pages=page_list(numbers), boxes=names,
            ),
            remedy=say(
                "Export with a print preset of your layout program, with the document's bleed switched on: it writes the boxes."
            ),
            measured={"missing": [BOX_NAMES[one] for one in missing]},
            required={"boxes": [BOX_NAMES[one] for one in asked.boxes]},
            pages=numbers,
            places=trim_places(without),
        )
