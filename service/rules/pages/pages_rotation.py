"""The rule on pages that are turned for display."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.seen import Pages, pages_of
from service.sheets.model import PagesAsked


@rule(
    "pages.rotation",
    needs=pages_of,
    asks=lambda sheet: sheet.pages if sheet.pages and sheet.pages.rotation == "forbidden" else None,
    asked_by="pages.rotation",
    level="must",
    source="ISO 32000-2:2020, 7.7.3.3 (page objects: Rotate); whether turned pages are taken is the printer's to say",
    measured={"rotation": "degrees by which the first such page is turned", **LEFT_OUT},
    required={"rotation": "0"},
)
def pages_rotation(pages: Pages, _: PagesAsked) -> Iterator[Outcome]:
    """No page is turned for display.

    Why: some software places the page as it was before it was turned, and prints it on its side.
    Remedy: turn the page in the layout, not in a viewer, and export again.
    Knows: the Rotate entry of every page, its own or inherited.
    Cannot know: content that was drawn on its side.
    """
    turned = [page for page in pages if page.rotation]
    if turned:
        numbers = tuple(page.number for page in turned)
        yield Finding(
            message=say_many(
                "Page {pages} is turned for display; the printer asks for pages that are not.",
                "Pages {pages} are turned for display; the printer asks for pages that are not.",
                len(numbers),
                pages=page_list(numbers),
            ),
            remedy=say("Take the rotation out (it is often added in a viewer) and export again."),
            measured={"rotation": turned[0].rotation},
            required={"rotation": 0},
            pages=numbers,
            places=trim_places(turned),
        )
