"""What the form shows of a draft beside its questions: refusals at their places, the drawing, what is checked, what differs."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import groupby
from typing import Any

from service.language.first_words import begun_after_colon
from service.language.levels import ASKED
from service.language.spoken import say, say_about, translated
from service.language.wording import labelled, quoted, reason, set_apart
from service.pdf.facts.unknown import Unmeasured
from service.proofs.drawing.sheet_drawing import Units, sheet_drawing
from service.proofs.drawing.svg import drawing_svg
from service.rules.catalogue import RULES
from service.rules.demands import demands
from service.sheets.differences import Change
from service.sheets.model import SpecSheet
from service.web.topics import topic_named
from service.web.writing.choice_words import choice_said
from service.web.writing.controls import Group, Listing, Part
from service.web.writing.draft import Errors

_INCHES = re.compile(r'(in|inch|inches|"|″)\s*$', re.IGNORECASE)
_KEY_PATH = re.compile(r"\b[a-z_]+(?:\.[a-z_]+)+\b")


@dataclass(frozen=True)
class Drawn:
    address: str
    """A data address: the drawing is of a sheet that is kept nowhere."""
    words: str


def drawn(sheet: SpecSheet | None, units: Units) -> Drawn | str:
    """The drawing, or why there is none."""
    if sheet is None:
        return say("Write the size, and it is drawn here.")
    drawing = sheet_drawing(sheet, units)
    if isinstance(drawing, Unmeasured):
        return reason(drawing)
    coded = base64.b64encode(drawing_svg(drawing)).decode()
    return Drawn(f"data:image/svg+xml;base64,{coded}", drawing.words)


def units_of(document: Mapping[str, Any]) -> Units:
    """Those in which the width is written."""
    trim = document.get("trim")
    width = trim.get("width") if isinstance(trim, Mapping) else None
    return "in" if isinstance(width, str) and _INCHES.search(width) else "mm"


# --- What is checked ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Check:
    claim: str
    level: str
    level_said: str
    standing: bool


def checks(sheet: SpecSheet | None) -> list[tuple[str, list[Check]]]:
    """By topic, in the order of a result."""
    told = [] if sheet is None else list(demands(sheet))
    return [
        (topic, [Check(say(one.rule.title), one.level, say(ASKED[one.level]), one.standing) for one in those])
        for topic, those in groupby(told, key=lambda one: topic_named(one.rule.id))
    ]


def usual_levels() -> list[tuple[str, str, str]]:
    """Each rule with its claim and its usual strictness, for those who want it otherwise."""
    return [
        (rule.id, say(rule.title), say("Usually: {level}.", level=choice_said("level", rule.level))) for rule in RULES.values()
    ]


# --- Refusals -----------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Refusals:
    at: Mapping[str, str]
    """Name of a control, block or list, and what is said there."""
    general: tuple[str, ...]
    """What belongs to none of them."""

    @property
    def count(self) -> int:
        return len(self.at) + len(self.general)

    def inside(self, parts: Sequence[Part]) -> bool:
        """Whether something is said at one of them, or in it: it must not stand folded then."""
        names = tuple(part.name for part in parts)
        return any(name in names or name.startswith(tuple(f"{one}/" for one in names)) for name in self.at)


def refusals(errors: Errors, parts: Sequence[Part]) -> Refusals:
    """Each where its answer stands; the sentence begins with the question instead of the key."""
    labels = dict(_labels(parts))
    at: dict[str, list[str]] = {}
    general: list[str] = []
    for pointer, detail in errors:
        place = pointer
        while place and place not in labels:
            place = place.rpartition("/")[0]
        if not place:
            general.append(_in_words(detail, labels))
        else:
            key, _, said = detail.partition(" ")
            asked, is_key = quoted(labels[place]), said and key[:1].islower()  # 'id is missing', but 'There is a sheet …'
            rest = _in_words(said if is_key else begun_after_colon(detail), labels)
            at.setdefault(place, []).append(f"{asked} {rest}" if is_key else labelled(asked, rest))
    return Refusals({name: " ".join(dict.fromkeys(said)) for name, said in at.items()}, tuple(dict.fromkeys(general)))


def _labels(parts: Sequence[Part]) -> Iterator[tuple[str, str]]:
    for part in parts:
        if part.name != "/":
            yield part.name, part.label
        if isinstance(part, Listing):
            yield from _labels(part.entries)
        elif isinstance(part, Group):
            yield from _labels((*part.usual, *part.more))


def _in_words(text: str, labels: Mapping[str, str]) -> str:
    """Keys that a sentence names, as the form calls them: 'pages.allowed' → 'How many pages'."""

    def asked(found: re.Match[str]) -> str:
        label = labels.get("/" + found[0].replace(".", "/"))
        return quoted(label) if label else found[0]

    return _KEY_PATH.sub(asked, text)


# --- What differs -------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Differs:
    question: str
    before: str
    after: str


def differing(changes: Sequence[Change], parts: Sequence[Part]) -> list[Differs]:
    labels = dict(_labels(parts))
    return [
        Differs(_asked(one, labels), _shown(one.before, _place(one.path)), _shown(one.after, _place(one.path)))
        for one in changes
    ]


def _asked(change: Change, labels: Mapping[str, str]) -> str:
    """'Bleed: At least, on each side'."""
    pointers = ["/" + "/".join(map(str, change.path[: at + 1])) for at in range(len(change.path))]
    known = [labels.get(pointer, pointer.rpartition("/")[2]) for pointer in pointers]
    return reduce(labelled, known)


def _place(path: Sequence[str | int]) -> str:
    """'keep_clear.corner', without the numbers of entries."""
    return ".".join(one for one in path if isinstance(one, str))


def _shown(value: Any, place: str) -> str:
    """As the form calls what is chosen from a list; a stored sheet's own words in the reader's language."""
    if isinstance(value, Mapping):
        places = {key: place if place == "levels" else f"{place}.{key}" for key in value}
        return ", ".join(labelled(key, _shown(one, places[key])) for key, one in value.items())
    if isinstance(value, list | tuple):
        said = [_shown(one, place) for one in value]
        return set_apart(said) if any(isinstance(one, Mapping) for one in value) else ", ".join(said)
    if isinstance(value, bool):
        return say_about("in the file", "yes") if value else say_about("in the file", "no")
    text = "" if value is None else str(value)
    chosen = choice_said(place, text) if text else ""
    return translated(text) if chosen == text else chosen
