"""Numbers as digits, as words and as fractions, in English, German and French; and where a number is no demand."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

Kind = Literal["length", "points", "ppi", "percent", "bytes"]

_WORDS: dict[str, int] = {
    **{
        "no": 0,
        "zero": 0,
        "one": 1,
        "two": 2,
        "three": 3,
        "four": 4,
        "five": 5,
        "six": 6,
        "eight": 8,
        "twelve": 12,
        "sixteen": 16,
    },
    **{"eine": 1, "einer": 1, "ein": 1, "zwei": 2, "drei": 3, "vier": 4, "funf": 5, "sechs": 6, "acht": 8, "zwolf": 12},
    **{"un": 1, "une": 1, "deux": 2, "trois": 3, "quatre": 4, "cinq": 5, "huit": 8, "douze": 12, "seize": 16},
}
NUMBER_WORD = rf"(?:[0-9]{{1,4}}|{'|'.join(sorted((word for word in _WORDS if word != 'no'), key=len, reverse=True))})"


def whole_number(words: str) -> int | None:
    return int(words) if words.isdigit() else _WORDS.get(words)


_GLYPHS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_GLYPH = f"[{''.join(_GLYPHS)}]"
_SPELLED = {
    **{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "eight": "8", "ten": "10"},
    **{"zwei": "2", "drei": "3", "vier": "4", "funf": "5", "sechs": "6", "acht": "8", "zehn": "10"},
    **{"deux": "2", "trois": "3", "quatre": "4", "cinq": "5", "huit": "8", "dix": "10"},
    **{
        "one-eighth": "1/8",
        "one eighth": "1/8",
        "an eighth": "1/8",
        "eighth": "1/8",
        "a quarter": "1/4",
        "quarter": "1/4",
        "one quarter": "1/4",
        "half an": "1/2",
        "one-quarter": "1/4",
    },
}
NUMBER = (
    rf"(?:(?:{'|'.join(sorted(_SPELLED, key=len, reverse=True))})(?=[ -](?:mm|millim|cm|centim|zentim|inch|of an inch|pt"
    rf"|points?\b|punkt))|[0-9]{{1,2}}[ -]?{_GLYPH}|{_GLYPH}|[0-9]{{1,2}}[ -][0-9]{{1,2}}/[0-9]{{1,2}}"
    rf"|[0-9]{{1,2}}/[0-9]{{1,2}}"
    r"|[0-9]{1,2},[0-9]{3}\.[0-9]{1,2}(?![0-9])|[0-9]{1,2}[ '.,][0-9]{3}(?![0-9])|[0-9]{1,6}(?:[.,][0-9]{1,6})?|[.,][0-9]{1,6})"
)
NUMBER_SEEN = re.compile(rf"[0-9{''.join(_GLYPHS)}]|{'|'.join(_SPELLED)}")
"""What every number has; looked for first, since most sentences have none."""


def number_of(words: str, kind: Kind) -> tuple[Fraction, str] | None:
    """The number and how the sheet writes it; None where the words could be two numbers."""
    words = _SPELLED.get(words.strip(), words.strip())
    for glyph, plain in _GLYPHS.items():
        words = words.replace(glyph, f" {plain}").strip()
    if re.fullmatch(r"[0-9]{1,2},[0-9]{3}\.[0-9]{1,2}", words):
        words = words.replace(",", "")
    if "/" in words:
        found = _fraction(re.sub(r"[ -]+", " ", words)) if kind in ("length", "points") else None
        return (found[0], f"{float(found[0]):g}") if found and kind == "points" else found
    grouped = re.fullmatch(r"([0-9]{1,2})[ '.,]([0-9]{3})", words)
    if grouped:
        if kind in ("ppi", "bytes") or words[-4] in " '":
            words = grouped[1] + grouped[2]
        elif words[-4] == "," and grouped[1] != "0":
            return None
    plain = words.replace(",", ".")
    plain = f"0{plain}" if plain.startswith(".") else plain
    return Fraction(plain), plain


def _fraction(words: str) -> tuple[Fraction, str] | None:
    parts = words.split(" ")
    top, bottom = parts[-1].split("/")
    if int(bottom) not in (2, 3, 4, 8, 16, 32, 64) or int(top) >= int(bottom):
        return None
    whole = Fraction(parts[0]) if len(parts) > 1 else Fraction(0)
    return whole + Fraction(int(top), int(bottom)), words
_PLUS_MINUS = re.compile(r"(?:±|\+ ?/ ?-|plus or minus|plus/minus)\s?$")
_NOT_ENOUGH = re.compile(
    r"[^.;,:]{0,25}\b(?:(?:is|are|was|were|will be|would be|ist|sind|est|sont)? ?(?:not|n't|nicht|ne"
    r"|pas) (?:be )?(?:good |usually |normally )?(?:enough|sufficient|suitable|adequate|acceptable"
    r"|ausreichend|genug|geeignet|suffisant\w*)|insufficient|unsuitable|too (?:low|small|little|thin|coarse)"
    r"|inadequate|reichen nicht|reicht nicht|genugen nicht|genugt nicht|ne suffi\w+"
    r"|(?:zu \w+ )?(?:ist|sind|ware|macht) nicht (?:sinnvoll|notwendig|notig|erforderlich|zweckma\w+)|n'est pas (?:utile"
    r"|necessaire)"
    r"|zu (?:wenig|klein|gering)|trop (?:bas|faible|petit)\w*)"
)
_AS_IT_IS = re.compile(
    r"\b(?:is|are|was|were) (?:only|just|sitting|currently|about)\s$"
    r"|\b(?:absurde?|inutile|unsinnig|uberflussig|pointless|useless|no point)\b[^.;0-9]{0,20}$"
    r"|\b(?:ein|1|one|a|un) (?:dtp-?|didot-?|pica-?)?(?:punkt|points?|pt)\b[^.;0-9]{0,24}(?:misst|entspricht|betragt|ist|="
    r"|equals?|is|mesure"
    r"|vaut|correspond)[^.;0-9]{0,12}$"
)
"""What a file was found to have, as a letter tells it, is no demand."""


def asks_nothing(before: str, text: str, end: int) -> bool:
    """Of a number between `before` and text[end:]: a tolerance, what is not enough, what a file has, what a point is."""
    no_demand = _PLUS_MINUS.search(before) or _AS_IT_IS.search(before) or _NOT_ENOUGH.match(text, end)
    return no_demand is not None
