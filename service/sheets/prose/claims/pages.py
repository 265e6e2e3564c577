"""Counts of pages, and whether they stand alone or as reader spreads."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
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
    rf"\b(?:multiples? of|divisible by|divided by|divides? by|dividable by|steps of|groups of|increments of|sets of|in|by"
    rf"|vielfache\w* von"
    rf"|teilbar durch|durch|in|multiples? de|divisible par|par|schritten von)\s(?P<n>{_N}|fours)\b"
    r"(?P<after>\s?(?:teilbar|er-schritt)?)|\b(?P<er>[0-9]{1,2})er-?\s?schritt\w*|\b(?:by|in) (?P<fours>fours)\b"
)
_SURE_MULTIPLE = re.compile(
    r"\bmultiples?\b|\bdivisible\b|\bdivided\b|\bdivid\w+\b|\bsteps\b|\bincrements\b|\bgroups\b|\bsets\b|\bvielfache\w*"
    r"|\bteilbar\b"
    r"|\bschritt\w*|\b(?:by|in) fours\b"
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
    rf"|min\b|at (?:the )?least"
    rf"|or more|au minimum|mindestens|oder mehr|ou plus|and up)"
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
_EVEN = re.compile(r"\beven (?:number(?!ed)|count|page)|\bgerade (?:seiten|an)?zahl\w*|\bnombre pair\b|\bgeradzahlig\w*")
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

_SINGLE = re.compile(
    r"\bsingle[- ]pages\b|\bsingle-page\b|\bas (?:a )?single pages?\b|\bindividual pages?\b|\bone page[- ](?:at[- ]a[- ]time"
    r"|after)|\bpage by page\b|\bsingles\b|\bsingly\b|\bpages?\b[^.;,]{0,30}\b(?:supplied|arranged|set up|sent|saved"
    r"|exported|laid out) (?:individually|separately|one by one)\b|\bseparate pages\b|\bsingle[- ]page (?:set-?up|layout"
    r"|scroll\w*|view"
    r"|format|file)\b"
    r"|\b(?:layout|format|set-?up|pages?|imposition|arrangement)\s?[:|]\s?single page\b"
    r"|\beinzelseit\w*|\beinzelne\w* seiten\b"
    r"|\bals einzelseiten\b|\bpages? (?:simples?|seules?|individuelles?|separees?|isolees?)\b"
    r"|\bpage [aà] page\b|\bpage par page\b|\bpages a l'unite\b|\bsingle sides\b|\bpages unitaires\b"
    r"|\bpages\b[^.;]{0,24}\bone after the other\b|\bone page (?:per|on each) (?:pdf )?page\b"
    r"|\bconsecutive (?:single )?pages\b|\bstacked pages\b|\bsingle-pages\b|\bseiten einzeln\b|\b(?:1"
    r"|one)-(?:printed-)?page per page\b"
)
_SPREAD = re.compile(
    r"\b(?:reader'?s?'?|facing[- ]pages?|double[- ]page)? ?spreads?\b|\bfacing pages?\b|\bdouble pages?\b"
    r"|\bdoppelseit\w*|\bdruckbogen\b|\bmontageflache\w*|\bplanches?\b|\bdoubles? pages?\b|\ben vis-a-vis\b"
    r"|\bpages en regard\b|\bpages doubles\b|\bside[- ]by[- ]side\b|\bnebeneinander\b|\bcote a cote\b"
)
_PRINTER_SPREAD = re.compile(r"\bprinter'?s?'? spreads?\b|\bimpos\w+|\bausgeschossen\w*")


def read_page_counts(statements: Sequence[Statement]) -> list[Claim]:
    """Without their scopes; a count by sides needs the whole text."""
    claims: list[Claim] = []
    for one in statements:
        if _is_about_pages(one) and not (_PART.search(one.text) and not _MULTIPLE.search(one.text)):
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
    exact = (
        _EXACT.search(kept)
        or _LABELLED.search(kept)
        or _ALONE.fullmatch(kept)
        or _FILE_OF.search(kept)
        or _IN_A_LIST.search(kept)
    )
    if exact and not _SIDES_CONDITION.search(one.text) and (number := whole_number(exact["n"])):
        yield _claim(one, exact, "pages.allowed", [number])


_SIDES_CONDITION = re.compile(
    r"\b(?:single|one|double|two|both)[- ]?-?sided?s?\b[^.;]{0,60}\bpages?\b|\b(?:ein|beid|zwei|doppel)seitig\w*"
    r"|\bfor (?:two|both) sides\b|\brecto[ /-]?verso\b"
)


def _page_beside(text: str, match: re.Match[str]) -> bool:
    return (
        re.match(
            rf"\s?-?{_PAGE}\b"
            rf"|\s(?:\w+ )?{_PAGE}\b",
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


_AS_SPREADS = re.compile(
    r"\breader'?s?'? spreads?\b|\b(?:as|in|als|en|als pdf mit|of)\s(?:reader'?s?'? |facing |double[- ]page "
    r"|two-page )*(?:spreads?|doppelseiten?|pages doubles|planches|doubles? pages?"
    r"|facing pages|vis-a-vis)\b|\b(?:arrangement|pages|seiten)\s?[:|]\s?(?:reader )?(?:spreads|doppelseiten)\b"
)
_OF_ADS = re.compile(
    r"\bspread (?:ads?|adverts?\w*)\b|\bads?\b|\banzeigen?\b|\bannonces?\b|\bacross\b|\bgutter\b|\bcentre\b|\bboth\b"
    r"|\bcross\w*\b|\btwo pages\b|\b(?:limit|avoid)\b"
)
_SPREAD_DENIED = re.compile(
    r"\b(?:not|no|never|avoid|kein\w*|nicht|pas|sans|aucun\w*|without|ne|ohne|statt|(?:instead|opposed) (?:of|to)|rather than"
    r"|jamais)\b[^.;]{0,40}$"
)


_BY_US = re.compile(r"\bboth\b|^\W*we (?:will |then )?(?:impose|show|print|display|arrange|make|turn|combine)\b")


def read_arrangement(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    if statement.is_heading or _BY_US.search(text):
        return
    if re.search(r"\bcovers?\b|\bumschlag\b|\bcouverture\b", text) and not re.search(r"\bpages?\b|\bseiten\b", text):
        return
    single, spread = _SINGLE.search(text), _SPREAD.search(text)
    printer_only = _PRINTER_SPREAD.search(text)
    if spread and printer_only and printer_only.start() <= spread.start() < printer_only.end():
        spread = None
    single_stance = stance_of(statement, *single.span()) if single else None
    spread_denied = spread is not None and (
        stance_of(statement, *spread.span()) == "denied"
        or _SPREAD_DENIED.search(text[max(0, spread.start() - 60) : spread.start()]) is not None
    )
    found: tuple[str, re.Match[str]] | None = None
    if single and single_stance == "claimed" and (spread is None or spread_denied or not re.search(r"\b(?:or|oder|ou)\b", text)):
        found = "single-pages", single
    elif spread and spread_denied and not _OF_ADS.search(text.replace("spreads", "")):
        found = "single-pages", spread
    elif (
        spread
        and not spread_denied
        and not single
        and not _OF_ADS.search(text)
        and stance_of(statement, *spread.span()) == "claimed"
    ):
        reader = _AS_SPREADS.search(text)
        found = ("reader-spreads", reader) if reader else None
    if found and asks(statement, *found[1].span()):
        yield Claim("pages.arrangement", found[0], statement.start + found[1].start(), statement.start + found[1].end())
