"""The rule on the height of a book's cover."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import asked_length, millimetres, page_list
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.page import Page
from service.rules.base import LEFT_OUT, Finding, rule, trim_places
from service.rules.seen import Pages, pages_of
from service.sheets.model import SpineAsked

TOLERANCE_MM = 0.5
"""As of any trimmed page where its sheet says nothing else. Common practice, no source."""


@rule(
    "spine.height",
    needs=pages_of,
    asks=lambda sheet: sheet.spine if sheet.spine and sheet.spine.page_height_mm is not None else None,
    asked_by="spine.page_height",
    level="must",
    source="common practice, no source: cover and inner pages are trimmed together",
    measured={"height_mm": "trimmed height of the cover", **LEFT_OUT},
    required={"height_mm": "height of the book", "tolerance_mm": "allowed difference"},
)
def spine_height(pages: Pages, spine: SpineAsked) -> Iterator[Finding]:
    """The cover is as high as the book.

    Why: cover and inner pages are cut in one stroke; a cover of another height loses what stands at head and foot, or is short.
    Remedy: set the height of the cover's page to that of the inner pages.
    Knows: the trimmed height.
    Cannot know: a cover that is meant to stand over the inner pages.
    """
    assert spine.page_height_mm is not None, "without it the rule is not asked"
    asked, groups = spine.page_height_mm, dict[float, list[Page]]()
    for page in pages:
        if abs(page.trim_height_mm - asked) > TOLERANCE_MM + SLACK_MM:
            groups.setdefault(round(page.trim_height_mm, 1), []).append(page)
    for ones in groups.values():
        numbers, height = tuple(page.number for page in ones), ones[0].trim_height_mm
        yield Finding(
            message=say_many(
                "Page {pages} is {height} high; the book is {asked} high.",
                "Pages {pages} are {height} high; the book is {asked} high.",
                len(numbers),
                pages=page_list(numbers),
                height=millimetres(height),
                asked=asked_length(asked),
            ),
            remedy=say("Set the height of the cover to {asked}, as that of the inner pages.", asked=asked_length(asked)),
            measured={"height_mm": round(height, 2)},
            required={"height_mm": round(asked, 2), "tolerance_mm": TOLERANCE_MM},
            pages=numbers,
            places=trim_places(ones),
        )
