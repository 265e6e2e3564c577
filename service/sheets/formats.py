"""Sizes of pages that have a name. ISO 216:2007 (A, B), ISO 269:1985 (C, DL), ASME Y14.1 and common practice (inches)."""

from __future__ import annotations

import re
from collections.abc import Mapping

ISO: Mapping[str, tuple[int, int]] = {
    **{"A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297), "A5": (148, 210)},
    **{"A6": (105, 148), "A7": (74, 105), "A8": (52, 74), "A9": (37, 52), "A10": (26, 37)},
    **{"B3": (353, 500), "B4": (250, 353), "B5": (176, 250), "B6": (125, 176), "B7": (88, 125)},
    **{"C3": (324, 458), "C4": (229, 324), "C5": (162, 229), "C6": (114, 162), "C7": (81, 114)},
}
INCHES: Mapping[str, tuple[str, str]] = {
    "letter": ("8.5 in", "11 in"),
    "legal": ("8.5 in", "14 in"),
    "tabloid": ("11 in", "17 in"),
}
DL_ENVELOPE = (110, 220)
C6_C5 = (114, 229)
DL_LEAFLET = (99, 210)
"""A third of A4. Common practice, no source; some printers mean 100 or 105 × 210."""

NAMED = re.compile(
    r"(?<![\w/:-])(?:DIN[ -]?|ISO[ -]?)?(?P<iso>[AC][0-9]{1,2}|B[3-7])(?![\w+]| ?\+|[0-9])(?! [MYK][0-9])(?!-?(?:Bogen"
    r"|Plano|sheets?\b| sheets?\b))"
    r"|\b(?P<dl>DL)\b|\b(?:[Uu][Ss]|[Uu]\.[Ss]\.)[ -](?P<us>[Ll]etter|[Ll]egal|[Tt]abloid)\b|\b(?P<size>[Ll]etter"
    r"|[Ll]egal|[Tt]abloid)[ -](?:size|format)"
    r"|\b(?P<half>[Hh]alf[ -][Ll]etter)\b"
)

_CARDS_AND_LEAFLETS = ((55, 85), (50, 90), (54, 86), (55, 90), (100, 210), (105, 210), (98, 210))
_SQUARES = ((105, 105), (120, 120), (148, 148), (210, 210))
KNOWN_MM: frozenset[tuple[float, ...]] = frozenset(
    (*(tuple(sorted(pair)) for pair in ISO.values()), DL_ENVELOPE, DL_LEAFLET, *_CARDS_AND_LEAFLETS, *_SQUARES)
)
"""Trimmed sizes that are common, shorter side first: helps to tell a size with bleed from one without. Common practice."""
KNOWN_IN = frozenset(
    ((2.0, 3.5), (8.5, 11.0), (5.5, 8.5), (4.0, 6.0), (5.0, 7.0), (11.0, 17.0), (6.0, 9.0), (8.5, 14.0), (4.25, 5.5), (6.0, 11.0))
)
