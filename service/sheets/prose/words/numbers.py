"""Whole numbers as digits or words, in English, German and French; and where a number is no demand."""

from __future__ import annotations

import re

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
    r"|\b(?:ein|1|one|a|un) (?:dtp-?|didot-?|pica-?)?(?:punkt|points?|pt)\b[^.;0-9]{0,24}(?:misst|entspricht|betragt|ist|="
    r"|equals?|is|mesure"
    r"|vaut|correspond)[^.;0-9]{0,12}$"
)
"""What a file was found to have, as a letter tells it, is no demand."""


def asks_nothing(before: str, text: str, end: int) -> bool:
    """Of a number between `before` and text[end:]: a tolerance, what is not enough, what a file has, what a point is."""
    no_demand = _PLUS_MINUS.search(before) or _AS_IT_IS.search(before) or _NOT_ENOUGH.match(text, end)
    return no_demand is not None
