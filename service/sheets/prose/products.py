"""What holds for all, what for one product, and what stays open because its scope is not a product's."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from service.language.spoken import say
from service.language.wording import quoted
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.combining import agree, combined
from service.sheets.prose.documents import list_of
from service.sheets.prose.ours.lines import demand_said
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.statements import folded

MOST_DRAFTS = 20
_MOST_DOUBTS = 60


@dataclass(frozen=True)
class ForProduct:
    product: str
    """As the text names it."""
    kept: dict[str, Claim]
    """What is common with what is its own laid over it."""
    own: frozenset[str]
    """Paths that are said of it alone."""
    doubts: tuple[Doubt, ...]


def common_claims(claims: Sequence[Claim]) -> list[Claim]:
    """What the text says of everything; what each row of a table of products says alike is one of them."""
    families = dict.fromkeys(claim.scope.family for claim in claims if claim.scope and claim.scope.family.startswith("row "))
    common = [claim for claim in claims if claim.scope is None]
    if len(families) < 2:
        return common
    by_path: dict[str, list[Claim]] = {}
    for claim in claims:
        if claim.scope and claim.scope.family in families:
            by_path.setdefault(claim.path, []).append(claim)
    for mine in by_path.values():
        said_of = {claim.scope.family for claim in mine if claim.scope}
        if len(said_of) == len(families) and all(agree(claim, mine[0]) for claim in mine):
            common.append(replace(mine[0], scope=None))
    return common


_NO_PRODUCT = re.compile(
    r"\b(?:general\w*|overview|all|any|every|basic\w*|standard|guide\w*|requirements?|specifications?|specs?|artworks?|files?|set-?up"
    r"|prepar\w*|information|check ?-?lists?|notes?|tips?|supply\w*|submi\w*|technical|mechanical|instructions?|accepted"
    r"|before|how"
    r"|what|why|bleeds?|trim\w*|safe\w*|margins?|marks?|crops?|colou?rs?|cmyk|rgb|images?|pictures?|photos?|resolution|fonts?|type"
    r"|text|lines?|inks?|pdf|pages?|sizes?|formats?|dimensions?|layers?|transparen\w*|black|quality|export\w*|design\w*|print\w*"
    r"|allgemein\w*|daten\w*|datei\w*|druck\w*|anforderung\w*|hinweis\w*|\w*schnitt\w*|\w*farb\w*|\w*bild\w*|\w*schrift\w*"
    r"|\w*format\w*|seiten?|generalites?|fichiers?|consignes?|conseils?|fonds?|marges?|couleurs?|polices?|impression)\b|[0-9]|[?!]"
)
_LONGEST_NAME = 90


def of_sections(claims: Sequence[Claim], headings: Mapping[int, str]) -> list[Claim]:
    """Where sections say one thing differently, one of them of a product by name, the others are of products, too.

    `headings`: the nearest heading of a claim, by its place. 'Banners: bleed 100 mm' makes 'Vinyl: bleed 50 mm' one of vinyl.
    """
    named: dict[str, list[tuple[str, Claim]]] = {}
    for claim in claims:
        heading = headings.get(claim.start, "")
        if heading and claim.scope is not None and claim.scope.kind == "product" and claim.scope.words in heading:
            mine = named.setdefault(claim.path, [])
            mine += [(heading, claim)] if len(mine) < _MOST_VALUES else []
    ours = {
        heading
        for claim in claims
        if claim.scope is None
        and 0 < len(heading := headings.get(claim.start, "")) < _LONGEST_NAME
        and not _NO_PRODUCT.search(heading)
        and any(other != heading and not agree(claim, one) for other, one in named.get(claim.path, ()))
    }
    return [
        replace(claim, scope=Scope("product", heading, f"section {heading}"))
        if claim.scope is None and (heading := headings.get(claim.start, "")) in ours
        else claim
        for claim in claims
    ]


OF_A_PRODUCT = "of a product"
"""The family of what is unsure and said of one product only; its words name that."""
_ONE_OF_SEVERAL = "one of several"
"""A condition that the text does not put into words."""
_ALTERNATIVES = 2
_MOST_VALUES = 40
"""That are compared with each other in one section; where more are said, one of them is no value of all."""


def without_alternatives(claims: Sequence[Claim], sections: Mapping[int, int]) -> list[Claim]:
    """A value that stands in one section with two others for products or conditions is one of a list to choose from.

    `sections`: the number of the section by the place of the claim.
    """
    beside: dict[tuple[str, int], dict[str, list[Claim]]] = {}
    for claim in claims:
        apart = claim.scope is not None and claim.scope.kind in ("product", "condition") and claim.scope.family != "scale"
        if apart and claim.start in sections:
            values = beside.setdefault((claim.path, sections[claim.start]), {})
            same = values.setdefault(str(claim.value), []) if len(values) < _MOST_VALUES else values.get(str(claim.value), [])
            same += [claim] if len(same) < _ALTERNATIVES else []
    others = {place: [claim for same in values.values() for claim in same] for place, values in beside.items()}
    one_of_several = {
        (claim.start, claim.path.rsplit(".", 1)[0])
        for claim in claims
        if claim.scope is None and _is_one_of(claim, others.get((claim.path, sections.get(claim.start, -1)), ()))
    }
    return [
        claim
        if claim.scope is not None or (claim.start, claim.path.rsplit(".", 1)[0]) not in one_of_several
        else replace(claim, scope=Scope("condition", _ONE_OF_SEVERAL))
        for claim in claims
    ]


def _is_one_of(claim: Claim, others: Sequence[Claim]) -> bool:
    different = {str(other.value) for other in others if not agree(claim, other)}
    return len(different) >= _ALTERNATIVES and not any(agree(claim, other) for other in others)


def as_written(claims: Iterable[Claim], text: str) -> list[Claim]:
    """The claims with the words of their scopes in the letters of the text, which folding took from them."""
    low = folded(text)
    return [
        replace(claim, scope=replace(claim.scope, words=_written(claim.scope.words, claim.start, text, low)))
        if claim.scope is not None
        and (claim.scope.kind != "unsure" or claim.scope.family == OF_A_PRODUCT)
        and claim.scope.words not in ("", _ONE_OF_SEVERAL)
        else claim
        for claim in claims
    ]


def _written(words: str, near: int, text: str, low: str) -> str:
    """As they stand last before the claim, or first behind it; the words themselves where they stand nowhere near."""
    start = low.rfind(words, max(0, near - _BEFORE), near + _BEHIND + len(words))
    if start < 0:
        start = low.find(words, near, near + _BEFORE)
    return " ".join(text[start : start + len(words)].split()) if start >= 0 else words


_BEFORE, _BEHIND = 20_000, 120
"""Characters around the beginning of a claim where words may stand that narrow it: a heading far above, or right behind it."""


def products_of(claims: Sequence[Claim], common: Mapping[str, Claim]) -> Iterator[ForProduct]:
    """In the order of the text, those of which something is said that the text does not say of everything."""
    narrowed: dict[str, list[Claim]] = {}
    for claim in claims:
        if claim.scope is not None and claim.scope.kind == "product":
            key = folded(claim.scope.words) if claim.scope.family == "size" else claim.scope.family
            narrowed.setdefault(key, []).append(claim)
    for mine in list(narrowed.values())[:MOST_DRAFTS]:
        own, doubts = combined(mine)
        own = {path: claim for path, claim in own.items() if path not in common or not agree(claim, common[path])}
        scope = min(mine, key=lambda claim: claim.start).scope
        if own and scope is not None:
            yield ForProduct(scope.words, {**common, **own}, frozenset(own), tuple(doubts))


def left_open(claims: Sequence[Claim], common: Mapping[str, Claim]) -> Iterator[Doubt]:
    """What is said of a part only, under a condition, or in an example, and not of everything."""
    asked: set[tuple[str, str]] = set()
    for claim in sorted(claims, key=lambda one: one.start):
        scope = claim.scope
        if scope is None or len(asked) >= _MOST_DOUBTS or (claim.path, folded(scope.words)) in asked:
            continue
        if claim.path in common and agree(claim, common[claim.path]):
            continue
        asked.add((claim.path, folded(scope.words)))
        value = quoted(demand_said(claim.path, claim.value), 200)
        if scope.kind == "product" or scope.family == OF_A_PRODUCT:
            if claim.path in common:
                continue
            question = say(
                "{value} was read in what is said of one product only ({part}): is it read rightly, and does it hold "
                "here as well?",
                value=value, part=scope.words,
            )
        elif scope.kind == "unsure" or scope.words == _ONE_OF_SEVERAL:
            question = say("{value} can be read here, and not for sure: is it asked of this sheet?", value=value)
        elif scope.kind == "example":
            question = say("{value} stands in an example: is it asked of this sheet?", value=value)
        else:
            question = say(
                "{value} is said on a condition ({condition}): does it hold for this sheet?",
                value=value, condition=quoted(scope.words, 80),
            )
        yield Doubt(claim.path, question, claim.start, claim.end, None if list_of(claim.path) else claim.value)
