"""Sets a plainly written text as its language sets it: quotation marks, apostrophes, spaces that do not break, minus signs.

Catalogues are written with plain spaces and straight marks. Each text is set when it is said, before values are put in:
what comes from the file or the caller (names, ids, keys, addresses) goes through as it is. A rule changes marks and the width
of spaces, never a letter, and adds no space.

* Quotation marks as usual in the printing of each language (French: Imprimerie nationale, Lexique des règles typographiques;
  German: Duden, 'Anführungszeichen'; Spanish: RAE, Ortografía, 'comillas'; all from memory).
* A number and its unit stay on one line (ISO 80000-1, 7.1.4, asks for a space between them). English keeps its plain spaces:
  programs read its messages too.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

NO_BREAK = "\u00a0"
NARROW_NO_BREAK = "\u202f"
MINUS = "\u2212"

_MARKS: Mapping[str, tuple[str, str]] = {
    "en": ("‘", "’"),
    "de": ("„", "“"),
    "fr": (f"«{NO_BREAK}", f"{NO_BREAK}»"),
    "es": ("«", "»"),
}
_BETWEEN_THOUSANDS: Mapping[str, str] = {"en": ",", "de": ".", "fr": NARROW_NO_BREAK, "es": NARROW_NO_BREAK}
_DECIMAL_MARK: Mapping[str, str] = {"en": "."}
"""Of languages without a decimal comma."""

_QUOTED = re.compile(r"(?<![\w}’'])'(?=\S)((?:[^']|(?<=\w)'(?=\w))*)(?<=\S)'(?!\w)")
_APOSTROPHE = re.compile(r"(?<=[\w}])'")
_BELOW_ZERO = re.compile(r"(?:(?<=^)|(?<=[\s(]))-(?=\d)")
_UNITS = (
    *("mm²", "cm²", "g/m²", "mm", "cm", "m", "µm", "pt", "ppi", "ppp", "lpi", "%"),
    *("kB", "MB", "KiB", "Kio", "B", "ko", "Mo"),
)


def _before(*units: str) -> re.Pattern[str]:
    return re.compile(rf"(?<=[\d}}]) (?=(?:{'|'.join(map(re.escape, units))})(?![\w’²/]))")


_BEFORE_UNIT, _BEFORE_FRENCH_UNIT = _before(*_UNITS), _before(*_UNITS, "o")
"""The French octet; in Spanish the same letter is 'or'."""
_BEFORE_INCHES = re.compile(r"(?:(?<=\d)|(?<=inches})) (?=in\b)")
_AROUND_CROSS = re.compile(r"(?<=[\d}]) × (?=[\d{])")
_BETWEEN_DIGITS = re.compile(r"(?<=\d) (?=\d{3}\b)")
_HIGH_MARKS = re.compile(r" (?=[;!?])")


@lru_cache(maxsize=8192)
def typeset(text: str, language: str) -> str:
    """"Datei 'a.pdf' hat 3 mm" → 'Datei „a.pdf“ hat 3 mm', the last space one that does not break."""
    opening, closing = _MARKS[language]
    parts = _QUOTED.split(text)
    outside = [_outside(one, language) for one in parts[::2]]
    quoted = [f"{opening}{_APOSTROPHE.sub('’', one)}{closing}" for one in parts[1::2]]
    return "".join(one for pair in zip(outside, [*quoted, ""], strict=True) for one in pair)


def _outside(text: str, language: str) -> str:
    """What stands in no straight quotation marks; between them may be something to type, such as '3 mm'."""
    text = _BELOW_ZERO.sub(MINUS, _APOSTROPHE.sub("’", text))
    if language == "en":
        return text
    unit = _BEFORE_FRENCH_UNIT if language == "fr" else _BEFORE_UNIT
    text = _BEFORE_INCHES.sub(NO_BREAK, unit.sub(NO_BREAK, text))
    text = _AROUND_CROSS.sub(f"{NO_BREAK}×{NO_BREAK}", text)
    if _BETWEEN_THOUSANDS[language] == NARROW_NO_BREAK:
        text = _BETWEEN_DIGITS.sub(NARROW_NO_BREAK, text)
    return _french(text) if language == "fr" else text


def _french(text: str) -> str:
    """Marks of two parts stand off: the colon and guillemets by a whole space, the others by a narrow one."""
    text = text.replace("« ", f"«{NO_BREAK}").replace(" »", f"{NO_BREAK}»").replace(" :", f"{NO_BREAK}:")
    return _HIGH_MARKS.sub(NARROW_NO_BREAK, text)


def space_before_unit(language: str) -> str:
    return " " if language == "en" else NO_BREAK


def decimal_mark(language: str) -> str:
    return _DECIMAL_MARK.get(language, ",")


def whole_number(value: int, language: str) -> str:
    """12000 → '12,000', as the language parts thousands."""
    return f"{value:,}".replace("-", MINUS).replace(",", _BETWEEN_THOUSANDS[language])


def decimal_number(plain: str, language: str) -> str:
    """'-1.5' → '−1,5', '12000.5' → '12.000,5'; up to 9,999 the digits stand together."""
    whole, point, fraction = plain.partition(".")
    whole = whole_number(int(whole), language) if len(whole.lstrip("-")) > 4 else whole.replace("-", MINUS)
    return f"{whole}{decimal_mark(language)}{fraction}" if point else whole


def without_narrow_spaces(text: str) -> str:
    """For a typeface that has no narrow no-break space and would show a box: the usual no-break space."""
    return text.replace(NARROW_NO_BREAK, NO_BREAK)
