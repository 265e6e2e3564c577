"""The rule on what trial programs leave on pages."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import first_few, listed, on_pages, quoted
from service.pdf.facts.document import Document
from service.pdf.facts.painted.text import TextRun
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.seen import PagesWithContent, both, contents_of, document_of
from service.rules.sightings import bleed_area, within
from service.rules.type.guide_copy import TRIAL_PROGRAM, TRIAL_WORDS
from service.sheets.model import SpecSheet

LARGE_PT = 24.0
"""Words of a trial program that size stand across the page; smaller ones may be a manual's text. Common practice, no source."""

MOST_TEXTS = 20
"""How many different texts one finding quotes."""


@rule(
    "copy.trial",
    needs=both(contents_of, document_of),
    asks=always,
    asked_by="always",
    level="should",
    source="common practice, no source",
    measured={"texts": "the words found, or what the program calls itself", "lines": "how many pieces of text", **LEFT_OUT},
    required={"trial": "false: nothing of a trial program is printed"},
)
def copy_trial(seen: tuple[PagesWithContent, Document], _: SpecSheet) -> Iterator[Outcome]:
    """No trial program has left its mark on the pages.

    Why: programs write such words across the pages until they are paid for, and the words get printed.
    Remedy: register the program or use another one, and export again.
    Knows: words of trial programs in some languages, where they are large or stand on every page; whether the program that
    made the file calls itself a trial.
    Cannot know: such a mark that is a picture or outlines, where the file does not say what made it.
    """
    pages, document = seen
    words = _words_of_a_trial(pages)
    programs = [one for one in (document.creator, document.producer) if one and TRIAL_PROGRAM.search(one.casefold())]
    if words:
        yield _of_a_trial(words)
    elif programs:
        yield _by_a_trial(list(dict.fromkeys(programs)))


def _words_of_a_trial(pages: PagesWithContent) -> list[tuple[int, TextRun]]:
    """Large ones, and any that stand on every one of several pages."""
    found = [
        (page.number, run)
        for page, content in pages
        for run in content.text_runs
        if run.visible and TRIAL_WORDS.search(run.text.casefold()) and within(bleed_area(page), [run.box_mm])
    ]
    everywhere = len(pages) > 1 and len({number for number, _ in found}) == len(pages)
    return [(number, run) for number, run in found if everywhere or run.size_pt >= LARGE_PT]


def _of_a_trial(words: list[tuple[int, TextRun]]) -> Finding:
    pages = tuple(sorted({number for number, _ in words}))
    texts = list(dict.fromkeys(run.text.strip() for _, run in words))
    return Finding(
        message=say(
            "Words of a trial program stand {on_pages}: {texts}. They will be printed.",
            on_pages=on_pages(pages),
            texts=first_few([quoted(text) for text in texts], 3),
        ),
        remedy=say("Register the program that wrote them, or use another one, and export again."),
        measured={"texts": [text[:200] for text in texts[:MOST_TEXTS]], "lines": len(words)},
        required={"trial": False},
        pages=pages,
        places=tuple(Place(number, run.box_mm) for number, run in words),
    )


def _by_a_trial(programs: list[str]) -> Finding:
    return Finding(
        message=say(
            "The program that made the file calls itself a trial: {names}. It may have set its mark, often a picture, across "
            "the pages.",
            names=listed(quoted(one) for one in programs),
        ),
        remedy=say("Look at every page for it; register the program or use another one, and export again."),
        measured={"texts": [one[:200] for one in programs], "lines": 0},
        required={"trial": False},
    )
