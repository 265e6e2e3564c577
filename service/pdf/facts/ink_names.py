"""Ink names: the four of process printing, any as people spell them, and those that say what is done after printing."""

from __future__ import annotations

import re
from functools import cache

PROCESS_INKS = ("Cyan", "Magenta", "Yellow", "Black")
"""In printing order, as DeviceCMYK has them (ISO 32000-2:2020, 8.6.4.4)."""

_BETWEEN = re.compile(r"[\s_\-]+")
_PAPER_SUFFIX = re.compile(r"(?<=\d)(?:cvc|cvu|cv|cp|up|ec|[cum])$")
"""Swatch books name one ink once for each paper: '… 8 C' coated, '… 8 U' uncoated. Common practice, no source."""


def same_ink(name: str) -> str:
    """What two spellings of one ink have in common: case, blanks, dashes and the paper's suffix folded away."""
    return _PAPER_SUFFIX.sub("", _BETWEEN.sub("", name).casefold())


_CUTS = (
    r"cut(?:s|ting|ter)?|cut ?(?:line|contour|path|through)s?|cutter guides?|die|die ?(?:line|cut)s?|trim ?line|"
    r"stanz\w*|schnitt\w*|schneid\w*|decoupe\w*|découpe\w*|coupe|fustella|troquel\w*|snij\w*"
)
_KISS_CUTS = r"kiss ?(?:cut)?s?|anstanz\w*|mi ?chair"
_OTHER_LINES = r"creas(?:e|es|ing)|fold(?:s|ing)?|scor(?:e|es|ing)|perf\w*|rill\w*|falz\w*|rainage|pli"
_COATINGS = (
    r"white|weiss|weiß|blanc|opaque|deckweiss|\w*varnish\w*|(?:\w*[^b\W])?lack(?:ierung)?|lacquer|vernis|coating|foil\w*|\w*folie\w*|dorure|emboss\w*|deboss\w*|präg\w*|gaufrage|"
    r"glue|leim\w*|kleb\w*|colle|braille|drill\w*|laser"
)
_WORDS = re.compile(r"[a-zà-ÿ]+|[A-ZÀ-Þ]+(?![a-zà-ÿ])|[A-ZÀ-Þ][a-zà-ÿ]*")
"""'CutContour' and 'DIE_LINE' are words too."""


@cache
def _one_of(words: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{words})\b")


def _says(name: str, words: str) -> bool:
    return _one_of(words).search(" ".join(_WORDS.findall(name)).casefold()) is not None


def names_a_cut(name: str) -> bool:
    """Whether an ink of this name shows where the product is cut out. Common practice, no source; a cut that leaves the
    backing whole ('kiss cut') ends no product.
    """
    return _says(name, _CUTS) and not _says(name, _KISS_CUTS)


def names_a_tool(name: str) -> bool:
    """Whether an ink of this name shows where a blade or a rule goes: how thick its lines are drawn is nobody's matter."""
    return _says(name, f"{_CUTS}|{_KISS_CUTS}|{_OTHER_LINES}")


def names_a_finish(name: str) -> bool:
    """Whether an ink of this name is for the die, the foil, the varnish or the white below and prints no colour. Common practice,
    no source.
    """
    return names_a_tool(name) or _says(name, _COATINGS)
