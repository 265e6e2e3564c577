"""Bleed and safety margin at single edges, and margins that grow with the count of pages.

One or two edges beside a number make it theirs; three or four of them, or left and right, are said of every side. Left and right
have no key of their own: odd pages are bound at the left, even ones at the right.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.topics import CONTENT
from service.sheets.prose.words.amounts import Amount, millimetres_of, same_said_twice
from service.sheets.prose.words.qualifiers import UNNEEDED_AT_AN_EDGE, bound_of, regions
from service.sheets.prose.words.statements import Statement

_EDGES: tuple[tuple[str, re.Pattern[str]], ...] = (
    (
        "binding",
        re.compile(
            r"\bbinding (?:edges?|sides?|margins?)\b|\b(?:on|at|along|in|to|near|towards) the (?:binding|spine|gutter)\b"
            r"|\bgutters?\b(?: margins?)?"
            r"|\bspine (?:edge|side|margin)s?\b|\binside (?:edge|margin)s?\b(?! or (?:an? )?\W?safe)|\bbundsteg\w*"
            r"|\bbundseite\b|\b(?:im|am"
            r"|zum) bund\b|\binnen(?:rand|steg|seite)\b"
            r"|\bheftrand\b|\((?:cote )?(?:de )?(?:la )?(?:reliure|dos|pliure)\)|\bmarges? (?:de |cote )?(?:reliure|dos)\b"
            r"|\bcote (?:de la )?(?:reliure"
            r"|dos)\b|\b(?:au"
            r"|vers le) dos\b|\bpetits? fonds?\b"
        ),
    ),
    (
        "outer",
        re.compile(
            r"\bfore-? ?edges?\b|\bouter (?:edge|margin|side)\b(?! of (?:the|your|an?|each) (?!pages?\b))"
            r"|\boutside (?:edge|margin)s?\b|\bau(?:ss|ß)en(?:rand|steg"
            r"|seite)\b|\bvorderschnitt\b"
            r"|\bmarges? exterieures?\b|\b(?:cote|bord) exterieur\b|\bgrands? fonds?\b|\bcote (?:de )?(?:gouttiere|tranche)\b"
        ),
    ),
    (
        "head",
        re.compile(
            r"\bhead(?: margin| edge)?\b(?!ing|line)|(?<!on )\btop\b(?: edges?| margins?)?(?! of\b| quality| priority)"
            r"|(?<!siehe )(?<!wie )\boben\b(?! genannt| beschrieben)"
            r"|\bkopf(?:steg|rand|seite)?\b|\b(?:en |marge de )?tete\b|\ben haut\b|\b(?:marge )?(?:du )?haute?\b"
        ),
    ),
    (
        "foot",
        re.compile(
            r"\bfoot(?: margin| edge)?\b|\btail\b|\bbottom\b(?: edges?| margins?)?|(?<!siehe )(?<!wie )\bunten\b(?! genannt"
            r"| beschrieben)|\bfu(?:ss|ß)(?:steg|rand|seite)?\b"
            r"|\b(?:en |marge de )?pied\b|\ben bas\b|\b(?:marge )?(?:du )?bas(?:se)?\b"
        ),
    ),
)
_BARE: tuple[tuple[str, str], ...] = (
    ("binding", r"(?:inside|inner|innen|interieure?|a l'interieur)"),
    ("outer", r"(?:outside|outer|au(?:ss|ß)en|exterieure?|a l'exterieur)"),
)
"""Right beside the number, where another edge is named too: alone they are prepositions, or the whole margin."""
_SIDES = re.compile(
    r"\b(?:(?:three|four|3|4) (?:\w+ )?(?:edges|sides)|left|right|links|rechts|gauche|droite|sides|seitlich|cotes"
    r"|all (?:four )?(?:sides|edges)|allen seiten|rundum"
    r"|tous les bords|(?:jeder?|allen?|each|every|all|any|chaque|toutes les|tous les) (?:\w+ )?(?:outer|outside|au(?:ss"
    r"|ß)en|exterieur)\w*)\b"
)
_BLEED = re.compile(r"\bbleeds?\b|(?:be|an)schnitt|\bfonds?[ -]perdus?\b|\bdebords?\b")
_MARGIN = re.compile(
    r"\bmargins?\b|\bsafe\w*|\bquiet\b|\bclear(?:ance)?\b|\w*rand\b|\w*rander\b|\w*steg\b|\babstand|\bmarges?\b|\bsecurite\b"
    r"|sicherheits"
)
_KEEPS = re.compile(
    r"\b(?:keep|leave|free|clear|away|at least|frei\w*|lassen|halten|laisse[rz]|libre|gardez|minimum|min|mindestens|au moins)\b"
)
_ELSEWHERE = re.compile(
    r"\bfolds?\b|\bcreas\w*|\bfalz\w*|\bplis?\b|\bbar ?codes?\b|\bglu\w*|\bkleb\w*|\bcolle\b|\bstapl\w*|\bpunch\w*|\bholes?\b"
    r"|\bloch\w*|\btrous?\b|\bcreep\b|\bzuwachs\b"
    r"|\bmarks?\b|\bmarken\b|\breperes?\b|\bborders?\b|\bframes?\b|\brahmen\b|\bcadres?\b|\bthick\w*|\bwidth of the spine\b"
    r"|\bspine width\b|\bruckenbreite\b|\bflaps?\b|\bwindow\b|\bpocket\b|\bpole\b"
)
_NO_BLEED_HERE = re.compile(
    r"\b(?:no bleed|kein\w* (?:be|an)schnitt\w*|ohne (?:be|an)schnitt\w*|(?:pas de|sans) (?:fonds? perdus?"
    r"|debord))\b[^.;,]{0,30}"
)
_STEP = re.compile(
    r"\b(?P<over>over|above|more than|uber|mehr als|plus de|au-dela de)\s(?P<n>[0-9]{2,4})\s?(?:pages?|seiten?|pp)\b"
    r"|\b(?:from|ab|a partir de|des|starting at)\s(?P<from>[0-9]{2,4})\s?(?:pages?|seiten?|pp)\b"
    r"|\b(?P<low>[0-9]{2,4})\s?(?:-|to|bis|a)\s?[0-9]{2,4}\s?(?:pages?|seiten?|pp)\b"
    r"|\b(?P<least>[0-9]{2,4})\s?(?:pages?|seiten?|pp)\s(?:or more|and (?:more|above|up|over)|oder mehr|und mehr|ou plus"
    r"|et plus)\b"
)
_SENSIBLE_MM = (0, 60)


class _Edged(NamedTuple):
    amount: Amount
    edges: tuple[str, ...]
    step: re.Match[str] | None
    stretch: tuple[int, int]


def read_edges(statement: Statement, amounts: Sequence[Amount]) -> tuple[list[Claim], set[int]]:
    """The claims, and where the lengths stand that are no margin or bleed of every side."""
    found = list(_no_bleed_at_an_edge(statement))
    used: set[int] = set()
    text = statement.text
    for one in _edged(statement, amounts):
        block = _block_of(statement, text[slice(*one.stretch)], one.edges)
        if block is None or not _SENSIBLE_MM[0] <= millimetres_of(one.amount) <= _SENSIBLE_MM[1]:
            continue
        if one.step is not None and block == "bleed":
            continue
        found += _claims(statement, one, block)
        used.add(one.amount.start)
    return found, used


def _edged(statement: Statement, amounts: Sequence[Amount]) -> Iterator[_Edged]:
    """Numbers that are said of one or two edges, or of so many pages."""
    for gone in (_NO_BLEED_HERE, UNNEEDED_AT_AN_EDGE):
        statement = replace(statement, text=gone.sub(lambda one: "-" * len(one.group()), statement.text))
    text = statement.text
    spans = [(one.start, one.end) for one in amounts]
    before: Amount | None = None
    last: tuple[str, ...] = ()
    for amount, (first, end) in zip(amounts, regions(text, spans), strict=True):
        again = before is not None and (same_said_twice(text, before, amount) or not text[before.end : amount.start].strip())
        before = amount
        if again or amount.kind != "length" or _ELSEWHERE.search(text, first, end):
            continue
        step = _STEP.search(text, first, end) or _STEP.search(statement.row)
        edges = _edges_of(statement, amount, first, end)
        if step is not None and not edges and not _MARGIN.search(text, first, end):
            edges = last  # 'gutter 10 mm, from 151 pages 13 mm'
        last = edges
        if step is not None or 1 <= len(edges) <= 2:
            yield _Edged(amount, edges if len(edges) <= 2 else (), step, (first, end))


_A_LABEL_OF_AN_EDGE = re.compile(
    r"(?:inside|inner|innen|interieure?|outside|outer|au(?:ss|ß)en|exterieure?)\s?[:=]?\s?(?:min\.? |mind\. )?[0-9]"
)
"""A line of a list of margins."""


def _edges_of(statement: Statement, amount: Amount, first: int, end: int) -> tuple[str, ...]:
    text = statement.text
    named = [edge for edge, pattern in _EDGES if pattern.search(text, first, end)]
    some = any(pattern.search(text) for _, pattern in _EDGES) or _A_LABEL_OF_AN_EDGE.match(text)
    if some or all(re.search(rf"\b{word}\b", text) for _, word in _BARE):
        named += [
            edge
            for edge, word in _BARE
            if edge not in named
            and (
                re.search(
                    rf"\b{word}\b\s?[:=]?\s?(?:min\.? |mind\. |mindestens |at least |au moins |margin )?$",
                    text[first : amount.start],
                )
                or (first == 0 and re.match(rf"{word}\b", text) is not None)
                or re.match(rf"\s(?:on the |at the )?{word}\b(?! the| of| edge)", text[amount.end : end])
            )
        ]
    if not named and not _SIDES.search(text, first, end):
        named = [edge for edge, pattern in _EDGES if pattern.search(statement.label)]
    if _SIDES.search(text, first, end):
        return ()
    return tuple(dict.fromkeys(named))


def _block_of(statement: Statement, stretch: str, edges: tuple[str, ...]) -> str | None:
    for words in (stretch, statement.text, statement.label, statement.opening, *reversed(statement.above)):
        bleed, margin = _BLEED.search(words), _MARGIN.search(words)
        if bleed and margin:
            return None if words != stretch else "bleed" if bleed.start() < margin.start() else "margin"
        if bleed or margin:
            return "bleed" if bleed else "margin"
        if words is statement.text and CONTENT.search(words) and _KEEPS.search(words):
            return "margin"
        if "binding" in edges and re.search(r"\b(?:gutter|bundsteg|petit fond)", words):
            return "margin"
    return None


def _claims(statement: Statement, one: _Edged, block: str) -> Iterator[Claim]:
    text, amount = statement.text, one.amount
    bound = bound_of(text[one.stretch[0] : amount.start], text[amount.end : one.stretch[1]], statement.label)
    if bound in ("maximum", "below"):
        return
    place = (statement.start + amount.start, statement.start + amount.end)
    recommended = bound == "preferred"
    above = block
    if one.step is not None:
        pages = _pages_of(one.step)
        above = f"margin.by_pages.{pages}"
        yield Claim(f"{above}.from", pages, *place)
    for key in one.edges or ("minimum",):
        yield Claim(f"{above}.{key}", amount.low_written, *place, size=millimetres_of(amount), recommended=recommended)


def _pages_of(step: re.Match[str]) -> int:
    if step["over"]:
        return int(step["n"]) + 1
    return int(step["from"] or step["low"] or step["least"])


def _no_bleed_at_an_edge(statement: Statement) -> Iterator[Claim]:
    for match in _NO_BLEED_HERE.finditer(statement.text):
        edges = [edge for edge, pattern in _EDGES if pattern.search(match.group())]
        for edge in edges if len(edges) == 1 else ():
            yield Claim(f"bleed.{edge}", "0 mm", statement.start + match.start(), statement.start + match.end(), size=Fraction(0))
