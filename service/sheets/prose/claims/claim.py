"""What one statement says of one value of the sheet, with the words that say it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.statements import Statement

ScopeOf = Callable[[Statement, int, int], Scope | None]
"""What the words at text[start:end] of a statement hold for; None: for all."""
Value = str | int | bool | list[str] | list[int]


@dataclass(frozen=True)
class Claim:
    path: str
    """'bleed.minimum'; of an entry of a list 'papers.uncoated.ink_limit': entries are told apart by a word of their own."""
    value: Value
    """In the sheet's own format."""
    start: int
    end: int
    """The words, as places in the whole text."""
    weight: int = 2
    """3 said of this very key, 2 said, 1 in passing, 0 used only where nothing firmer is said."""
    size: Fraction | None = None
    """The number in mm, points, ppi, percent or bytes, to compare '3 mm' with '0.3 cm'."""
    recommended: bool = False
    scope: Scope | None = None
    """None: it holds for all that the text is about."""


@dataclass(frozen=True)
class Doubt:
    """Something that the text leaves open; `start` and `end` are None where the text is silent."""

    about: str
    """The path of the sheet, or a block of it."""
    question: str
    start: int | None = None
    end: int | None = None
    value: Value | None = None
    """What `about` would say where a person answers yes; None where there is more to say than that."""
