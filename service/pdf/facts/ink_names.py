"""Ink names: the four of process printing, and any as people spell them."""

from __future__ import annotations

import re

PROCESS_INKS = ("Cyan", "Magenta", "Yellow", "Black")
"""In printing order, as DeviceCMYK has them (ISO 32000-2:2020, 8.6.4.4)."""

_PAPER_SUFFIX = re.compile(r"(?<=\d)(?:cvc|cvu|cv|cp|up|ec|[cum])$")
"""Swatch books name one ink once for each paper: '… 8 C' coated, '… 8 U' uncoated. Common practice, no source."""


def same_ink(name: str) -> str:
    """What two spellings of one ink have in common: case, blanks, dashes and the paper's suffix folded away."""
    return _PAPER_SUFFIX.sub("", re.sub(r"[\s_\-]+", "", name).casefold())
