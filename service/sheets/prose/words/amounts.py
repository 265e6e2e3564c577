"""Quantities in a folded statement: lengths, points, resolutions, percentages, sizes of files; single or as a range.

What could be read two ways is no amount here: '1,200 mm' (a thousand or one?), '250/300 dpi', '± 1 mm' (a tolerance).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice

from service.pdf.facts.geometry import POINTS_PER_INCH
from service.sheets.format.lengths import EXACT_MM_PER_INCH
from service.sheets.prose.words.numbers import NUMBER, NUMBER_SEEN, Kind, asks_nothing, number_of

_IN_GOES_ON = (
    r"(?=\s*(?:[)\],;:|/(+]|$|x\b|by\b|bleeds?|beyond|past|on\b|of\b|off\b|from|all\b|each|safe|margin|wide|tall|high"
    r"|trim|and\b"
    r"|or\b|inside|away|deep|min|max|larger|-|plus|per side|around|round|for\b|finished|offset|with|incl|portrait|landscape"
    r"|outside|thick|to\b|quiet|clear|within|smaller|size|h\b|w\b|is\b|are\b)|\.(?:\s|$))"
)
LENGTH_UNIT = (
    r"(?:mms?\b|millimet\w{1,4}|cm\b|centimet\w{1,4}|zentimeter\w?"
    rf"|(?:th )?(?:of an? )?inch(?:es)?\b|th of an inch\b|th ?(?:\"|'')|zoll\b|pouces?\b|po\b|\"|''|in\b{_IN_GOES_ON})"
)
_POINT_UNIT = r"(?:pts?\b|p\b|points?\b(?! par\b| of\b| are\b)|punkte?\b(?! pro| je))"
_RESOLUTION_UNIT = (
    r"(?:dpi\b|ppi\b|[dp]\.p\.i\b\.?|ppp\b|dots[ -]per[ -]inch|pixels? per inch|pixels? ?/ ?inch\b|(?:pixel|px|punkte?"
    r"|dots) (?:pro|je) (?:zoll|inch)"
    r"|points? par pouce"
    r"|pixels? par pouce|px ?/ ?in(?:ch)?\b)"
)
_PERCENT_UNIT = r"(?:%|per ?cent\b|prozent\b|pour ?cent\b|pct\b)"
_BYTES_UNIT = r"(?:[kmg]i?b\b|[mg]o\b|ko\b|(?:mega|giga)-?(?:bytes?|octets?)\b)"
_UNIT = f"(?:{_RESOLUTION_UNIT}|{LENGTH_UNIT}|{_POINT_UNIT}|{_PERCENT_UNIT}|{_BYTES_UNIT})"

_GLUED = (
    r"(?:(?<![\w/.,±^])|(?<=\bmin\.)|(?<=\bmind\.)|(?<=\bmax\.)|(?<=\bca\.)|(?<=\bleast)|(?<=\bof)|(?<=\bis)|(?<=bleed)"
    r"|(?<=resolution)|(?<=margin)|(?<=minimum)|(?<=zone)"
    r"|(?<=\barea))"
)
"""'Bleed3mm' of a table that lost its cells, 'at least5 mm'."""
_MOST = r"(?:max(?:imal|imum|\.)?|hochstens|maximal)"
_AMOUNT = re.compile(
    rf"{_GLUED}(?<!\^ )(?P<between>(?:between|zwischen|entre)\s)?(?P<low>{NUMBER})(?:\s?(?P<low_unit>{_UNIT}))?"
    rf"(?:(?:\s?\([0-9./ ]{{2,8}}(?:mm|in|\")\))?\s?(?:-|to|bis|a|(?P<and>and|und"
    rf"|et))\s?(?:{_MOST}\s)?(?P<high>{NUMBER}))?\s?-?(?P<unit>{_UNIT})"
)
_SINGLE = re.compile(rf"(?<![\w/.,±^])(?<!\^ )(?P<low>{NUMBER})\s?-?(?P<unit>{_UNIT})")
_OF_AN_INCH = re.compile(
    r"(?<![\w/.,±$#])(?P<low>(?:0?\.(?:0625|125|1875|25|375|5|75)|1/(?:8|16|4)))(?![\w%\"./]|,[0-9]|\s?(?:x|by|pt"
    r"|points?|mm|cm|kb|mb|gb|[-a]*"
    r"(?:(?:or|and|to) 1/[0-9]{1,2} (?:scale|size)|page|full|seite|spread|fold|part|scale|size|of (?:a|an"
    r"|the)\b(?! inch)))|[ -]?(?:inch|in\b))"
)
"""'.125 bleed' of a printer who counts in inches."""
_OF_AN_INCH_FROM = re.compile(
    r"(?<![\w/.,±$#])(?P<low>(?:[357]/8|3/4|1/2|[135]/16))(?= (?:from|bleeds?|beyond|past|inside|margin|safety|outside|away)\b)"
)
"""'3/8 from trim': no date, and no part of a page."""
_HINT = re.compile(
    rf"[(\[]\s?(?:in |en )?(?P<unit>{_UNIT})\s?[)\]]|\b(?:in|en)\s(?P<word>mm|cm|inch(?:es)?|zoll|dpi|ppi|pt|mb)\b"
)
_POINT_SIZE = re.compile(r"\bpoint size\b[^0-9.;:]{0,40}(?=[0-9]{1,2}\b(?!\s?(?:x\b|colou?rs?|percent|%)))")
_UNIT_FIRST = re.compile(r"\W*(?:image |min\w*\.? )?[dp]pi\W{1,4}(?=[0-9]{2,4}\b)")
"""'DPI: 300'."""
_BARE = re.compile(
    rf"(?<![\w/.,±%-])(?P<low>{NUMBER})(?:\s?(?:-|to|bis|a)\s?(?P<high>{NUMBER}))?(?![\w%\"]|\s?x\s?[0-9]|[.,/][0-9])"
)
_CORPS = re.compile(
    r"\b(?:force de )?corps(?: (?:de|minimum|minimal|mini|est|inferieur a|superieur a|au|moins|doit|etre|typographique|du|texte"
    r"|des|textes))*"
    r"\s?[:=]?\s?(?P<low>[0-9]{1,2}(?:[.,]5)?)(?![0-9/]|[.,][0-9]|\s?(?:%|mm|cm|pt|points?|dpi|ppi|x\b|pages?|a [0-9]|et [0-9]))"
)
"""French counts type in points without saying so: 'en corps 8'."""
_OF_TYPE = re.compile(r"schrift|\bpositiv|\bnegativ")
"""Where 'p' is the German printer's Punkt."""
_MOST_IN_A_STATEMENT = 60
"""A sentence with more numbers than this is no demand."""


@dataclass(frozen=True)
class Amount:
    kind: Kind
    low: Fraction
    """In mm, points, ppi, percent or bytes."""
    low_written: str | int
    """In the sheet's own format."""
    high: Fraction | None
    high_written: str | int | None
    start: int
    end: int


@dataclass(frozen=True)
class _Unit:
    kind: Kind
    factor: Fraction
    written: str


def amounts_in(text: str, label: str = "", *, inches_said: bool = False) -> list[Amount]:
    """In the order of the folded text. A bare number takes the unit that the text or its label states in brackets.

    `inches_said`: the whole text counts in inches, so that the usual decimals of an inch need no unit.
    """
    if NUMBER_SEEN.search(text) is None:
        return []
    found: list[Amount] = []
    start = 0
    while len(found) < _MOST_IN_A_STATEMENT and (match := _AMOUNT.search(text, start)):
        if (match["and"] and not match["between"]) or _of_two_kinds(match):
            match = _SINGLE.search(text, match.start()) or match
        start = match.end()
        one = _amount(match)
        before = text[max(0, match.start() - 24) : match.start("low")]
        if match["unit"] == "p" and _OF_TYPE.search(text) is None:
            continue  # '8 p' of a booklet
        if one is not None and not asks_nothing(before, text, match.end()):
            found.append(one)
    if inches_said:
        found = _with_bare_inches(text, found)
    if "corps" in text:
        found += [one for match in islice(_CORPS.finditer(text), _MOST_IN_A_STATEMENT) if (one := _amount(match, unit_of("pt")))]
        found.sort(key=lambda one: one.start)
    return found or list(islice(_with_the_stated_unit(text, label), _MOST_IN_A_STATEMENT))


def _of_two_kinds(match: re.Match[str]) -> bool:
    """'300 dpi "high resolution"', '300 dpi a 100 %': one number and what stands behind it."""
    low = match["low_unit"]
    return low is not None and (match["high"] is None or unit_of(low).kind != unit_of(match["unit"]).kind)


def _with_bare_inches(text: str, found: list[Amount]) -> list[Amount]:
    bare = [
        one
        for pattern in (_OF_AN_INCH, _OF_AN_INCH_FROM)
        for match in islice(pattern.finditer(text), _MOST_IN_A_STATEMENT)
        if not any(known.start < match.end() and match.start() < known.end for known in found)
        and (one := _amount(match, unit_of("inch")))
    ]
    return sorted([*found, *bare], key=lambda one: one.start)


def _with_the_stated_unit(text: str, label: str) -> Iterator[Amount]:
    if led := _UNIT_FIRST.match(text):
        yield from islice((one for match in _BARE.finditer(text, led.end()) if (one := _amount(match, unit_of("ppi")))), 1)
        return
    hint = _HINT.search(text) or _HINT.search(label)
    if hint is None:
        if hint := _POINT_SIZE.search(text):
            yield from islice((one for match in _BARE.finditer(text, hint.end()) if (one := _amount(match, unit_of("pt")))), 1)
        return
    unit = unit_of(hint["unit"] or hint["word"])
    first = hint.end() if hint.string is text else 0
    for match in _BARE.finditer(text, first):
        one = _amount(match, unit)
        if one is not None:
            yield one


def _amount(match: re.Match[str], unit: _Unit | None = None) -> Amount | None:
    groups = match.groupdict()
    unit = unit or unit_of(match["unit"])
    low_unit = unit_of(groups["low_unit"]) if groups.get("low_unit") else unit
    low, high = number_of(match["low"], unit.kind), None
    if groups.get("high"):
        high = number_of(match["high"], unit.kind)
        if high is None or low is None or high[0] * unit.factor <= low[0] * low_unit.factor or low_unit.kind != unit.kind:
            return None
    if low is None:
        return None
    low_written = _written(*low, low_unit)
    return Amount(
        unit.kind,
        low[0] * low_unit.factor,
        low_written,
        high[0] * unit.factor if high else None,
        _written(*high, unit) if high else None,
        match.start("low"),
        match.end(),
    )


def _written(number: Fraction, words: str, unit: _Unit) -> str | int:
    if unit.kind == "ppi":
        return int(number) if number.denominator == 1 else str(float(number))
    return f"{words} {unit.written}"


def unit_of(words: str) -> _Unit:
    """`words` matched the pattern of a unit."""
    word = words.strip().removeprefix("th ").removeprefix("of an ").removeprefix("of a ")
    if re.match(r"[kmg]i?b|[mg]o\b|ko\b|mega|giga", word):
        return _bytes_unit(word)
    if re.fullmatch(_RESOLUTION_UNIT, word):
        return _Unit("ppi", Fraction(1), "ppi")
    if re.fullmatch(_PERCENT_UNIT, word):
        return _Unit("percent", Fraction(1), "%")
    if word.startswith("p") and word != "po" and not word.startswith("pouce"):
        return _Unit("points", Fraction(1), "pt")
    if word in ("mm", "mms") or word.startswith("milli"):
        return _Unit("length", Fraction(1), "mm")
    if word.startswith(("c", "zent")):
        return _Unit("length", Fraction(10), "cm")
    return _Unit("length", EXACT_MM_PER_INCH, "in")


def _bytes_unit(word: str) -> _Unit:
    if word[1:2] == "i":
        return _Unit("bytes", Fraction(1 << {"k": 10, "m": 20, "g": 30}[word[0]]), f"{word[0].upper()}iB")
    size = {"k": ("kB", 10**3), "m": ("MB", 10**6), "g": ("GB", 10**9)}[word[0]]
    return _Unit("bytes", Fraction(size[1]), size[0])


def points_of(amount: Amount) -> Fraction:
    """A length or a size of type in points."""
    return amount.low if amount.kind == "points" else amount.low * POINTS_PER_INCH / EXACT_MM_PER_INCH


def millimetres_of(amount: Amount) -> Fraction:
    return amount.low if amount.kind == "length" else amount.low * EXACT_MM_PER_INCH / POINTS_PER_INCH


def same_said_twice(text: str, first: Amount, second: Amount) -> bool:
    """Whether the second amount only says the first in another unit: '3 mm (1/8 in)'."""
    if first.high and first.kind == second.kind == "length" and second.low == first.high and not second.high:
        return re.fullmatch(r"\s?\(", text[first.end : second.start]) is not None
    if (
        first.high
        or second.high
        or {first.kind, second.kind} - {"length", "points"}
        or str(first.low_written).split()[-1] == str(second.low_written).split()[-1]
    ):
        return False
    gap = text[first.end : second.start]
    near = (
        len(gap) <= 14
        and re.fullmatch(r"[\s(\[/=,~|-]*(?:or|oder|ou|bzw\.?|resp\.?|approx\.?|ca\.?|env\.?|about|i\.?e\.?)?[\s(]*", gap)
        is not None
    )
    a, b = millimetres_of(first), millimetres_of(second)
    return near and a > 0 and abs(a - b) <= max(a * Fraction(9, 100), Fraction(1, 20))
