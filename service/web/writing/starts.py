"""What a sheet of one's own can start from, and what was read of it, which stands beside the form until it is kept."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import astuple, dataclass, fields, replace
from functools import cache
from typing import Any

from service.api.specs.kept_sheets import every_sheet
from service.language.alphabet import by_letters
from service.language.spoken import say, spoken, translated
from service.sheets.catalogue import family_files
from service.sheets.format.refusals import SheetRefused
from service.web.choices import choices, product_named
from service.web.writing.draft import Draft, complete_base, from_yaml
from service.web.writing.left_open import Question, Sentence, answers_taken, left_open
from service.web.writing.left_open import without as answered

LONGEST_KEPT = 60_000
"""Characters of a reading that the form carries along. Ours, no source."""


@dataclass(frozen=True)
class Read:
    """What was understood of a text or a template, and what is left open."""

    quotes: Mapping[str, str]
    """Name of a control and where its value comes from."""
    open: tuple[Sentence, ...]
    """What is open, by the sentences that it is asked about."""
    missed: tuple[str, ...]

    def kept(self) -> str:
        """To be carried along by the form."""
        told = {
            "quotes": dict(self.quotes),
            "open": [[one.quote, [list(astuple(asked)) for asked in one.questions]] for one in self.open],
            "missed": list(self.missed),
        }
        return json.dumps(told)[:LONGEST_KEPT]


def carried(text: str) -> Read | None:
    """What the form carried along; None where it is nothing of the kind: whoever sends it sees only his own words again."""
    try:
        match json.loads(text[:LONGEST_KEPT]) if text else None:
            case {"quotes": dict(quotes), "open": list(sentences), "missed": list(missed)}:
                said = {str(key): str(one) for key, one in quotes.items()}
                return Read(said, tuple(filter(None, map(_sentence, sentences))), tuple(map(str, missed)))
    except (ValueError, RecursionError):
        pass
    return None


def _sentence(told: Any) -> Sentence | None:
    match told:
        case [str(quote), list(asked)]:
            whole = (one for one in asked if isinstance(one, list) and len(one) == len(fields(Question)))
            questions = tuple(Question(*map(str, one)) for one in whole)
            return Sentence(quote, questions) if all(_is_asked(one) for one in questions) and questions else None
    return None


def _is_asked(one: Question) -> bool:
    """As this service asks it: a block of the form, and an answer that is none or JSON."""
    return one.block.startswith("/") and (not one.value or bool(answers_taken(f"{one.block}={one.value}")))


def without(read: Read, names: Iterable[str]) -> Read:
    """Those names are answered."""
    return replace(read, open=answered(read.open, names))


def told_of(reading: Mapping[str, Any], draft: int) -> tuple[Draft, Read]:
    """The draft of that number in the answer of a reading, with its evidence."""
    drafts = reading["drafts"]
    chosen = drafts[draft] if 0 <= draft < len(drafts) else drafts[0]
    quotes = {one["pointer"]: " ".join(one["quote"].split()) for one in chosen["values"]}
    missed = tuple(" ".join(one["quote"].split()) for one in reading["not_understood"])
    return Draft(chosen["draft"]), Read(quotes, left_open(reading["questions"]), missed)


def template_told(reading: Mapping[str, Any]) -> tuple[Draft, Read]:
    """The draft that an empty document gives, with where each value comes from."""
    quotes: dict[str, str] = {}
    for one in reading["values"]:
        entries = one["value"] if isinstance(one["value"], list) else []
        names = [f"{one['pointer']}/{at}/{key}" for at, entry in enumerate(entries) for key in entry] or [one["pointer"]]
        quotes |= dict.fromkeys(names, one["source"])
    asked = [{**one, "quote": one["source"], "value": None} for one in reading["questions"]]
    return Draft(reading["draft"]), Read(quotes, left_open(asked), ())


def sheet_pasted(text: str) -> Draft | None:
    """A text that is a sheet already."""
    try:
        return from_yaml(text)
    except SheetRefused:
        return None


def bases() -> list[tuple[str, list[tuple[str, str]]]]:
    """Families, then all products, each by id and name."""
    return [
        (say("Families of products"), _families(spoken())),
        (say("Products"), [(one.id, one.title) for one in choices()]),
    ]


@cache
def _families(language: str) -> list[tuple[str, str]]:
    """`language`: that in which they are said."""
    del language
    families = [(file.stem, complete_base(file.stem)) for file in family_files()]
    return sorted(((name, _family_said(name, family)) for name, family in families), key=lambda one: by_letters(one[1]))


def _family_said(name: str, family: Mapping[str, Any]) -> str:
    kind = family.get("product")
    said = translated(family.get("title")) or (product_named(kind) if isinstance(kind, str) else name.replace("-", " "))
    return f"{said} ({name})" if said.casefold() != name.replace("-", " ") else said


def product_kinds() -> list[tuple[str, str]]:
    kinds = {sheet.product for _, sheet in every_sheet() if sheet.product}
    return sorted(((kind, product_named(kind)) for kind in kinds), key=lambda one: by_letters(one[1]))


def drafts_named(reading: Mapping[str, Any]) -> Sequence[str]:
    """The products that a text says different things of; empty where it is about one."""
    drafts = reading["drafts"]
    return [one["product"] or say("What holds for everything") for one in drafts] if len(drafts) > 1 else []
