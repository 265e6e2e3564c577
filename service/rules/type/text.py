"""Rules on type: how small it is, and in how many inks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Literal

from service.language.spoken import say, say_many, to_say
from service.language.wording import first_few, ink_named, number, page_list, quoted
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.page import Page
from service.pdf.facts.painted.text import TextRun
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.product_asked import registration_is_told, rgb_is_told
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings, within
from service.rules.type.raised_signs import SMALLER_SHARE, is_raised_sign
from service.sheets.model import Block, SpecSheet, TextAsked

SIZE_SLACK = 0.005
"""Type of 5 TeX points (4.98 pt) is type of 5 pt. Common practice, no source."""

RICH_BLACK_FROM = 0.8
"""Black ink this strong with other inks beside it is a rich black, not a dark colour. Common practice, no source: what layout
programs make of RGB black has about 90 % black ink."""

PROCESS = frozenset(PROCESS_INKS)

SMALL_TEXT_PT = 9.0
"""Under this size misregister of two inks shows as a coloured fringe. Common practice, no source (9 to 10 pt for three inks)."""

MOST_TEXTS = 20
"""How many different texts one finding quotes."""

Printed = Literal["plain", "reversed", "several inks", "rich black", "converted"]
"""How a piece of text gets on paper. `converted`: from RGB or Lab, into as many inks as the conversion makes."""

_TEXTS = {
    "size_pt": "smallest size, through every scaling",
    "printed": "how: plain, reversed (white out of ink), several inks, rich black, converted (from RGB or Lab)",
    "texts": "the pieces of text found, the first ones",
    "pieces": "how many pieces of text",
}

_LARGER = {
    "plain": to_say("Set this text larger."),
    "reversed": to_say(
        "Set this text larger and in a bold, sans serif cut, or print it in one solid ink instead of leaving it white: "
        "then the limit for ordinary text holds."
    ),
    "several inks": to_say("Set this text larger, or in one solid ink, best in black alone."),
    "rich black": to_say("Set this text in black ink alone (100 % black, nothing of the other inks), or larger."),
}

_SET_AS = {
    "reversed": to_say("text in white on colour"),
    "several inks": to_say("text in several inks"),
    "rich black": to_say("text in black of several inks"),
}


def under(size_pt: float, limit_pt: float) -> bool:
    return size_pt < limit_pt * (1 - SIZE_SLACK)


def is_several(inks: tuple[str, ...]) -> bool:
    """More than one plate; registration colour stands on all."""
    return len(inks) > 1 or "All" in inks


def is_rich_black(run: TextRun) -> bool:
    """Black with other process inks below it. With a spot ink it is a colour of its own, such as bronze."""
    return len(run.inks) > 1 and run.black_tint >= RICH_BLACK_FROM and PROCESS.issuperset(run.inks)


def read_on_page(page: Page, runs: tuple[TextRun, ...]) -> Iterator[tuple[int, TextRun]]:
    """Runs that a reader of the trimmed page can see, with their numbers: blanks, white on paper and the slug aside."""
    for at, run in enumerate(runs):
        if run.visible and run.text.strip() and (run.on_ink or not run.white) and within(page.boxes_mm.trim, [run.box_mm]):
            yield at, run


class _Texts(Sightings):
    """Pieces of text that break for one cause."""

    def __init__(self) -> None:
        super().__init__()
        self.smallest_pt = inf
        self.texts: dict[str, None] = {}

    def add_run(self, page: Page, run: TextRun) -> None:
        self.add(page, [run.box_mm])
        self.smallest_pt = min(self.smallest_pt, run.size_pt)
        self.texts[" ".join(run.text.split())[:200]] = None

    @property
    def quotes(self) -> str:
        return first_few([quoted(text) for text in self.texts], 3)


def _text_asked(sheet: SpecSheet) -> TextAsked | None:
    text = sheet.text or TextAsked()
    sizes = (text.minimum_size_pt, text.reversed_minimum_size_pt, text.rich_black_minimum_size_pt)
    return text if any(size is not None for size in sizes) else None


@rule(
    "text.size",
    needs=contents_of,
    asks=_text_asked,
    asked_by="text.minimum_size, text.reversed_minimum_size, text.rich_black_minimum_size",
    level="must",
    source="ISO 32000-2:2020, 9.4.4 (how large text becomes on paper); the limits are the printer's",
    measured={**_TEXTS, **LEFT_OUT},
    required={"minimum_pt": "least size of text that is printed like this"},
)
def text_size(pages: PagesWithContent, asked: TextAsked) -> Iterator[Outcome]:
    """Text is large enough to be read and to be printed.

    Why: small type fills in or breaks up; white type on colour loses its thin strokes to the ink around it, and type in
    several inks shows every shift between the plates.
    Remedy: set it larger; print small type in one solid ink, best in black alone.
    Knows: the size of every visible piece of text after every scaling, its inks, and whether white text stands on ink. Text
    in several inks, and white text on ink, has the larger minimum. Type of RGB or Lab has the plain one. A short sign right
    beside larger type, as raised figures are, may be a fifth smaller. Black that was merged with the plain colour below it,
    as flattening does, is black alone.
    Cannot know: text turned to outlines or pictures; how thin the strokes of a face are; the x-height that a reader sees.
    """
    found: dict[tuple[Printed, float], _Texts] = {}
    for page, content in pages:
        for at, run in read_on_page(page, content.text_runs):
            broken = _broken_limit(run, asked)
            if broken and (under(run.size_pt, SMALLER_SHARE * broken[1]) or not is_raised_sign(content.text_runs, at)):
                found.setdefault(broken, _Texts()).add_run(page, run)
    for (printed, limit_pt), texts in found.items():
        yield Finding(
            message=_too_small(printed, texts, limit_pt),
            remedy=say(_LARGER[printed]),
            measured=_measured(printed, texts),
            required={"minimum_pt": limit_pt},
            pages=texts.pages,
            places=tuple(texts.places),
        )


def _too_small(printed: Printed, texts: _Texts, limit_pt: float) -> str:
    pages, found, asked = page_list(texts.pages), number(texts.smallest_pt, 2), number(limit_pt, 2)
    if printed == "plain":
        return say_many(
            "Page {pages} has text as small as {found} pt ({texts}); the printer asks for at least {asked} pt.",
            "Pages {pages} have text as small as {found} pt ({texts}); the printer asks for at least {asked} pt.",
            len(texts.pages), pages=pages, found=found, texts=texts.quotes, asked=asked,
        )
    return say_many(
        "Page {pages} has {set_as} as small as {found} pt ({texts}); the printer asks for at least {asked} pt.",
        "Pages {pages} have {set_as} as small as {found} pt ({texts}); the printer asks for at least {asked} pt.",
        len(texts.pages), pages=pages, set_as=say(_SET_AS[printed]), found=found, texts=texts.quotes, asked=asked,
    )


def _broken_limit(run: TextRun, asked: TextAsked) -> tuple[Printed, float] | None:
    """The largest minimum that the run is under, so that each run is told once."""
    limits: list[tuple[Printed, float | None]] = [("plain", asked.minimum_size_pt)]
    if run.white:
        limits.append(("reversed", asked.reversed_minimum_size_pt))
    if is_several(run.inks):
        limits.append(("several inks", asked.reversed_minimum_size_pt))
    if is_rich_black(run):
        limits.append(("rich black", asked.rich_black_minimum_size_pt))
    broken = [(printed, limit) for printed, limit in limits if limit is not None and under(run.size_pt, limit)]
    return max(broken, key=lambda one: one[1], default=None)


def _measured(printed: Printed, texts: _Texts) -> dict[str, str | float | int | list[str]]:
    return {
        "size_pt": round(texts.smallest_pt, 2),
        "printed": printed,
        "texts": list(texts.texts)[:MOST_TEXTS],
        "pieces": texts.count,
    }


_ONE_INK = {
    "rich black": to_say(
        "Set small black text in black ink alone: 100 % black, nothing of the other inks, and let it overprint."
    ),
    "several inks": to_say("Choose a colour of one solid ink for small text, or set it larger."),
    "converted": to_say(
        "Set small text in black ink alone or in one printing ink in the swatches. Black of RGB becomes a black of four inks "
        "when it is converted."
    ),
}


@dataclass(frozen=True, kw_only=True)
class InksAsked(Block):
    rgb_is_told: bool
    registration_is_told: bool
    """By a rule on colours, so that this one need not."""


def _inks_asked(sheet: SpecSheet) -> InksAsked | None:
    text = _text_asked(sheet)
    if text is None or sheet.purpose != "print":
        return None
    return InksAsked(
        rgb_is_told=rgb_is_told(sheet), registration_is_told=registration_is_told(sheet), level=text.level, note=text.note
    )


@rule(
    "text.inks",
    needs=contents_of,
    asks=_inks_asked,
    asked_by="text (any of its sizes)",
    level="should",
    source="common practice, no source",
    measured={**_TEXTS, "inks": "the inks that it is printed in; empty where a conversion decides", **LEFT_OUT},
    required={"one_ink_under_pt": "size under which text keeps to one ink"},
)
def text_inks(pages: PagesWithContent, asked: InksAsked) -> Iterator[Outcome]:
    """Small text is printed in one ink.

    Why: two plates never meet exactly. On large shapes nobody sees it; small type gets coloured fringes and goes soft.
    Remedy: print small text in black alone, or in one solid or spot ink.
    Knows: the inks of every visible piece of text under 9 pt. Text of RGB or Lab counts as of several inks, because a
    conversion makes several of it, of its black too; where color.space or color.registration tells of that colour, nothing
    is added here. The sheet's own minimum for such text is judged by text.size.
    Cannot know: how well the press registers, or a conversion that keeps black text black.
    """
    found: dict[Printed, tuple[_Texts, dict[str, None]]] = {}
    for page, content in pages:
        for _, run in read_on_page(page, content.text_runs):
            printed = _in_several_inks(run, asked)
            if printed and under(run.size_pt, SMALL_TEXT_PT):
                texts, inks = found.setdefault(printed, (_Texts(), {}))
                texts.add_run(page, run)
                inks.update(dict.fromkeys(run.inks))
    for printed, (texts, inks) in found.items():
        yield Finding(
            message=_not_in_one_ink(texts, list(inks)),
            remedy=say(_ONE_INK[printed]),
            measured={**_measured(printed, texts), "inks": list(inks)},
            required={"one_ink_under_pt": SMALL_TEXT_PT},
            pages=texts.pages,
            places=tuple(texts.places),
        )


def _not_in_one_ink(texts: _Texts, inks: list[str]) -> str:
    if inks:
        printed = say("in several inks ({inks})", inks=first_few([ink_named(one) for one in inks]))
    else:
        printed = say("in RGB or Lab colour, which becomes several inks")
    return say_many(
        "Page {pages} has {pieces} under {size} pt {in_inks}: {texts}. Where the plates do not meet exactly, its edges turn "
        "coloured.",
        "Pages {pages} have {pieces} under {size} pt {in_inks}: {texts}. Where the plates do not meet exactly, its edges turn "
        "coloured.",
        len(texts.pages),
        pages=page_list(texts.pages),
        pieces=say_many("{count} piece of text", "{count} pieces of text", texts.count),
        size=number(SMALL_TEXT_PT),
        in_inks=printed,
        texts=texts.quotes,
    )


def _in_several_inks(run: TextRun, asked: InksAsked) -> Printed | None:
    if run.white or ("All" in run.inks and asked.registration_is_told):
        return None
    if is_rich_black(run):
        return "rich black"
    if is_several(run.inks):
        return "several inks"
    named = any(word in run.written for word in ("RGB", "Lab", "ICCBased"))
    return "converted" if named and not run.inks and not asked.rgb_is_told else None
