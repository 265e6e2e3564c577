"""From what somebody sent to a `SpecSheet`, or to every reason why it is none.

* `read_sheet_text` takes YAML or JSON, `read_sheet` an object that was parsed already.
* Inline sheets need no identity; a stored one needs `id`, `title` and `product`. A sheet that asks for nothing is refused.
* `SheetRefused.errors` has all mistakes at once, with JSON pointers that start at the sheet: `/bleed/minimum`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from marshmallow import ValidationError

from service.language.spoken import say
from service.sheets.format.blocks import whole_sheet
from service.sheets.format.parsing import EXAMPLE, parse_sheet_text
from service.sheets.format.refusals import MISSING, Path, SheetRefused, mistakes_in, nearest, refusal
from service.sheets.model import SpecSheet

IDENTITY = ("id", "title", "product")
ASKING = (
    *("file", "pages", "trim", "bleed", "margin", "marks", "color", "images", "text", "lines", "fonts", "transparency"),
    *("keep_clear", "folds", "spine", "finishes"),
)
"""The keys of a sheet that ask something of a file."""
ASKS_NOTHING = (None, False, (), "any", "allowed")
ONLY_HOW = {"level", "note", "standards_level", "rgb_level", "ink_area_mm2"}
"""Keys that say how strictly something is asked, and ask nothing themselves."""

_DEEPEST = 20
MOST_VALUES = 2_000
"""A full sheet has about a hundred."""
LONGEST_KEY = 100


def read_sheet_text(text: str | bytes, *, stored: bool = False, known_rules: Collection[str] | None = None) -> SpecSheet:
    """As `read_sheet`, from YAML or JSON."""
    return read_sheet(parse_sheet_text(text), stored=stored, known_rules=known_rules)


def read_sheet(document: object, *, stored: bool = False, known_rules: Collection[str] | None = None) -> SpecSheet:
    """The sheet that the parsed document holds. `known_rules` are the ids that `levels` may name; None: any.

    Raises `SheetRefused`.
    """
    if not isinstance(document, Mapping):
        raise refusal([((), say("must be a block of keys such as trim, bleed and images."))])
    shapeless = list(_shape_mistakes(document))
    if shapeless:
        raise refusal(shapeless)
    mistakes: list[tuple[Path, str]] = [*_identity_mistakes(document, stored), *_level_mistakes(document, known_rules)]
    sheet = None
    try:
        sheet = whole_sheet().load(document)
    except ValidationError as error:
        mistakes += _once_a_place(list(mistakes_in(error.messages)))
    if sheet is not None and not asks_for_something(sheet):
        mistakes.append(((), say("asks for nothing: write at least one requirement, such as '{example}'.", example=EXAMPLE)))
    if sheet is None or mistakes:
        raise refusal(mistakes)
    assert isinstance(sheet, SpecSheet)
    return sheet


def _once_a_place(mistakes: list[tuple[Path, str]]) -> list[tuple[Path, str]]:
    """What is there but cannot be read is not missing as well, though the rest of its block does without it."""
    counts = Counter(path for path, _ in mistakes)
    return [(path, told) for path, told in mistakes if counts[path] == 1 or told != say(MISSING)]


def asks_for_something(sheet: SpecSheet) -> bool:
    """False where every block only allows."""
    return any(_asks(getattr(sheet, key)) for key in ASKING)


def _asks(value: object) -> bool:
    if isinstance(value, tuple):
        return bool(value)  # whatever the words in a list are: an ink may be called 'any'
    if is_dataclass(value):
        return any(_asks(getattr(value, one.name)) for one in fields(value) if one.name not in ONLY_HOW)
    return not any(value is nothing or value == nothing for nothing in ASKS_NOTHING if type(value) is type(nothing))


def _shape_mistakes(document: Mapping[object, object]) -> Iterator[tuple[Path, str]]:
    """What is too large, too deep or has keys that are no words; found before anything else looks at the document."""
    values: list[tuple[Path, object]] = [((), document)]
    seen = 0
    while values:
        path, value = values.pop()
        inner = _inside(value)
        seen += len(inner)
        if seen > MOST_VALUES:
            yield (), say("has more than {most} values: a spec sheet needs about a hundred.", most=MOST_VALUES)
            return
        if len(path) > _DEEPEST:
            yield path[:3], say("is nested too deeply.")
            return
        for key, one in inner:
            if isinstance(value, Mapping) and (not isinstance(key, str) or len(key) > LONGEST_KEY):
                yield path, say("has a key that is no word, or a very long one.")
            else:
                values.append(((*path, key), one))


def _inside(value: object) -> list[tuple[Any, object]]:
    if isinstance(value, Mapping):
        return list(value.items())
    return list(enumerate(value)) if isinstance(value, list | tuple) else []


def _identity_mistakes(document: Mapping[str, object], stored: bool) -> Iterator[tuple[Path, str]]:
    for key in IDENTITY:
        if stored and key not in document:
            yield (key,), say("is missing: a stored sheet needs it.")


def _level_mistakes(document: Mapping[str, object], known_rules: Collection[str] | None) -> Iterator[tuple[Path, str]]:
    levels = document.get("levels")
    if known_rules is None or not isinstance(levels, Mapping):
        return
    for rule in levels:
        if rule not in known_rules:
            near = nearest(rule, known_rules)
            if near:
                yield ("levels", rule), say("is not a rule of this service; did you mean '{near}'?", near=near)
            else:
                yield ("levels", rule), say("is not a rule of this service; GET /v1/rules lists them.")


__all__ = ["SheetRefused", "asks_for_something", "parse_sheet_text", "read_sheet", "read_sheet_text"]
