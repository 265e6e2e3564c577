"""Every claim of a text, each with what it holds for: statement by statement, then what only the whole text shows."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, islice

from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.claims.color import read_colors
from service.sheets.prose.claims.file import read_file_size, read_standards
from service.sheets.prose.claims.images import read_resolutions
from service.sheets.prose.claims.inking.papers import PAPERS
from service.sheets.prose.claims.inks import read_ink_limits, read_spots
from service.sheets.prose.claims.lengths import read_lengths
from service.sheets.prose.claims.pages import read_page_counts
from service.sheets.prose.claims.shape.finishes import overprinted
from service.sheets.prose.claims.topics import MARKS
from service.sheets.prose.claims.trim import (
    SaidOfPages,
    bleed_from_sizes,
    live_area_from_sizes,
    margin_from_sizes,
    said_of_pages,
    trim_claims,
)
from service.sheets.prose.combining import combined
from service.sheets.prose.doubting import doubted
from service.sheets.prose.products import of_sections, without_alternatives
from service.sheets.prose.sentences import read_names, read_numbers, read_sentence
from service.sheets.prose.signs import sign_of_doubt
from service.sheets.prose.words.amounts import Amount, amounts_in
from service.sheets.prose.words.frames import explains
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.scopes import around, scope_at
from service.sheets.prose.words.sides import size_from_sides
from service.sheets.prose.words.sizes import Size, height_is_said_first, inches_are_said, sizes_in, spans_of, turned
from service.sheets.prose.words.statements import Statement, folded

_GOES_ON = 5
"""Words of a sentence that only adds to the one before it."""
_EXAMPLE_GOES_ON = 250
"""Characters after a size of an example."""
MOST_PRODUCTS = 40
"""A text that tells more products apart is a catalogue, or an attack."""
_IF_THERE_ARE_ANY = re.compile(
    r"\bif (?:present|included|used|shown|required|you|turning)|\bshould you\b|\bwhen (?:using|including|adding)|\bwenn|\bfalls"
    r"|\bsi\b|\blorsque"
)
"""Where marks stand holds for those that are there."""
_SIDES_SAID = re.compile(r"(?i)[0-9\"′″] ?(?:mm|cm|in|\")? ?\(?(?:w|h|b|wide|high|tall|breit|hoch)\b")
_MARKS_THAT_ARE_THERE = re.compile(
    r"(?:if|when) (?:you (?:do )?(?:add|use|include)|present|included|used|they)|(?:falls|wenn|sofern) (?:diese |sie "
    r"|doch )?(?:vorhanden|angelegt|verwendet)"
    r"|(?:si|s'ils?) (?:presents?|vous en|elles|sont)"
)
"""'Crop marks are not needed. If present, 3 mm away, please.'"""


_SCALE = re.compile(r"^\W*(?:(?:at|in|to|a|im|en) )?(?:\w+ ){0,2}(?:scale|ma(?:ss|ß)stab|l'echelle|echelle)\b|^[0-9]+ ?[:/%]")
"""A claim on scales names one."""
_LARGE = re.compile(r"black|schwarz|noir|areas?\b|solids?\b|backgrounds?\b|flachen?\b|aplats?\b|fonds?\b|large|gro(?:ss|ß)")
"""Where a black of several inks is for: it narrows its recipe to nothing else."""
_BLACK_TYPE = re.compile(r"^(?:if|when|where|wherever) (?:you |your |the |any |all |using |there is ){0,3}(?:black )?(?:texts?"
    r"|type|fonts?|letter\w*)"
    r"(?: (?:is|are)(?: to be)?(?: in| set in| printed in)? black\b| in black\b|$)")
_MAY_BE_INK = re.compile(r"ink|encr|farb|tonwert")


@dataclass(frozen=True)
class Gathered:
    claims: list[Claim]
    doubts: list[Doubt]
    numbers: dict[int, list[Amount | Size]]
    """By the place of their statement."""


def gathered(text: str, statements: Sequence[Statement], often_wrong: re.Pattern[str]) -> Gathered:
    """`often_wrong`: paths that are asked about in any case."""
    return _Gathering(text, statements, often_wrong).whole()


class _Gathering:
    def __init__(self, text: str, statements: Sequence[Statement], often_wrong: re.Pattern[str]) -> None:
        self._text, self._statements, self._often_wrong = text, statements, often_wrong
        self._telling = [one for one in statements if not one.is_a_question]
        self._given = dict(zip((one.start for one in statements), around(statements), strict=True))
        self._spans: dict[int, list[tuple[int, int]]] = {}
        self._numbers: dict[int, list[Amount | Size]] = {}
        self._sizes: list[Size] = []
        self._last_scope: Scope | None = None
        self._last_block = 0
        """The narrowest scope of the sentence read last: '72 dpi for banners. 100 dpi is recommended.'"""
        self._last_finishes: list[str] = []
        self._starts = [one.start for one in self._telling]
        self._places = [one.start for one in statements]
        self._height_first = False
        self._example: tuple[Scope, tuple[str, ...]] | None = None
        self._example_ends = 0

    def whole(self) -> Gathered:
        low = folded(self._text)
        inches, self._height_first = inches_are_said(low), height_is_said_first(low)
        claims = [claim for one in self._telling for claim in self._of(one, inches)]
        colors, doubts = read_colors(self._telling, self._scope_or_doubt)
        claims += [*colors, *read_spots(self._telling, self._scope_of), *read_standards(self._telling, self._scope_of)]
        of_papers = {(claim.start, claim.end) for claim in claims if claim.path.endswith(".maximum_pages")}
        for claim in read_page_counts(self._telling):
            if any(start <= claim.start < end for start, end in of_papers):
                continue
            claims += self._narrowed(self._telling[bisect_right(self._starts, claim.start) - 1], [claim])
        claims = self._doubted(claims)
        trim, open_trim = _of_sizes(self._sizes, claims, self._statements)
        claims = [claim for claim in claims if not claim.path.startswith("side.")]
        trim = self._doubted(trim)
        found = of_sections([*claims, *trim], self._headings([*claims, *trim]))
        return Gathered(without_alternatives(found, self._sections(found)), [*doubts, *open_trim], self._numbers)

    def _headings(self, claims: Iterable[Claim]) -> dict[int, str]:
        places = ((claim.start, bisect_right(self._places, claim.start) - 1) for claim in claims)
        return {start: self._statements[place].heading for start, place in places if place >= 0}

    def _sections(self, claims: Iterable[Claim]) -> dict[int, int]:
        """Sentences under the same headings, in one run."""
        numbers: list[int] = []
        for number, (_, run) in enumerate(groupby(self._telling, key=lambda one: one.above)):
            numbers += [number] * len(list(run))
        return {claim.start: numbers[max(0, bisect_right(self._starts, claim.start) - 1)] for claim in claims if numbers}

    def _of(self, one: Statement, inches: bool) -> list[Claim]:
        here = sizes_in(one, self._text, inches)
        if self._height_first:
            here = [
                size if size.named or _SIDES_SAID.search(self._text, size.start, size.end + 3) else turned(size) for size in here
            ]
        spans = spans_of(here, one)
        amounts = _outside(amounts_in(_without(one, here), one.label, inches_said=inches), spans)
        if here or amounts:
            self._numbers[one.start] = [*here, *amounts]
            self._spans[one.start] = [(amount.start, amount.end) for amount in amounts]
            self._sizes += [self._scoped(one, size) for size in here]
        words = self._text[one.start : one.end]
        read, used = read_numbers(one, amounts, words)
        if amounts:
            rest = [amount for amount in amounts if amount.start not in used]
            taken = [(amount.start, amount.end) for amount in amounts if amount.start in used]
            read += [
                *read_lengths(one, rest, sorted([*spans, *taken])),
                *read_resolutions(one, rest),
                *read_file_size(one, rest, self._before(one)),
            ]
        if not used and (amounts or _MAY_BE_INK.search(one.text)):
            read += read_ink_limits(one, amounts)
        read += [*read_sentence(one), *read_names(one, words), *overprinted(one, self._last_finishes)]
        self._last_finishes = [claim.path for claim in read if claim.path.startswith("finishes.")]
        if read and _MARKS_THAT_ARE_THERE.match(one.text) and MARKS.search(self._before(one)):
            read = [replace(claim, path="marks.offset_minimum") if claim.path == "margin.minimum" else claim for claim in read]
        return self._narrowed(one, read) if read else []

    def _scoped(self, one: Statement, size: Size) -> Size:
        """Sizes go on to be an example's: 'For example, an A6 flyer is …. With bleed it is 111 × 154 mm.'"""
        scope = self._scope_of(one, size.start - one.start, size.end - one.start)
        if scope is not None and scope.kind == "example":
            self._example, self._example_ends = (scope, one.above), one.start + _EXAMPLE_GOES_ON
        elif scope is None and self._example is not None and self._example[1] == one.above and one.start < self._example_ends:
            scope = self._example[0]
        return replace(size, scope=scope)

    def _before(self, one: Statement) -> str:
        place = bisect_right(self._starts, one.start) - 2
        return self._telling[place].text if place >= 0 else ""

    def _scope_of(self, one: Statement, start: int, end: int) -> Scope | None:
        if explains(one, start, end):
            return Scope("aside", one.text[:80])
        return scope_at(one, start, end, self._spans.get(one.start, ()), self._given[one.start])

    def _scope_or_doubt(self, one: Statement, start: int, end: int) -> Scope | None:
        scope = self._scope_of(one, start, end)
        sign = None if scope else sign_of_doubt("color.allowed", "", one, start, end)
        return Scope("unsure", sign) if sign else scope

    def _doubted(self, claims: Sequence[Claim]) -> list[Claim]:
        return doubted(claims, self._statements, self._places, self._often_wrong)

    def _narrowed(self, one: Statement, read: Iterable[Claim]) -> list[Claim]:
        found = [
            claim if claim.scope else _with_scope(claim, self._scope_of(one, claim.start - one.start, claim.end - one.start))
            for claim in read
        ]
        if len(one.text.split()) <= _GOES_ON and self._last_scope is not None and self._last_block == one.block:
            found = [claim if claim.scope else replace(claim, scope=self._last_scope) for claim in found]
        self._last_block = one.block
        self._last_scope = next((claim.scope for claim in found if claim.scope and claim.scope.kind != "aside"), None)
        return found


def _with_scope(claim: Claim, scope: Scope | None) -> Claim:
    """Bleed for advertisements that bleed is bleed; a claim on spreads names spreads."""
    if scope and scope.family == "bleed-ad" and claim.path.startswith("bleed."):
        return claim
    if scope and scope.kind == "condition" and claim.path == "marks.offset_minimum" and _IF_THERE_ARE_ANY.search(scope.words):
        return claim
    if scope and scope.family == "spread-ad" and claim.path == "pages.arrangement":
        return claim
    if scope and _carries(claim, scope):
        return claim
    return replace(claim, scope=scope)


def _carries(claim: Claim, scope: Scope) -> bool:
    """Whether the entry holds for nothing else anyway: its paper, its count of pages, its plate, what a rich black is for."""
    if claim.path == "trim.scales":
        return scope.kind == "condition" and _SCALE.search(scope.words) is not None
    if claim.path == "text.black_alone":
        return scope.kind == "condition" and _BLACK_TYPE.search(scope.words) is not None
    if claim.path.startswith("papers."):
        return PAPERS.search(scope.words) is not None
    if claim.path.startswith("color.rich_black."):
        return scope.kind == "condition" and _LARGE.search(scope.words) is not None
    carried = claim.path.startswith(("margin.by_pages.", "finishes.")) and not claim.path.endswith(".required")
    return carried and scope.kind == "condition"


def _without(statement: Statement, sizes: Sequence[Size]) -> str:
    """The statement with its sizes blanked, so that '55 mm' of '85 × 55 mm' is no length of its own."""
    text = statement.text
    for one in sizes:
        start, end = one.start - statement.start, one.end - statement.start
        text = f"{text[:start]}{'§' * (end - start)}{text[end:]}"
    return text


def _outside(amounts: Sequence[Amount], spans: Sequence[tuple[int, int]]) -> list[Amount]:
    return [one for one in amounts if not any(start < one.end and one.start < end for start, end in spans)]


# --- What sizes say ---------------------------------------------------------------------------------------------------


def _of_sizes(sizes: Sequence[Size], claims: Sequence[Claim], statements: Sequence[Statement]) -> tuple[list[Claim], list[Doubt]]:
    """The trim, and what sizes say of bleed and quiet zone: of the whole text, and of each product apart."""
    sides = [claim for claim in claims if claim.path.startswith("side.") and claim.scope is None]
    general = [one for one in sizes if one.scope is None]
    size = size_from_sides(sides) if not any(one.role in ("trim", "size", "with bleed", "document") for one in general) else None
    pages = said_of_pages(statements)
    distances = [claim for claim in claims if claim.path in ("bleed.minimum", "margin.minimum")]
    found, doubts = _trim_of([*general, *([size] if size else [])], distances, pages, None)
    products = dict.fromkeys(one.scope for one in sizes if one.scope is not None and one.scope.kind == "product")
    for scope in islice(products, MOST_PRODUCTS):
        narrowed = [one for one in sizes if one.scope == scope]
        own, _ = _trim_of(narrowed, distances, pages, scope)
        found += [replace(claim, scope=scope) for claim in own]
    return found, doubts


def _trim_of(
    sizes: Sequence[Size], claims: Sequence[Claim], pages: SaidOfPages, scope: Scope | None
) -> tuple[list[Claim], list[Doubt]]:
    mine = [claim for claim in claims if claim.scope is None or claim.scope == scope]
    trim, doubts = trim_claims(sizes, pages, _said(mine, "bleed.minimum"))
    edges = _trimmed(trim)
    found = list(trim)
    if _said(mine, "bleed.minimum") is None and (derived := bleed_from_sizes(sizes, edges)):
        found.append(derived)
    if _said(mine, "margin.minimum") is None and (inner := margin_from_sizes(sizes, edges)):
        found.append(inner)
    elif not any(claim.path.startswith("margin.") for claim in mine):
        found += live_area_from_sizes(sizes, edges)
    return found, doubts


def _said(claims: Sequence[Claim], path: str) -> Fraction | None:
    """The size of a value that the text says without contradiction."""
    kept, _ = combined(claim for claim in claims if claim.path == path)
    return kept[path].size if path in kept else None


def _trimmed(trim: Sequence[Claim]) -> tuple[Fraction, Fraction] | None:
    sides = {claim.path: claim.size for claim in trim}
    width, height = sides.get("trim.width"), sides.get("trim.height")
    return (width, height) if width is not None and height is not None else None
