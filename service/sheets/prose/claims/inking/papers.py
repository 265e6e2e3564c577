"""What papers change: the most ink and the most pages that a text says of each."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.qualifiers import bound_of, regions
from service.sheets.prose.words.statements import Statement

_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = (
    (
        "uncoated",
        re.compile(
            r"\buncoated\b|\bungestrichen\w*|\bnaturpapier\w*|\boffsetpapier\w*|\bnon[- ]couches?\b"
            r"|\bpapiers? offset\b"
        ),
    ),
    ("coated", re.compile(r"(?<!non )(?<!non-)\bcouches?\b|\bcoated\b|(?<!un)\bgestrichen\w*|\bbilderdruck\w*")),
    ("newsprint", re.compile(r"\bnewsprint\b|\bzeitungspapier\w*|\bpapier journal\b")),
    ("recycled", re.compile(r"\brecycled\b|\brecycling-?papier\w*|\brecycle\b")),
)
PAPERS = re.compile(r"coated|gestrichen|papier|paper|couche|newsprint|recycl|bilderdruck|gsm|g/m|[0-9] ?gr?\b|stock|board")
_ON = re.compile(r"\b(?:on|auf|sur|for|fur|pour|bei)\s(?:\w+ ){0,2}$")
_PAPER_FOLLOWS = re.compile(r"\w* ?(?:stocks?\b|papers?\b|papiere?\w*|sheets\b|grades\b|:)")
"""'We print to this condition, uncoated, at most 280 %' tells no papers apart."""
_WEIGHT = re.compile(r"\b(?P<g>[0-9]{2,3}) ?(?:gsm\b|g/m(?:²|2)|g/qm\b|gr?\b(?! ?/))")
_INK = re.compile(
    r"\btac\b|\btic\b|\binks?\b|\bcoverage\b|\bfarbauftrag\w*|\bfarbdeckung\w*|\bflachendeckung\w*|\btonwertsumme\w*"
    r"|\bencrage\b|\btaux d'encr\w*|\bencres?\b"
)
_PAGES = re.compile(
    r"\b(?:max(?:imum|imal)?\.?|up to|at most|no more than|hochstens|bis zu|jusqu'a|au plus"
    r"|maximum(?: de)?)\s(?P<n>[0-9]{1,4})\s?(?:pages?|seiten?|pp)\b"
    r"|\b(?P<m>[0-9]{1,4})\s?(?:pages?|seiten?)\s(?:max(?:imum|imal)?\b|at most|hochstens|au maximum|au plus)"
)


def read_papers(statement: Statement, amounts: Sequence[Amount], words: str) -> tuple[list[Claim], set[int]]:
    """`words`: the sentence as it was written, for the names. The claims, and where the percentages stand."""
    text = statement.text
    found = list(_most_pages(statement, words))
    used: set[int] = set()
    if any(_INK.search(one) for one in (text, statement.label, statement.heading)):
        percents = [one for one in amounts if one.kind == "percent"]
        for amount, (first, end) in zip(percents, regions(text, [(one.start, one.end) for one in percents]), strict=True):
            paper = _paper_in(text, first, end) or _of_the_row(statement)
            bound = bound_of(text[first : amount.start], text[amount.end : end], statement.label)
            if _ADVISED.search(text[: amount.start]):
                continue  # what is better is no most
            if paper is None or amount.high is not None or not 150 <= amount.low <= 400 or bound in ("minimum", "preferred"):
                continue
            entry, name = paper[0], words[paper[1] : paper[2]] if paper[2] else paper[0]
            place = (statement.start + amount.start, statement.start + amount.end)
            found.append(Claim(f"papers.{entry}.name", name.strip().lower(), *_place(statement, paper, place)))
            found.append(Claim(f"papers.{entry}.ink_limit", amount.low_written, *place, size=amount.low))
            used.add(amount.start)
    return found, used


_ADVISED = re.compile(
    r"\b(?:recommend\w*|advis\w*|empf[eio]\w*hl\w*|conseill\w*|recommand\w*|preconis\w*|suggest\w*"
    r"|ideal\w*)\b"
)


def _paper_in(text: str, first: int, end: int) -> tuple[str, int, int] | None:
    """The one kind of paper, and its word; None where there is none or several."""
    said = [(kind, *match.span()) for kind, pattern in _KINDS if (match := pattern.search(text, first, end))]
    if len(said) != 1:
        return None
    _, start, last = said[0]
    in_brackets = text[start - 1 : start] == "(" and text[last : last + 1] == ")"
    narrows = in_brackets or _ON.search(text[first:start]) or _PAPER_FOLLOWS.match(text[last:end])
    return said[0] if narrows else None


def _of_the_row(statement: Statement) -> tuple[str, int, int] | None:
    kinds = [kind for kind, pattern in _KINDS if pattern.search(statement.row)]
    return (kinds[0], 0, 0) if len(kinds) == 1 else None


def _place(statement: Statement, paper: tuple[str, int, int], otherwise: tuple[int, int]) -> tuple[int, int]:
    return (statement.start + paper[1], statement.start + paper[2]) if paper[2] else otherwise


def _most_pages(statement: Statement, words: str) -> Iterator[Claim]:
    """'At most 64 pages on 170 g/m²': weights are papers too."""
    text = statement.text
    counts = list(_PAGES.finditer(text))
    for match, (first, end) in zip(counts, regions(text, [one.span() for one in counts]), strict=True):
        weights = list(_WEIGHT.finditer(text, first, end))
        paper = _paper_in(text, first, end)
        if len(weights) == 1:
            entry, start, last = f"{weights[0]['g']}g", *weights[0].span()
        elif paper is not None and not weights:
            entry, start, last = paper
        else:
            continue
        place = (statement.start + match.start(), statement.start + match.end())
        yield Claim(f"papers.{entry}.name", words[start:last].strip(), statement.start + start, statement.start + last)
        yield Claim(f"papers.{entry}.maximum_pages", int(match["n"] or match["m"]), *place)
