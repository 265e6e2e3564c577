"""The rule on the inks of black text."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import first_few, page_list, quoted
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings
from service.rules.type.text import MOST_TEXTS, is_rich_black, read_on_page
from service.sheets.model import TextAsked


@rule(
    "text.black-alone",
    needs=contents_of,
    asks=lambda sheet: sheet.text if sheet.text and sheet.text.black_alone else None,
    asked_by="text.black_alone",
    level="must",
    source="common practice, no source; which blacks print is the printer's to say",
    measured={"texts": "the pieces of text found, the first ones", "pieces": "how many pieces of text", **LEFT_OUT},
    required={"inks": "Black: no other ink beside it"},
)
def text_black_alone(pages: PagesWithContent, _: TextAsked) -> Iterator[Outcome]:
    """Black text is printed in black ink alone.

    Why: text in black and other inks shows coloured fringes as soon as the plates are a little apart.
    Remedy: set the text in 100 % black and 0 % of the other inks; keep rich blacks for areas.
    Knows: the inks of every visible piece of text of at least 80 % black. Registration colour is every ink.
    Cannot know: black of RGB, which becomes inks only in the printer's conversion (color.space speaks of it); text turned to
    outlines or pictures.
    """
    found, texts = Sightings(), dict[str, None]()
    for page, content in pages:
        for _at, run in read_on_page(page, content.text_runs):
            if is_rich_black(run) or "All" in run.inks:
                found.add(page, [run.box_mm])
                texts[" ".join(run.text.split())[:200]] = None
    if found.pages:
        yield Finding(
            message=say_many(
                "Page {pages} has black text in several inks: {texts}; the printer asks for black alone.",
                "Pages {pages} have black text in several inks: {texts}; the printer asks for black alone.",
                len(found.pages),
                pages=page_list(found.pages),
                texts=first_few([quoted(text) for text in texts], 3),
            ),
            remedy=say("Set this text in 100 % black and 0 % of the other inks, and export again."),
            measured={"texts": list(texts)[:MOST_TEXTS], "pieces": found.count},
            required={"inks": "Black"},
            pages=found.pages,
            places=tuple(found.places),
        )
