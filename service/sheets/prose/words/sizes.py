"""Two lengths that make a page: '85 × 55 mm', '3.5 x 2 in', 'W 85 H 55', 'A5 portrait'; and what kind of page they are of."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import islice
from typing import Literal

from service.sheets.formats import DL_ENVELOPE, DL_LEAFLET, INCHES, ISO, NAMED
from service.sheets.prose.words.amounts import LENGTH_UNIT, unit_of
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.numbers import NUMBER, NUMBER_SEEN, number_of
from service.sheets.prose.words.qualifiers import regions
from service.sheets.prose.words.size_roles import SIZE_LABEL, Role, clause, is_told, role_of, role_of_heading
from service.sheets.prose.words.statements import Statement

_W = r"\(?(?:w|b|l|wide|breit|width|breite|largeur|large|de large)\b\.?\)?"
_H = r"\(?(?:h|high|tall|hoch|height|hohe|hauteur|haut|de haut)\b\.?\)?"
_PAIR = re.compile(
    rf"(?<![\w/.,^])(?<!\^ )(?P<a>{NUMBER})(?!\^)\s?-?(?P<ua>{LENGTH_UNIT})?\s?(?P<wa>{_W}|{_H})?\s?(?:x|by|\*|mal|auf|sur"
    rf"|par)\s?(?P<b>{NUMBER})(?![0-9]|\^)\s?-?(?P<ub>{LENGTH_UNIT})?(?:\s?(?P<wb>{_W}|{_H}))?"
)
_LABELLED = re.compile(
    rf"\b(?P<wa>{_W}|{_H})(?:\s?(?:[:=]|of|is|von|de"
    rf"|:\s))?\s?(?P<a>{NUMBER})\s?(?P<ua>{LENGTH_UNIT})?[\s,;x|]{{0,4}}(?:and |und |et |by )?(?:an? )?"
    rf"(?P<wb>{_W}|{_H})(?:\s?(?:[:=]|of|is|von|de))?\s?(?P<b>{NUMBER})\s?(?P<ub>{LENGTH_UNIT})?"
)
_TRAILED = re.compile(
    rf"(?<![\w/.,])(?P<a>{NUMBER})\s?(?P<ua>{LENGTH_UNIT})\s?(?P<wa>{_W}|{_H}),?\s?(?:and|und|et|by"
    rf"|x)?\s?(?P<b>{NUMBER})\s?(?P<ub>{LENGTH_UNIT})\s?(?P<wb>{_W}|{_H})"
)
_THIRD = re.compile(r"\s?(?:x|by)\s?[0-9]")
_PIXELS = re.compile(r"\s?-?(?:px|pixels?)\b")
_HEIGHT_WORD = re.compile(r"\(?(?:h|high|tall|hoch|height|hohe|hauteur|haut|de haut)\b")
_UNIT_SAID = re.compile(
    r"\b(?:mm|millimet\w+)\b|(?P<inch>\b(?:inch(?:es)?|zoll|pouces?)\b|[0-9]\"|\bin\b[.)\]])"
    r"|(?P<cm>\bcm\b)"
)
_UNIT_HINT = re.compile(
    r"[(\[]\s?(?:in |en )?(?P<unit>mm|cm|in|inch(?:es)?)\s?[)\]]|\b(?:in|en)\s(?P<word>mm|cm|inch(?:es)?|zoll"
    r"|pouces?)\b|\b(?P<all>millimet\w+)\b"
)

_EXAMPLE = re.compile(
    r"\b(?:for example|e\.g\.?|eg\b|for instance|such as|z\. ?b\.?|zum beispiel|beispiel\w*|par exemple|p\. ?ex\.?"
    r"|ex\.|example)"
)
_PORTRAIT = re.compile(
    r"\bportrait\b(?! (?:of|photo))|\bhochformat\w*|\bupright\b|\ba la francaise\b|\bvertical(?:e"
    r"|ement)?\b(?= (?:format|orientation)|$)|\bhochkant\b"
)
_LANDSCAPE = re.compile(r"\blandscape\b(?! (?:of|photo))|\bquerformat\w*|\bpaysages?\b|\ba l'italienne\b")

_MOST_IN_A_STATEMENT = 40
_MOST_LOOKED_AT = 400
"""A sentence with more sizes than this is a catalogue, or an attack."""


@dataclass(frozen=True)
class Size:
    width_mm: Fraction
    height_mm: Fraction
    width_written: str
    height_written: str
    role: Role
    start: int
    end: int
    """Places in the whole text."""
    named: bool = False
    """'A5': the order of width and height was not said."""
    example: bool = False
    doubtful: bool = False
    """A name that means different sizes to different printers."""
    label: str = ""
    told: bool = True
    """Whether its statement is about the size, and does not only speak of it."""
    scope: Scope | None = None


def sizes_in(statement: Statement, text: str, inches_said: bool) -> list[Size]:
    """`text` is the whole text as written (names such as DL count in capitals); the places of the sizes are those in it."""
    found = list(islice(_numbers(statement, inches_said), _MOST_IN_A_STATEMENT))
    taken = [(one.start, one.end) for one in found]
    found += [
        one
        for one in islice(_names(statement, text), _MOST_IN_A_STATEMENT)
        if not any(one.start < end and start < one.end for start, end in taken)
    ]
    found = sorted(found, key=lambda one: one.start)[:_MOST_IN_A_STATEMENT]
    spans = [(one.start - statement.start, one.end - statement.start) for one in found]
    kept: list[Size] = []
    for one, (first, last) in zip(found, regions(statement.text, spans), strict=True):
        kept.append(_with_role(one, statement, first, last))
    return kept


_HEIGHT_FIRST = re.compile(r"\b(?:height|h|hohe|hauteur) ?(?:x|by|\*|mal|and then|/) ?(?:width|w|b|breite|l|largeur)\b")
_WIDTH_FIRST = re.compile(r"\b(?:width|w|b|breite|l|largeur) ?(?:x|by|\*|mal|/) ?(?:height|h|hohe|hauteur)\b")


def height_is_said_first(low: str) -> bool:
    """Whether the folded text says of its sizes that the height comes first."""
    return _HEIGHT_FIRST.search(low) is not None and _WIDTH_FIRST.search(low) is None


def turned(size: Size) -> Size:
    return replace(
        size,
        width_mm=size.height_mm,
        height_mm=size.width_mm,
        width_written=size.height_written,
        height_written=size.width_written,
    )


def inches_are_said(low: str) -> bool:
    """Whether the folded text counts in inches and not in millimetres."""
    return (
        not re.search(r"[0-9] ?mm\b|\bmillimet", low) and re.search(r"[0-9] ?(?:\"|inch|in\b|zoll|pouce)|\binch", low) is not None
    )


def orientation_in(text: str) -> Literal["portrait", "landscape"] | None:
    upright, across = _PORTRAIT.search(text), _LANDSCAPE.search(text)
    if bool(upright) == bool(across):
        return None
    return "portrait" if upright else "landscape"


def _numbers(statement: Statement, inches_said: bool) -> Iterator[Size]:
    text = statement.text
    if NUMBER_SEEN.search(text) is None:
        return
    taken: list[tuple[int, int]] = []
    for pattern in (_LABELLED, _TRAILED, _PAIR):
        for match in islice(pattern.finditer(text), _MOST_LOOKED_AT):
            start, end = match.span()
            if any(start < last and first < end for first, last in taken):
                continue
            rest = text[end : end + 12]
            if _THIRD.match(rest) or _PIXELS.match(rest) or text[max(0, start - 3) : start].rstrip().endswith("x"):
                taken.append((start, end))
                continue
            size = _size(match, statement, inches_said)
            if size is not None:
                taken.append((start, end))
                yield size


def _size(match: re.Match[str], statement: Statement, inches_said: bool) -> Size | None:
    unit_b = match["ub"] or match["ua"] or _unit_hint(statement)
    unit_a = match["ua"] or unit_b
    a, b = (number_of(_ungrouped(match[side], unit_b), "length") for side in "ab")
    if a is None or b is None:
        return None
    if unit_a is None or unit_b is None:
        unit_a = unit_b = _unit_guessed(a[0], b[0], match.group(), inches_said)
        if unit_a is None or unit_b is None:
            return None
    first, second = unit_of(unit_a), unit_of(unit_b)
    sides = [(a[0] * first.factor, f"{a[1]} {first.written}"), (b[0] * second.factor, f"{b[1]} {second.written}")]
    if match["wa"] and _HEIGHT_WORD.match(match["wa"]):
        sides.reverse()
    (width, width_written), (height, height_written) = sides
    if not (15 <= width <= 6000 and 15 <= height <= 6000):
        return None
    start = statement.start + match.start()
    return Size(width, height, width_written, height_written, "size", start, statement.start + match.end())


_THOUSANDS = re.compile(r"([1-9]|1[0-4]),([0-9]{3})(\.[0-9]{1,2})?")


def _ungrouped(words: str, unit: str | None) -> str:
    """'1,219.2 mm', '3,048 mm': a page is not so small that the comma could be a decimal one."""
    grouped = _THOUSANDS.fullmatch(words.strip())
    return f"{grouped[1]}{grouped[2]}{grouped[3] or ''}" if grouped and (grouped[3] or unit == "mm") else words


@lru_cache(maxsize=1)  # called again for each size of a statement
def _unit_hint(statement: Statement) -> str | None:
    for words in (statement.text, statement.label):
        if hint := _UNIT_HINT.search(words):
            return "mm" if hint["all"] else hint["unit"] or hint["word"]
    said = {match.group() for match in _UNIT_SAID.finditer(statement.text)}
    return "mm" if said and all(word.startswith(("mm", "milli")) for word in said) else None


def _unit_guessed(a: Fraction, b: Fraction, words: str, inches_said: bool) -> str | None:
    """'88 × 58' is millimetres, '8 ½ × 11' inches; '4 × 6' is neither without more."""
    fraction = re.search(r"[½¼¾⅛⅜⅝⅞]|[0-9]/[0-9]", words)
    if fraction or (inches_said and max(a, b) <= 48):
        return "in"
    return "mm" if min(a, b) >= 35 and not inches_said else None


_IN_METRES = re.compile(r"\s?\([^()]*[0-9][.,][0-9]+ ?m\b")
"""'A0 (1.20 m high)' is no A0."""


def _names(statement: Statement, text: str) -> Iterator[Size]:
    for match in NAMED.finditer(text, statement.start, statement.end):
        start, end = match.span()
        if _IN_METRES.match(text, end):
            continue
        if match["iso"] in ISO:
            width, height = ISO[match["iso"]]
        elif match["dl"]:
            envelope = re.search(r"envelope|umschlag|briefhulle|enveloppe", statement.text)
            width, height = DL_ENVELOPE if envelope else DL_LEAFLET
        elif match["half"]:
            yield _inches("5.5 in", "8.5 in", start, end)
            continue
        elif name := match["us"] or match["size"]:
            yield _inches(*INCHES[name.lower()], start, end)
            continue
        else:
            continue
        w, h = Fraction(width), Fraction(height)
        yield Size(w, h, f"{width} mm", f"{height} mm", "size", start, end, named=True, doubtful=bool(match["dl"]))


def _inches(width: str, height: str, start: int, end: int) -> Size:
    w, h = (Fraction(side.split()[0]) * Fraction(254, 10) for side in (width, height))
    return Size(w, h, width, height, "size", start, end, named=True)


def _with_role(size: Size, statement: Statement, first: int, last: int) -> Size:
    text = statement.text
    start, end = size.start - statement.start, size.end - statement.start
    stretch = f"{text[first:start]} § {text[end:last]}"
    label = statement.label.replace("/", " , ")
    role = (
        role_of(stretch, clause(text[first:start], text[end:last]))
        or role_of(f"{label} §")
        or ("size" if SIZE_LABEL.match(text) else role_of_heading(statement.heading))
    )
    width, height, w, h = size.width_mm, size.height_mm, size.width_written, size.height_written
    if size.named and (orientation_in(stretch) or orientation_in(text)) == "landscape":
        width, height, w, h = height, width, h, w
    example = _EXAMPLE.search(text[:start]) is not None
    return Size(
        width,
        height,
        w,
        h,
        role or "size",
        size.start,
        size.end,
        size.named,
        example,
        size.doubtful,
        statement.label,
        is_told(statement, start, end),
    )


def spans_of(sizes: Sequence[Size], statement: Statement) -> list[tuple[int, int]]:
    return [(one.start - statement.start, one.end - statement.start) for one in sizes]
