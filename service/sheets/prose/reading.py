"""What a printer publishes, read as a draft of a spec sheet: `read_prose`.

A grammar, rule by rule: the text is parted into statements, each statement into numbers and the words that they belong to. The
same text gives the same draft. Each value comes with the words that it was read from; what contradicts itself, and what no rule
understood, is left out of the draft and said. The draft is a start for a person who knows the printer's terms, no judgement:
where the two differ, the printer's terms decide.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from service.language.spoken import say, to_say
from service.sheets.prose.claims.claim import Claim, Doubt, Value
from service.sheets.prose.claims.color import read_colors, read_ink_limits, read_spots
from service.sheets.prose.claims.file import (
    read_crop_marks,
    read_encryption,
    read_file_size,
    read_fonts,
    read_standards,
    read_transparency,
    read_versions,
)
from service.sheets.prose.claims.images import read_resolutions
from service.sheets.prose.claims.lengths import read_lengths
from service.sheets.prose.claims.pages import read_arrangement, read_page_counts
from service.sheets.prose.claims.trim import bleed_from_sizes, margin_from_sizes, trim_claims
from service.sheets.prose.combining import combined, drafted, with_levels
from service.sheets.prose.open_points import not_read, silent
from service.sheets.prose.words.amounts import Amount, amounts_in
from service.sheets.prose.words.qualifiers import words_around
from service.sheets.prose.words.sides import size_from_sides
from service.sheets.prose.words.sizes import Size, inches_are_said, sizes_in, spans_of
from service.sheets.prose.words.statements import Statement, folded, statements_of
from service.sheets.prose.words.visible import visible_text

LONGEST_TEXT_BYTES = 200_000
MEDIA_TYPES = ("text/plain", "text/html")

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


class ProseRefused(ValueError):
    """The text cannot be read at all."""

    def __init__(self, text: str, /, **values: str) -> None:
        """`text`: a sentence about `{what}`, which says what to do."""
        super().__init__(text)
        self.text, self.values = text, values

    def said_of(self, what: str) -> str:
        """`what`: 'The text', or the name of a file."""
        return say(self.text, what=what, **self.values)


@dataclass(frozen=True)
class ReadValue:
    """One value of the draft with the words that it was read from."""

    path: str
    """'bleed.minimum'."""
    value: Value
    """In the sheet's own format: '3 mm', 300, ['cmyk', 'gray']."""
    quote: str
    """The words as they stand in the text; of a level that was worked out, those that it follows from."""
    start: int
    end: int
    """Places of the words in `Reading.text`: text[start:end] == quote."""


@dataclass(frozen=True)
class Passage:
    """A sentence, list item or cell that seems to claim something that was not understood."""

    quote: str
    start: int
    end: int


@dataclass(frozen=True)
class OpenQuestion:
    """Something for a person to settle before the draft is used. Without a quote the text is silent on it."""

    about: str
    """A path of the sheet: 'bleed', 'images.bilevel_ppi'."""
    question: str
    quote: str | None = None
    start: int | None = None
    end: int | None = None


@dataclass(frozen=True)
class Reading:
    text: str
    """What all places refer to: the text as sent; of HTML what a reader sees of it."""
    draft: Mapping[str, Any]
    """A sheet document without identity that `validation.read_sheet` takes; empty where nothing was read."""
    values: tuple[ReadValue, ...]
    """All of the draft, in the order of the text."""
    not_understood: tuple[Passage, ...]
    questions: tuple[OpenQuestion, ...]


def read_prose(text: str, media_type: str = "text/plain") -> Reading:
    """The draft that the text supports. `media_type` may carry parameters ('text/html; charset=utf-8').

    Raises `ProseRefused` for another media type and for more than 200 kB.
    """
    kind = media_type.split(";")[0].strip().lower()
    if kind not in MEDIA_TYPES:
        if not kind:
            raise ProseRefused(to_say("{what} is of no type: send the published text as text/plain or text/html."))
        raise ProseRefused(to_say("{what} is {kind}: send the published text as text/plain or text/html."), kind=kind[:60])
    if len(text) > LONGEST_TEXT_BYTES or len(text.encode("utf-8", "surrogatepass")) > LONGEST_TEXT_BYTES:
        raise ProseRefused(to_say("{what} is longer than 200 kB: send only the part that says how files are to be made."))
    shown = visible_text(text) if kind == "text/html" else text
    statements = statements_of(shown)
    claims, doubts, numbers = _claims(shown, statements)
    kept, contradictions = combined(claims)
    document, taken, misfits = drafted(with_levels(kept))
    doubts += [*contradictions, *misfits]
    taken = {path: _with_the_clause(claim, statements) for path, claim in taken.items()}
    unread = not_read(statements, [*claims, *_places(doubts)], numbers)
    doubts += silent(list(taken), doubts)
    return Reading(
        text=shown,
        draft=document,
        values=tuple(_read_value(claim, shown) for claim in sorted(taken.values(), key=lambda claim: (claim.start, claim.path))),
        not_understood=tuple(Passage(shown[one.start : one.end], one.start, one.end) for one in unread),
        questions=tuple(_question(doubt, shown) for doubt in doubts),
    )


def _claims(text: str, statements: Sequence[Statement]) -> tuple[list[Claim], list[Doubt], dict[int, list[Amount | Size]]]:
    """Every claim of the text; the doubts of the rules; the numbers by the place of their statement."""
    inches = inches_are_said(folded(text))
    sizes: list[Size] = []
    claims: list[Claim] = []
    numbers: dict[int, list[Amount | Size]] = {}
    telling = [one for one in statements if not one.is_a_question]
    for one in telling:
        here = sizes_in(one, text, inches)
        amounts = _outside(amounts_in(_without(one, here), one.label), one, here)
        numbers[one.start] = [*here, *amounts]
        sizes += here
        claims += read_lengths(one, amounts, spans_of(here, one))
        claims += [*read_resolutions(one, amounts), *read_ink_limits(one, amounts), *read_file_size(one, amounts)]
        for rule in (read_arrangement, read_versions, read_encryption, read_fonts, read_transparency, read_crop_marks):
            claims += rule(one)
    colors, doubts = read_colors(telling)
    claims += [*colors, *read_spots(telling), *read_page_counts(telling), *read_standards(telling)]
    sides = [claim for claim in claims if claim.path.startswith("side.")]
    claims = [claim for claim in claims if not claim.path.startswith("side.")]
    size = size_from_sides(sides) if not any(one.role in ("trim", "size", "with bleed", "document") for one in sizes) else None
    trim, open_trim = trim_claims([*sizes, *([size] if size else [])], statements, _said(claims, "bleed.minimum"))
    claims += trim
    edges = _trimmed(trim)
    if _said(claims, "bleed.minimum") is None and (derived := bleed_from_sizes(sizes, edges)):
        claims.append(derived)
    if _said(claims, "margin.minimum") is None and (inner := margin_from_sizes(sizes, edges)):
        claims.append(inner)
    return claims, [*doubts, *open_trim], numbers


def _without(statement: Statement, sizes: Sequence[Size]) -> str:
    """The statement with its sizes blanked, so that '55 mm' of '85 × 55 mm' is no length of its own."""
    text = statement.text
    for one in sizes:
        start, end = one.start - statement.start, one.end - statement.start
        text = f"{text[:start]}{'§' * (end - start)}{text[end:]}"
    return text


def _outside(amounts: Sequence[Amount], statement: Statement, sizes: Sequence[Size]) -> list[Amount]:
    spans = spans_of(sizes, statement)
    return [one for one in amounts if not any(start < one.end and one.start < end for start, end in spans)]


def _said(claims: Sequence[Claim], path: str) -> Fraction | None:
    """The size of a value that the text says without contradiction."""
    kept, _ = combined(claim for claim in claims if claim.path == path)
    return kept[path].size if path in kept else None


def _trimmed(trim: Sequence[Claim]) -> tuple[Fraction, Fraction] | None:
    sides = {claim.path: claim.size for claim in trim}
    width, height = sides.get("trim.width"), sides.get("trim.height")
    return (width, height) if width is not None and height is not None else None


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


def _question(doubt: Doubt, text: str) -> OpenQuestion:
    quote = text[doubt.start : doubt.end] if doubt.start is not None else None
    return OpenQuestion(doubt.about, doubt.question, quote, doubt.start, doubt.end)
