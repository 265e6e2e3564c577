"""The rule on pages without ink."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule, trim_places
from service.rules.seen import PagesWithPlates, plates_of
from service.sheets.model import SpecSheet


@rule(
    "pages.blank",
    needs=plates_of,
    asks=always,
    asked_by="always",
    level="should",
    source="common practice, no source",
    measured={"blank_pages": "how many pages carry no ink inside the trim", **LEFT_OUT},
    required={"blank_pages": "0, unless they are meant"},
)
def pages_blank(pages: PagesWithPlates, _: SpecSheet) -> Iterator[Outcome]:
    """Every page has something on it.

    Why: a blank page can be meant (the inside of a cover, the back of a letter), or content was lost: a picture that is
    missing, a layer that does not print, white on white.
    Remedy: if it is meant, tell the printer; else look at the page in the layout and export again.
    Knows: the ink plates of the trimmed page. What stands only in the bleed or the slug does not count.
    Cannot know: whether a blank page is meant.
    """
    blank = [page for page, plates in pages if plates.blank]
    if blank:
        numbers = tuple(page.number for page in blank)
        yield Finding(
            message=say_many(
                "Page {pages} is blank: no ink inside the trim.",
                "Pages {pages} are blank: no ink inside the trim.",
                len(numbers),
                pages=page_list(numbers),
            ),
            remedy=say(
                "If this is meant, tell the printer; else look for a layer that is switched off, a missing picture or white "
                "content, and export again."
            ),
            measured={"blank_pages": len(blank)},
            required={"blank_pages": 0},
            pages=numbers,
            places=trim_places(blank),
        )
