"""Counts of pages."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.numbers import NUMBER_WORD, whole_number
from service.sheets.prose.words.statements import Statement

_PAGE = r"(?:pages?|seiten?|pp\b)"
_N = NUMBER_WORD
_ABOUT_PAGES = re.compile(
    r"\bpages?\b|\b\w{0,10}seiten?\w*|\bpage count\b|\bseitenzahl\w*|\bumfang\b|\bextent\b|\bpagination\b|\bpp\b"
)
_FEATURE_LABEL = re.compile(
    r"^(?:(?:q: ?)?how many |number of |no\. of |total )?(?:inner |inside )?(?:pages?|page count|page numbers?|extent|seitenzahl"
    r"|seiten(?:anzahl|umfang)?|umfang|anzahl (?:der )?seiten|nombre de pages|pagination|number of pages)\b"
)

_MULTIPLE = re.compile(
    rf"\b(?:multiples? of|divisible by|divided by|divides? by|dividable by|se divise(?:nt)? par|steps of|groups of|increments of"
    rf"|sets of|in|by|vielfache\w* von|teilbar durch|durch|in|multiples? de|divisible par|par|schritten von)\s(?P<n>{_N}|fours)\b"
    r"(?P<after>\s?(?:teilbar|er-schritt)?)|\b(?P<er>[0-9]{1,2})er-?\s?schritt\w*|\b(?:by|in) (?P<fours>fours)\b"
)
_SURE_MULTIPLE = re.compile(
    r"\bmultiples?\b|\bdivisible\b|\bdivided\b|\bdivise(?:nt)?\b|\bdivid\w+\b|\bsteps\b|\bincrements\b|\bgroups\b|\bsets\b"
    r"|\bvielfache\w*|\bteilbar\b|\bschritt\w*|\b(?:by|in) fours\b"
)
_RANGE = re.compile(
    rf"\b(?:(?:from|between|von|zwischen|de|entre)\s)?(?P<low>{_N})\s?(?:{_PAGE}\s)?(?:-|(?:up )?to|bis|a|and|und"
    rf"|et)\s?(?P<high>{_N})\s?-?(?P<page>{_PAGE})?\b"
)
_EITHER = re.compile(
    rf"\b(?P<low>{_N})\s?(?:{_PAGE}\s?)?(?:\([^()]{{0,30}}\)\s?)?(?:or|oder|ou"
    rf")\s?(?P<high>{_N})\s?-?(?P<page>{_PAGE})\b|\b(?:pages?|seiten(?:zahl)?|page count"
    rf"|nombre de pages)\s?[:|]\s?(?P<low2>{_N})\s?(?:\([^()]{{0,30}}\)\s?)?(?:or|oder|ou|/|,)\s?(?P<high2>{_N})\b"
)
_LIST = re.compile(
    rf"\b(?P<list>[0-9]{{1,3}}(?:\s?,\s?[0-9]{{1,3}}){{1,8}}\s?,?\s?(?:or|and|oder|und|ou|et)\s?[0-9]{{1,3}})\s?-?{_PAGE}\b"
)
_LEAST = re.compile(
    rf"\b(?:min(?:imum|destens|imal)?\b\.?|mind\b\.?|at least|no fewer than|not fewer than|no less than|wenigstens"
    rf"|au moins|minimum)\s?(?:of |is |de |:\s?|\|\s?)?(?P<n>{_N})\b|\b(?P<n2>[0-9]{{1,4}})\s?(?:{_PAGE}\s)?(?:minimum"
    rf"|min\b|at (?:the )?least|or more|au minimum|mindestens|oder mehr|ou plus|and up)"
)
_MOST = re.compile(
    rf"\b(?:max(?:imum|imal)?\b\.?|at most|up to|no more than|not more than|not exceed(?:ing)?|hochstens|bis zu"
    rf"|nicht mehr als|au plus|jusqu'a|maximum|maximal|pas (?:depasser|exceder|plus de))\s?(?:of |is |de |:\s?"
    rf"|\|\s?)?(?P<n>{_N})\b"
    rf"|\b(?P<n2>[0-9]{{1,4}})\s?(?:{_PAGE}\s)?(?:maximum|max\b|or fewer|or less|au maximum|maximal|hochstens|at (?:the )?most"
    r"|nicht (?:uberschreiten|ubersteigen))"
)
_EXACT = re.compile(
    rf"\b(?:exactly|exakt|genau|exactement|contains?|containing|consists? of|with|has|have|of|be|as|mit|de|in|enthalt"
    rf"|a|an|contient|comporte|is|comprising|comprises|umfasst|aus|send|supply|need|want)\s(?:a |an |exactly |genau "
    rf"|exactement |only |nur )?(?P<n>{_N})\s?-?{_PAGE}\b(?! (?:per|pro|each|par|spread|long))"
)
_LABELLED = re.compile(
    rf"\b(?:pages?|page count|number of pages|seiten(?:zahl|umfang|anzahl)?|umfang|nombre de pages|anzahl seiten"
    rf"|extent)(?:\s?[:|]\s?|\s{{2,40}})(?:exactly |genau )?(?P<n>{_N})(?:\s{_PAGE})?\s?(?:$|[.,;(](?![0-9]))"
)
_FILE_OF = re.compile(rf"\b(?P<n>{_N})[ -](?:page|seitige[sn]?)\s?-?(?:pdf|file|document|datei|dokument)")
_EVEN = re.compile(r"\beven (?:number(?!ed)|count|page)|\bgerade (?:seiten|an)?zahl\w*|\bnombre pair\b|\bdoit etre pair\b"
    r"|\bmuss gerade sein\b|\bgeradzahlig\w*")
_IN_A_LIST = re.compile(rf"[,;]\s(?P<n>{_N})\s?-?{_PAGE}(?=[,;.)]|$)")
_ALONE = re.compile(
    rf"(?P<n>{_N})\s?-?{_PAGE}(?: only)?\s?(?:\([^()]*\)|[,:] (?:front|outside|inside|recto)\b[^.;]{{0,30}})?[.,;]?"
)
_SIDED = re.compile(rf"(?P<n>{_N})\s?-?{_PAGE}\b")
_SIDES = re.compile(
    r"\b(?:single|one|double|two|both)[- ]?-?sided?s?\b|\beinseitig\w*|\b(?:beid|zwei|doppel)seitig\w*|\brecto\b"
    r"|\bfront\b|\bvorder\w*"
)
_ONE_SIDE, _TWO_SIDES = (
    re.compile(r"\b(?:single|one|1)[- ]?-?sided?\b|\beinseitig\w*|\brecto (?:seul|simple)\b"),
    re.compile(r"\b(?:double|two|2|both)[- ]?-?sided?s?\b|\b(?:beid|zwei|doppel)seitig\w*|\brecto[ /-]?verso\b"),
)
_EDGES_OF_A_PAGE = re.compile(rf"\b(?:an|auf|allen?|rundum|umlaufend)\s(?:allen |den )?{_N}\s?seiten\b")
_ORDINAL = re.compile(
    rf"\b(?:pages?|seiten?|pp\.?)\s(?:no\.? |nr\.? )?(?:[0-9]{{1,3}}|one|two|three|eins|zwei|drei|un"
    rf"|deux)\b(?:\s?(?:and|und|et|-|to|bis|a)\s?(?:[0-9]{{1,3}}|two|three|zwei|deux)\b)?(?!\s?{_PAGE})"
)
_PART = re.compile(
    r"\bcovers?\b|\bumschlag\w*|\bcouverture\b|\bper sheet\b|\bpro bogen\b|\bpar feuille\b|\ba sheet\b|\beach sheet\b"
    r"|\bblank\b|\bvakat\w*|\bspreads? of\b|\bif\b|\bwenn\b|\bextra\b|\bsections?\b|\binner pages\b|\bposters?\b"
)

_SUITS = re.compile(
    r"\b(?:ideale?s?|perfect|geeignet|suitable|convient|adaptee?s?|parfaite?s?) (?:for|fur|pour|aux?)\b"
    r"|\bfur\b[^.;]{0,60}\bgeeignet\b"
)
"""'Perfect for small catalogues (8 to 48 pages)' says what a binding is good for."""
def read_page_counts(statements: Sequence[Statement]) -> list[Claim]:
    """Without their scopes; a count by sides needs the whole text."""
    claims: list[Claim] = []
    for one in statements:
        of_a_part = _PART.search(one.text) and not _MULTIPLE.search(one.text)
        if _is_about_pages(one) and not of_a_part and not _SUITS.search(one.text):
            claims += _counts(one)
    ranged = any(claim.path in ("pages.minimum", "pages.maximum", "pages.multiple_of") for claim in claims)
    claims = [claim for claim in claims if not (ranged and claim.path == "pages.allowed")]
    return claims if ranged else [*claims, *_by_sides(statements, claims)]


def _is_about_pages(one: Statement) -> bool:
    return any(_ABOUT_PAGES.search(words) for words in (one.text, one.label)) or _FEATURE_LABEL.search(one.heading) is not None


def _counts(one: Statement) -> Iterator[Claim]:
    text = one.text
    kept = _blanked(text, [*_ORDINAL.finditer(text), *_EDGES_OF_A_PAGE.finditer(text)])
    for match in _MULTIPLE.finditer(kept):
        if not (_SURE_MULTIPLE.search(match.group()) or match["er"] or match["fours"]):
            continue
        number = 4 if match["fours"] or match["n"] == "fours" else whole_number(match["n"] or match["er"])
        if number and 2 <= number <= 64:
            yield _claim(one, match, "pages.multiple_of", number)
        kept = _blanked(kept, [match])
    if even := _EVEN.search(kept):
        yield _claim(one, even, "pages.multiple_of", 2)
    if several := _LIST.search(kept):
        counts = [int(number) for number in re.findall(r"[0-9]+", several["list"])]
        yield _claim(one, several, "pages.allowed", list(dict.fromkeys(counts)))
        return
    if (either := _EITHER.search(kept)) and (pair := _pair(either["low"] or either["low2"], either["high"] or either["high2"])):
        yield _claim(one, either, "pages.allowed", list(pair))
        return
    labelled = _FEATURE_LABEL.search(text) or _FEATURE_LABEL.search(one.label) or _FEATURE_LABEL.search(one.heading)
    span = _RANGE.search(kept)
    if span and (span["page"] or labelled) and (pair := _pair(span["low"], span["high"])):
        if pair[1] - pair[0] == 1:
            yield _claim(one, span, "pages.allowed", list(pair))
        else:
            yield _claim(one, span, "pages.minimum", pair[0])
            yield _claim(one, span, "pages.maximum", pair[1])
        return
    yield from _bounds(one, kept, labelled is not None)


def _bounds(one: Statement, kept: str, labelled: bool) -> Iterator[Claim]:
    found = False
    least, most = _LEAST.search(kept), _MOST.search(kept)
    near = labelled or bool(_MULTIPLE.search(one.text)) or bool(_EVEN.search(one.text))
    both = any(_page_beside(kept, match) for match in (least, most) if match)
    for match, path in ((least, "pages.minimum"), (most, "pages.maximum")):
        if match and (near or (least and most and both) or _page_beside(kept, match)) and not _unit_beside(kept, match):
            number = whole_number(match["n"] or match["n2"])
            if number:
                found = True
                yield _claim(one, match, path, number)
    if found or _MULTIPLE.search(one.text):
        return
    kept = _blanked(kept, _FROM_SO_MANY.finditer(kept))
    exact = (
        _EXACT.search(kept)
        or _LABELLED.search(kept)
        or _ALONE.fullmatch(kept)
        or _FILE_OF.search(kept)
        or _IN_A_LIST.search(kept)
    )
    if exact and not _SIDES_CONDITION.search(one.text) and (number := whole_number(exact["n"])):
        yield _claim(one, exact, "pages.allowed", [number])


_FROM_SO_MANY = re.compile(
    r"\b(?:a partir de|des|ab|plus de|mehr als|uber|jusqu'a|bis zu|(?:ein )?druckbogen (?:umfasst|hat|enthalt"
    r"|besteht aus)) [0-9]{1,4} (?:pages?|seiten)\b"
)
_SIDES_CONDITION = re.compile(
    r"\b(?:single|one|double|two|both)[- ]?-?sided?s?\b[^.;]{0,60}\bpages?\b|\b(?:ein|beid|zwei|doppel)seitig\w*"
    r"|\bfor (?:two|both) sides\b|\brecto[ /-]?verso\b"
)


def _page_beside(text: str, match: re.Match[str]) -> bool:
    return (
        re.match(
            rf"\s?-?{_PAGE}\b|\s(?:\w+ )?{_PAGE}\b",
            text[match.end() :],
        )
        is not None
        or re.search(_PAGE, match.group()) is not None
    )


def _unit_beside(text: str, match: re.Match[str]) -> bool:
    return re.match(r"\s?(?:mm|cm|in\b|\"|pt|dpi|ppi|%|[kmg]b|[mg]o\b|[.,][0-9])", text[match.end() :]) is not None


def _pair(low: str, high: str) -> tuple[int, int] | None:
    first, second = whole_number(low), whole_number(high)
    return (first, second) if first and second and 0 < first < second <= 2000 else None


def _claim(one: Statement, match: re.Match[str], path: str, value: int | list[int]) -> Claim:
    return Claim(path, value, one.start + match.start(), one.start + match.end())


def _blanked(text: str, matches: Iterable[re.Match[str]]) -> str:
    for match in matches:
        text = f"{text[: match.start()]}{'_' * (match.end() - match.start())}{text[match.end() :]}"
    return text


def _by_sides(statements: Sequence[Statement], claims: Sequence[Claim]) -> Iterator[Claim]:
    """'Single-sided: one page. Double-sided: two pages.' takes both counts."""
    one_side = _sided(statements, _ONE_SIDE)
    two_sides = _sided(statements, _TWO_SIDES)
    if one_side and two_sides and not any(claim.path == "pages.allowed" for claim in claims) and one_side[0] != two_sides[0]:
        counts = sorted((one_side[0], two_sides[0]))
        first, last = sorted((one_side[1], two_sides[1]), key=lambda place: place[0])
        yield Claim("pages.allowed", counts, first[0], max(last[1], first[1]))


def _sided(statements: Sequence[Statement], sides: re.Pattern[str]) -> tuple[int, tuple[int, int]] | None:
    for one in statements:
        match = sides.search(one.text)
        if match is None:
            continue
        counts = [
            (count, abs(count.start() - match.start()))
            for count in _SIDED.finditer(one.text)
            if not re.match(r"[0-9a-z]+\s?-?sides?", count.group())
        ]
        if counts:
            nearest = min(counts, key=lambda pair: pair[1])[0]
            number = whole_number(nearest["n"])
            if number:
                return number, (one.start + min(match.start(), nearest.start()), one.start + max(match.end(), nearest.end()))
    return None
