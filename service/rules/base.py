"""What a rule is: a declaration and one function that compares.

A rule's function takes what it `needs` to see of the file (`service.rules.seen`) and what the sheet asks, and yields a `Finding`
for each thing that breaks it. It opens no file and sets no level: the sheet and the declaration do. What of its needs could not
be measured is told here, before it runs; a `NotMeasured` of its own is for what only the rule can tell.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.rules.seen import Needed, Needs, NotMeasured, looking
from service.sheets.model import Level, SpecSheet

Asked = TypeVar("Asked")
Value = str | int | float | bool | None | Sequence["Value"] | Mapping[str, "Value"]


@dataclass(frozen=True)
class Place:
    page: int
    box_mm: Box
    """Ruler coordinates: mm from the top-left corner of the trimmed page."""


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One cause that breaks a rule, with every place where it does."""

    message: str
    """For a designer: page, place, what was found, what is asked."""
    remedy: str
    """What to do about it, in the layout program's terms."""
    measured: Mapping[str, Value]
    """Keys as the rule declares them; so for `required`."""
    required: Mapping[str, Value]
    pages: tuple[int, ...] = ()
    """Empty for the document as a whole."""
    places: tuple[Place, ...] = ()
    preferred: bool = False
    """True where only a preferred value is missed: an observation whatever the rule's level."""
    level: Level | None = None
    """Only where the sheet has a key for just this case (`rgb_level`, a keep-clear area's own level)."""
    note: str | None = None
    """The printer's own words, where they stand on one entry of a list (an area, a fold) and not on a block."""


Outcome = Finding | NotMeasured


@dataclass(frozen=True)
class Rule:
    """A declaration; `judge` is its function with what it asks for already picked from the sheet."""

    id: str
    title: str
    why: str
    remedy: str
    knows: str
    cannot_know: str
    source: str
    level: Level
    measured: Mapping[str, str]
    """Key → what it says, with its unit. `required` likewise."""
    required: Mapping[str, str]
    asked_by: str
    """The sheet's key that asks for it, 'bleed.minimum'; 'always' for a standing rule."""
    asks: Callable[[SpecSheet], object | None]
    run: Callable[[Measurements, SpecSheet], Iterator[Outcome]]
    module: str



DECLARED: dict[str, Rule] = {}
"""Every rule by its id, filled as the rule modules are imported (`service.rules.catalogue` imports them all and orders them)."""

MOST_PLACES = 50
"""How many places a finding keeps; judging cuts the rest and says how many (`LEFT_OUT`)."""

LEFT_OUT = {"places_left_out": f"how many places beyond the first {MOST_PLACES} are not listed; absent where all are"}
"""Declared among `measured` by every rule whose findings carry places."""

_SECTIONS = ("Why", "Remedy", "Knows", "Cannot know")


def rule(
    rule_id: str,
    *,
    needs: Needs[Needed],
    asks: Callable[[SpecSheet], Asked | None],
    asked_by: str,
    level: Level,
    source: str,
    measured: Mapping[str, str],
    required: Mapping[str, str],
) -> Callable[[Callable[[Needed, Asked], Iterator[Outcome]]], Callable[[Needed, Asked], Iterator[Outcome]]]:
    """Declare the decorated function as a rule. Its docstring carries the title and the sections of `_SECTIONS`.

    `needs` picks from the measurements what the function looks at, `asks` from the sheet what it compares that with; None means
    that the sheet does not ask.
    """

    def declare(function: Callable[[Needed, Asked], Iterator[Outcome]]) -> Callable[[Needed, Asked], Iterator[Outcome]]:
        if rule_id in DECLARED:
            raise ValueError(f"two rules are called {rule_id}")
        title, sections = _prose(function)

        def run(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:
            asked = asks(sheet)
            assert asked is not None, f"{rule_id} ran though the sheet does not ask"
            return looking(needs, function, measurements, asked)

        DECLARED[rule_id] = Rule(
            rule_id, title, sections["Why"], sections["Remedy"], sections["Knows"], sections["Cannot know"],
            source, level, dict(measured), dict(required), asked_by, asks, run, function.__module__,
        )
        return function

    return declare


def _prose(function: Callable[..., object]) -> tuple[str, dict[str, str]]:
    """Title and sections of a rule's docstring; a missing one stops the import."""
    doc = inspect.cleandoc(function.__doc__ or "")
    title, _, rest = doc.partition("\n")
    sections = {}
    for name in _SECTIONS:
        found = re.search(rf"^{name}: (.+?)(?=^(?:{'|'.join(_SECTIONS)}): |\Z)", rest, re.MULTILINE | re.DOTALL)
        if not found:
            raise ValueError(f"{function.__name__}: the docstring of a rule needs a title and '{name}: …'")
        sections[name] = " ".join(found[1].split())
    return title.strip(), sections


# --- What most rules start with ---------------------------------------------------------------------------------------


def always(sheet: SpecSheet) -> SpecSheet:
    """What a standing rule asks: it is on whatever the sheet says, and may look at the whole of it."""
    return sheet


def trim_places(pages: Sequence[Page]) -> tuple[Place, ...]:
    """The whole trimmed page as the place, for what is wrong with a page as such."""
    return tuple(Place(page.number, page.boxes_mm.trim) for page in pages)
