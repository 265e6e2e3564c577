"""Whole numbers as digits or words, in English, German and French."""

from __future__ import annotations

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
