"""Resolution of pictures and of line art, in pixels an inch. 'dpi' is read as ppi, as everybody means it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.qualifiers import REFUSED, bound_of, hedged, regions
from service.sheets.prose.words.statements import Statement

_BILEVEL = re.compile(
    r"\bline[- ]?(?:art|work|drawings?|images?|illustrations?)\b|\bbitmaps?\b|\b1[- ]?-?bits?\b|\bone-bit\b"
    r"|\bbi-?level\b|\bmono(?:chrome)?\b|\bline scans?\b|\blines? (?:and|or|&) text (?:art|graphics?|images?|work|elements?)\b"
    r"|\bblack[- ]and[- ]white (?:line|art|scans?|bitmap)"
    r"|\bpure black[- ]and[- ]white"
    r"|\bstrich(?!star)\w*|\bbitmap\w*|\beinbit\b|\bau trait\b|\bimages? trait\b|\btraits?\b(?! de (?:coupe|rogne|pli"
    r"|decoupe))|\bdessins?\b|\bb/w line\b"
    r"|\bscanned (?:text|signatures?)\b|\blineart\b|\bb ?[/&] ?w\b"
)
_CONTONE = re.compile(
    r"\b(?:photo\w*|images?|pictures?|halftones?|gr[ae]yscale|colou?r|bild\w*|bilder\w*|fotos?|halbton\w*|contone"
    r"|continuous|rasters?|simili|graustufen\w*|niveaux? de gris|couleurs?)\b"
)
_OF_TYPE = re.compile(r"\b(?:texts?|type|fonts?|schrift\w*|textes?|polices?|logos?)\b")
_PERHAPS_PICTURES = re.compile(r"\bbitmap\w*")
_SURELY_BILEVEL = re.compile(r"\b1[- ]?-?bits?\b|\bline|\bstrich|\btrait|\bmono|\bblack")
_LEAST_OF_ONE_BIT = 450
_MOST_OF_TONES = 800
_RECOMMENDED = re.compile(
    r"\b(?:recommend\w*|(?<!rendu )(?<!resultat )(?<!qualite )optim\w*\b(?! (?:print |image )?(?:quality|results?|rendu|qualite))"
    r"|ideal\w*|empf[eio]\w*hl\w*|recommand\w*|conseill\w*|preconis\w*)\b"
)
_SCREEN = (72, 96)
"""Resolutions of a screen, named as what is not enough. Common practice, no source."""
_SENSIBLE = (50, 5080)


def read_resolutions(statement: Statement, amounts: Sequence[Amount]) -> Iterator[Claim]:
    text = statement.text
    mine = [one for one in amounts if one.kind == "ppi"]
    parts = regions(text, [(one.start, one.end) for one in amounts])
    stretches = [part for one, part in zip(amounts, parts, strict=True) if one.kind == "ppi"]
    kind: str | None = None
    sort: str | None = None
    before: Amount | None = None
    for amount, (first, end) in zip(mine, stretches, strict=True):
        again, before = before is not None and before.low == amount.low and amount.start - before.end < 12, amount
        if again or (
            _OF_TYPE.search(_comma_part(text, amount, first, end))
            and not _CONTONE.search(text[first:end])
            and not _BILEVEL.search(text[first:end])
        ):
            continue
        behind = text[amount.end : end].split(")")[0] if _IN_BRACKETS.search(text[: amount.start]) else text[amount.end : end]
        remark = _kind_of(behind, 0) is None and _goes_with(text, mine, amount)
        kind = (
            (kind if remark else _kind_of(text[first:end], amount.start - first))
            or kind
            or _kind_of(statement.label, 0)
            or _kind_of(statement.heading, 0)
        )
        if _OF_PATHS.search(re.split(r",", text[first : amount.start])[-1]) and not _BITMAPS.search(text[first:end]):
            continue
        if _SENSIBLE[0] <= amount.low <= _SENSIBLE[1]:
            sort = (sort if remark else None) or _by_size(kind, amount, text[first:end]) or "contone_ppi"
            yield from _claims(statement, amount, sort, (first, end)) if sort != "none" else ()


_IN_BRACKETS = re.compile(r"\([^()]*$")


_OF_PATHS = re.compile(r"\b(?:vectors?|paths|curves|vektor\w*|pfade?n?|output resolution|ausgabeauflosung|screenshots?)\b")
_BITMAPS = re.compile(r"\b(?:images?|bitmaps?|photos?|pictures?|raster\w*|bild\w*|fotos?|scans?|pixel\w*)\b")


def _goes_with(text: str, amounts: Sequence[Amount], amount: Amount) -> bool:
    """'200 dpi or more but not exceeding 300 dpi', '300 dpi (350 dpi max)': of the same pictures."""
    place = amounts.index(amount)
    gap = text[amounts[place - 1].end : amount.start] if place else ""
    return bool(place) and _MORE_OF_IT.fullmatch(gap) is not None


_MORE_OF_IT = re.compile(
    r"[\s,;(]*(?:(?:or (?:more|higher|above)|and (?:above|up)|minimum|but|and|not|no|exceeding|more|than|higher|less"
    r"|max\.?|maximum|min\.?|aber|und"
    r"|nicht|mehr|als|oder|hoher|mindestens|maximal|hochstens|mais|et|pas|plus|de|au|moins|ou|better|ideally|preferably"
    r"|besser|recommended|at|least"
    r"|idealerweise|is|are|preferred|ideal|optimum|optimal|with|a|of|bis|to|up|jusqu'a|ideal\w*|absolute|we|prefer"
    r"|recommend)\b[\s,;(:.]*)*"
)


def _comma_part(text: str, amount: Amount, first: int, end: int) -> str:
    """Between commas and dashes."""
    return (
        re.split(r",| - ", text[first : amount.start])[-1]
        + text[amount.start : amount.end]
        + re.split(r",| - ", text[amount.end : end])[0]
    )


def _by_size(kind: str | None, amount: Amount, stretch: str) -> str | None:
    """A bitmap of 300 ppi is a picture, one of 1200 is of one bit; no picture in tones needs so much."""
    if kind != "bilevel_ppi" and amount.low >= _MOST_OF_TONES:
        return "bilevel_ppi" if _BILEVEL.search(stretch) else "none"
    if (
        kind == "bilevel_ppi"
        and amount.low < _LEAST_OF_ONE_BIT
        and _PERHAPS_PICTURES.search(stretch)
        and not _SURELY_BILEVEL.search(stretch)
    ):
        return "contone_ppi"
    return kind


def _kind_of(stretch: str, at: int) -> str | None:
    """By the nearest word to the number at `at`."""
    said = [("bilevel_ppi", match) for match in _BILEVEL.finditer(stretch)] + [
        ("contone_ppi", match) for match in _CONTONE.finditer(stretch)
    ]
    line = [match.span() for name, match in said if name == "bilevel_ppi"]
    free = [
        (name, match)
        for name, match in said
        if name == "bilevel_ppi" or not any(a < match.end() and match.start() < b for a, b in line)
    ]
    if line and re.search(r"\b(?:gr[ae]y|colou?r|photo|halftone|bild|foto|continuous)", stretch) is None:
        return "bilevel_ppi"
    return min(free, key=lambda one: abs(one[1].start() - at))[0] if free else None


def _claims(statement: Statement, amount: Amount, kind: str, stretch: tuple[int, int]) -> Iterator[Claim]:
    text = statement.text
    before, after = text[stretch[0] : amount.start], text[amount.end : stretch[1]]
    bound = bound_of(before, after, statement.label)
    if amount.high is not None and bound == "preferred" and re.search(r"\bmin(?:imum)?\b\.? ?$", before):
        bound = "minimum"  # 'minimum 150 dpi - 300 dpi preferred'
    if bound == "minimum" and _POINTLESS.match(after) and re.search(r"\b(?:more|higher|greater) than\W*$", before):
        bound = "maximum"
    if bound == "preferred" and re.search(r"\bminimum (?:ideal|absolu)\b", before):
        bound = "minimum"
    soft = hedged(f"{before} {after}")
    if bound is None and _RECOMMENDED.search(text[: stretch[0]]):
        bound = "preferred"
    if bound in (None, "preferred") and _URGED.search(before) and not _ADVISED.search(f"{before} {after}"):
        bound = None if bound == "preferred" else bound
    if bound is None and _BEST_LEADS.match(text) and not _FIRMLY.search(before):
        bound = "preferred"
    if bound is None and _FOR_THE_BEST.search(f"{before} {after}") and not _URGED.search(before):
        bound = "preferred"
    if amount.low in _SCREEN and amount.high is None and bound not in ("minimum",):
        return
    path, weight = f"images.{kind}.minimum", 0 if soft else 2
    if bound == "minimum":
        weight = 0 if soft else 3
    elif bound == "above" and amount.high is None and not REFUSED.search(text) and (
        re.fullmatch(r"[\s.,)]*", after) or _TO_HAVE.search(before)
    ):
        weight = 0 if soft else 3  # 'line drawings: above 800 dpi'
    elif bound in ("maximum", "above") and amount.high is None:
        if bound == "above" and REFUSED.search(text) is None and "no use" not in text and "useful" not in text:
            return
        path = f"images.{kind}.maximum"
    elif _BUT_LESS.search(before):
        path = f"images.{kind}.maximum"
    elif bound == "preferred":
        path = f"images.{kind}.preferred"
    elif bound == "below":
        weight = 3 if REFUSED.search(text) else 0
    if amount.high is not None and bound == "minimum" and re.match(r"\W*(?:preferred|recommended|ideal\w*)\b", after):
        yield _claim(statement, amount, path, amount.low_written, 3)
        place = (statement.start + amount.start, statement.start + amount.end)
        yield Claim(f"images.{kind}.preferred", amount.high_written or "", *place, 2, amount.high)
        return
    fine = _WITH_FINE_PARTS.search(text[stretch[0] : amount.start])
    if _GRAY_ALONE.search(before) and weight == 2 + (bound == "minimum"):
        weight = 1
    if fine:
        yield replace(_claim(statement, amount, path, amount.low_written, weight), scope=Scope("condition", fine.group()))
        return
    yield _claim(statement, amount, path, amount.low_written, weight)
    if amount.high is not None and amount.high_written is not None and bound != "preferred":
        yield Claim(
            f"images.{kind}.maximum",
            amount.high_written,
            statement.start + amount.start,
            statement.start + amount.end,
            1,
            amount.high,
        )


_WITH_FINE_PARTS = re.compile(
    r"\b(?:images?|pictures?|photos?|graphics?|scans?|art\w*|files?) (?:with|containing|that (?:contain|include|have|has)\w*) "
    r"(?:\w+ ){0,3}?(?:text|type|lettering|lines?|details?)\b"
)
_GRAY_ALONE = re.compile(r"^(?!.*\b(?:colou?rs?|cmyk|photo\w*)\b).*\bgr[ae]y ?-?scale\b")
"""Where pictures in colour are said apart, those in grey may need more."""
_TO_HAVE = re.compile(r"\b(?:avoir|haben|aufweisen|doi\w+|muss|mussen|soll\w*)\b[^.;,]{0,30}$")
"""'Avoir plus de 300 dpi'."""
_POINTLESS = re.compile(r"[^.;,]{0,20}\b(?:waste|wasted|no use|pointless|useless|no benefit|unnecessary|not (?:needed"
    r"|necessary|useful))\b")
"""'More than 600 dpi is a waste.'"""
_FOR_THE_BEST = re.compile(r"\bbest (?:print |possible |image )?(?:quality|results?|reproduction)")
_BEST_LEADS = re.compile(r"\W*for (?:the )?best (?:print |possible |image )?(?:quality|results?|reproduction)\b")
_FIRMLY = re.compile(r"\b(?:must|need\w*|requir\w*|has to|have to)\b")
_ADVISED = re.compile(
    r"\b(?:recommend\w*|ideal\w*|optim\w*|prefer\w*|empf[eio]\w*hl\w*|recommand\w*|conseill\w*|preconis\w*|suggest\w*"
    r"|advis\w*|better|besser|mieux|bevorzug\w*"
    r"|souhait\w*|moglichst|vorzugsweise|am besten|wunschenswert|preferer\w*|de preference|desired)\b"
)
_URGED = re.compile(
    r"\b(?:please|must|should|provide|need\w*|ensure|require\w*|make sure|supply|supplied|submit\w*|send|use|set"
    r"|save\w*|create\w*)\b"
)
"""'Please send 300 dpi for best quality' says why, and recommends nothing."""
_BUT_LESS = re.compile(
    r"\b(?:but (?:less|lower|no more|not more)|aber (?:weniger|nicht mehr)) (?:than|als) \W*$"
    r"|\bmais moins de \W*$"
)


def _claim(statement: Statement, amount: Amount, path: str, value: str | int, weight: int) -> Claim:
    return Claim(path, value, statement.start + amount.start, statement.start + amount.end, weight, amount.low)
