"""The gate before a draft: a value is drafted only where its sentence is understood as a whole; any doubt makes it a question.

A draft that asks is better than a draft that is wrong. What counts as a doubt: `signs`.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.combining import agree
from service.sheets.prose.products import OF_A_PRODUCT
from service.sheets.prose.signs import sign_of_doubt
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.statements import Statement

OFTEN_WRONG = re.compile(
    r"trim\.(?:width|height)|marks\.crop_marks|images\.contone_ppi\.preferred|color\.(?:spots|tint)|text\.black_alone"
    r"|bleed\.(?!minimum|preferred|level)"
)
"""Keys that are drafted only from a stretch that says little else: of what the grammar made of them at its first look at 110
published texts more than one in four were wrong, and 7 of 268 of all other keys. (Standards were among them then;
of the next 198 texts 11 of 12 were right.)"""
NONE = re.compile(r"(?!)")


def doubted(
    claims: Sequence[Claim], statements: Sequence[Statement], starts: Sequence[int], often_wrong: re.Pattern[str]
) -> list[Claim]:
    """The claims; those whose sentence is not understood as a whole are unsure, and so is what hangs together with one of them.

    `starts`: the places of the statements.
    """
    signs: dict[int, str] = {}
    for claim in claims:
        if _is_gated(claim):
            one = statements[bisect_right(starts, claim.start) - 1]
            sign = sign_of_doubt(
                claim.path, claim.value, one, claim.start - one.start, claim.end - one.start,
                of_a_product=claim.scope is not None,
            )
            if sign is None and claim.scope is None and often_wrong.match(claim.path) and not _by_itself(claim, one):
                sign = "often wrong"
            signs |= {id(claim): sign} if sign else {}
    together = {(_one_demand(claim), claim.start): signs[id(claim)] for claim in claims if id(claim) in signs}
    return _contradicted(
        [
            replace(claim, scope=_unsure(claim, sign))
            if _is_gated(claim) and (sign := signs.get(id(claim)) or together.get((_one_demand(claim), claim.start)))
            else claim
            for claim in claims
        ]
    )


def _is_gated(claim: Claim) -> bool:
    return claim.scope is None or claim.scope.kind == "product"


def _unsure(claim: Claim, sign: str) -> Scope:
    """Of one product it stays that product's."""
    return Scope("unsure", sign) if claim.scope is None else Scope("unsure", claim.scope.words, OF_A_PRODUCT)


def _contradicted(claims: Sequence[Claim]) -> list[Claim]:
    """A value is asked about, too, where a sentence in doubt gives its key another."""
    open_ones: dict[str, list[Claim]] = {}
    for claim in claims:
        unsure = claim.scope is not None and (claim.scope.kind, claim.scope.family) == ("unsure", "") and claim.weight > 1
        if unsure and len(open_ones.get(claim.path, ())) < _FEW:
            open_ones.setdefault(claim.path, []).append(claim)
    against = {
        (_one_demand(claim), claim.start)
        for claim in claims
        if claim.scope is None and any(not agree(claim, other) for other in open_ones.get(claim.path, ()))
    }
    return [
        replace(claim, scope=Scope("unsure", "contradicted"))
        if claim.scope is None and (_one_demand(claim), claim.start) in against
        else claim
        for claim in claims
    ]


_FEW = 8
"""Sentences in doubt of one key: more are no better reason."""


def _one_demand(claim: Claim) -> str:
    """What is taken whole or not at all: a size, the recipe of a black, an entry of a list."""
    path = claim.path.split(".")
    if claim.path.startswith(("color.rich_black.", "papers.", "finishes.", "margin.live_area.")):
        return ".".join(path[:2])
    return path[0] if path[0] == "trim" else claim.path


_MOST_WORDS = 5
_A_WORD = re.compile(r"[a-z][a-z'-]{2,}")
_THE_TRIM = re.compile(
    r"\b(?:finish\w*|final|trim\w*|net|cut) (?:\w+ )?(?:size|format|dimension)|\bendformat|\bendgro\w+|\bformat (?:fini|rogne)"
    r"|\btrim(?:med)? to\b|^\W*(?:sizes?|formate?|dimensions?|abmessung\w*|ma(?:ss|ß)e?)\b"
)


def _by_itself(claim: Claim, one: Statement) -> bool:
    """'Trim size: 85 × 55 mm', 'No crop marks': a stretch of few words, which says what a size is the size of."""
    first = max((found.end() for found in _STOPS.finditer(one.text, 0, max(0, claim.start - one.start))), default=0)
    last = _STOPS.search(one.text, min(claim.end - one.start, len(one.text)))
    said = one.text[first : last.start() if last else None]
    if claim.path.startswith("trim.") and not any(map(_THE_TRIM.search, (one.label, said))):
        return False
    return len(_A_WORD.findall(said)) <= _MOST_WORDS


_STOPS = re.compile(r"[,;]\s|\.\s")
