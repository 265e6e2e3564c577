"""What a printer publishes, read as a draft of a spec sheet: `read_prose`.

A grammar, rule by rule: the text is parted into statements, each statement into numbers and the words that they belong to. The
same text gives the same draft. Each value comes with the words that it was read from; what contradicts itself, and what no rule
understood, is left out of the draft and said. The draft is a start for a person who knows the printer's terms, no judgement:
where the two differ, the printer's terms decide. Lines that this service wrote itself are read word for word (`ours`).
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import replace

from service.language.spoken import to_say
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.combining import combined, with_levels, with_the_least_edge
from service.sheets.prose.documents import drafted, list_of
from service.sheets.prose.doubting import OFTEN_WRONG
from service.sheets.prose.drafts import (
    LONGEST_PAGE_BYTES,
    LONGEST_TEXT_BYTES,
    MEDIA_TYPES,
    Draft,
    OpenQuestion,
    Passage,
    ProseRefused,
    Reading,
    ReadValue,
)
from service.sheets.prose.gathering import gathered
from service.sheets.prose.open_points import not_read, silent, untouched
from service.sheets.prose.ours.reading import read_ours
from service.sheets.prose.products import as_written, common_claims, left_open, products_of
from service.sheets.prose.words.qualifiers import words_around
from service.sheets.prose.words.statements import Statement, statements_of
from service.sheets.prose.words.visible import visible_text

_SAID_BY_A_CLAUSE = (
    "color.allowed",
    "color.spots",
    "file.encryption",
    "file.standards_level",
    "marks.crop_marks",
    "transparency",
    "pages.arrangement",
    "fonts",
)


def read_prose(text: str, media_type: str = "text/plain", often_wrong: re.Pattern[str] = OFTEN_WRONG) -> Reading:
    """The draft that the text supports. `media_type` may carry parameters ('text/html; charset=utf-8').

    `often_wrong`: paths whose values are asked about, and never drafted.
    Raises `ProseRefused` for another media type and for more than 200 kB of text or 1 MB of HTML.
    """
    kind = media_type.split(";")[0].strip().lower()
    if kind not in MEDIA_TYPES:
        if not kind:
            raise ProseRefused(to_say("{what} is of no type: send the published text as text/plain or text/html."))
        raise ProseRefused(to_say("{what} is {kind}: send the published text as text/plain or text/html."), kind=kind[:60])
    if kind == "text/html" and _longer(text, LONGEST_PAGE_BYTES):
        raise ProseRefused(to_say("{what} is longer than 1 MB: send only the part that says how files are to be made."))
    shown = visible_text(text) if kind == "text/html" else text
    if _longer(shown, LONGEST_TEXT_BYTES):
        raise ProseRefused(to_say("{what} is longer than 200 kB: send only the part that says how files are to be made."))
    ours = read_ours(shown)
    if ours is not None:
        return ours
    statements = statements_of(shown)
    found = gathered(shown, statements, often_wrong)
    claims = as_written(found.claims, shown)
    kept, contradictions = combined(common_claims(claims))
    first, misfits = _draft(None, kept, frozenset(), shown, statements)
    drafts = [first]
    doubts = [*found.doubts, *contradictions, *misfits]
    for one in products_of(claims, kept):
        own, misfits = _draft(one.product, one.kept, one.own, shown, statements)
        drafts += [own] if own.own else []
        doubts += [*one.doubts, *misfits]
    doubts += left_open(claims, kept)
    touched = [*claims, *_places(doubts)]
    unread = not_read(statements, touched, found.numbers)
    doubts += silent([value.path for value in first.values], doubts)
    return Reading(
        text=shown,
        drafts=tuple(drafts),
        not_understood=tuple(_passage(one, shown) for one in unread),
        questions=tuple(_question(doubt, shown, statements) for doubt in doubts),
        asks_nothing=tuple(_passage(one, shown) for one in untouched(statements, touched, unread)),
    )


def _longer(text: str, most_bytes: int) -> bool:
    return len(text) > most_bytes or len(text.encode("utf-8", "surrogatepass")) > most_bytes


def _draft(
    product: str | None, kept: Mapping[str, Claim], own: frozenset[str], text: str, statements: Sequence[Statement]
) -> tuple[Draft, list[Doubt]]:
    document, taken, misfits = drafted(with_levels(with_the_least_edge(kept)))
    shown = [_with_the_clause(claim, statements) for claim in taken.values()]
    values = tuple(_read_value(claim, text) for claim in sorted(shown, key=lambda claim: (claim.start, claim.path)))
    return Draft(product, document, values, tuple(sorted(taken[path].path for path in own & taken.keys()))), misfits


def _passage(one: Statement, text: str) -> Passage:
    return Passage(text[one.start : one.end], one.start, one.end)


def _places(doubts: Sequence[Doubt]) -> list[Claim]:
    return [
        Claim(doubt.about, "", doubt.start, doubt.end) for doubt in doubts if doubt.start is not None and doubt.end is not None
    ]


def _with_the_clause(claim: Claim, statements: Sequence[Statement]) -> Claim:
    """'spot colours' alone does not show why none are taken: 'no spot colours' does."""
    if not claim.path.startswith(_SAID_BY_A_CLAUSE):
        return claim
    statement = statements[bisect_right(statements, claim.start, key=lambda one: one.start) - 1]
    if claim.end > statement.end:
        return claim
    start, end = words_around(statement.text, claim.start - statement.start, claim.end - statement.start)
    return replace(claim, start=statement.start + start, end=statement.start + end)


def _read_value(claim: Claim, text: str) -> ReadValue:
    return ReadValue(claim.path, claim.value, text[claim.start : claim.end], claim.start, claim.end)


def _question(doubt: Doubt, text: str, statements: Sequence[Statement]) -> OpenQuestion:
    """With the whole sentence: a number alone does not show what is in doubt."""
    about = list_of(doubt.about) or doubt.about
    if doubt.start is None or doubt.end is None:
        return OpenQuestion(about, doubt.question)
    statement = statements[bisect_right(statements, doubt.start, key=lambda one: one.start) - 1]
    start, end = min(statement.start, doubt.start), max(len(statement.text.rstrip()) + statement.start, doubt.end)
    return OpenQuestion(about, doubt.question, text[start:end], start, end, doubt.value)
