"""What a reading leaves open, put together for the eye: each sentence once, with all that is asked about it.

Most certain first: what one press of a button settles, then what holds on a condition, then what somebody has to write. What the
text is silent on comes last and quotes nothing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from service.language.spoken import say
from service.language.wording import quoted
from service.sheets.prose.ours.lines import demand_said, place_said

LONGEST_ANSWER = 60_000
_LONGEST_DEMAND = 200
"""Characters of a demand within a question, as a reading has it."""


@dataclass(frozen=True)
class Question:
    asks: str
    """Of a demand: what makes it doubtful, without the demand; empty where nothing more is asked than whether it is meant."""
    block: str
    """Name of the block or control of the form that answers it."""
    value: str = ""
    """JSON of what that control would hold where the answer is yes; empty where there is more to say than that."""
    demand: str = ""
    """'Bleed – At least, on each side: 3 mm', where a yes settles it."""


@dataclass(frozen=True)
class Sentence:
    quote: str
    """Empty where the text has no words on it."""
    questions: tuple[Question, ...]

    @property
    def by_doubt(self) -> list[tuple[str, list[Question]]]:
        """One doubt about several demands is told once."""
        return [(asks, list(those)) for asks, those in groupby(self.questions, key=lambda one: one.asks)]

    @property
    def takes_all(self) -> str:
        """What a button sends that takes over all answers; empty where one would not do, or more than yes is to be said."""
        names = {one.block for one in self.questions}
        if not 1 < len(names) == len(self.questions) or not all(one.value for one in self.questions):
            return ""
        return json.dumps({one.block: json.loads(one.value) for one in self.questions})

    @property
    def names(self) -> list[str]:
        """What it is about: 'Size', 'Fonts'."""
        return list(dict.fromkeys(place_said(one.block.split("/")[1]) for one in self.questions))


def left_open(asked: Iterable[Mapping[str, Any]]) -> tuple[Sentence, ...]:
    """`asked`: the questions of a reading's answer, in the order of the text."""
    together: dict[str, list[Question]] = {}
    for one in asked:
        quote = " ".join((one["quote"] or "").split())
        together.setdefault(quote, []).append(_question(one))
    found = [Sentence(quote, tuple(sorted(questions, key=_doubt))) for quote, questions in together.items()]
    return tuple(sorted(found, key=lambda one: _doubt(one.questions[0]) if one.quote else _SILENT))


def _question(one: Mapping[str, Any]) -> Question:
    about, value = one["about"], one["value"]
    takes = json.dumps(value) if _content(value) else ""
    demand = demand_said(about, value) if takes else ""
    named = quoted(demand, _LONGEST_DEMAND)
    if one["question"] == say("{value} can be read here, and not for sure: is it asked of this sheet?", value=named):
        asks = ""
    elif demand and one["question"].count(named) == 1:
        asks = one["question"].replace(named, "…")
    else:
        asks, demand = one["question"], ""
    block, _, rest = about.partition(".")
    name = f"/levels/{rest}" if block == "levels" and rest else "/" + about.replace(".", "/")  # a rule has a dot of its own
    return Question(asks, name, takes, demand)


_SILENT = 3


def _doubt(one: Question) -> int:
    return 0 if not one.asks else 1 if one.value else 2


def without(sentences: Sequence[Sentence], names: Iterable[str]) -> tuple[Sentence, ...]:
    """Those names are answered."""
    answered = set(names)
    left = [
        replace(one, questions=tuple(question for question in one.questions if question.block not in answered))
        for one in sentences
    ]
    return tuple(one for one in left if one.questions)


def answers_taken(told: str) -> dict[str, list[str]]:
    """Names and contents of controls, of '/bleed/minimum="3 mm"' or an object of several; else empty."""
    name, _, value = told.partition("=")
    try:
        sent = json.loads(told if told.startswith("{") else value) if len(told) <= LONGEST_ANSWER else None
    except (ValueError, RecursionError):
        return {}
    answers = sent if told.startswith("{") else {name: sent}
    contents = {at: _content(one) for at, one in answers.items()} if isinstance(answers, dict) else {}
    return contents if all(at.startswith("/") and content for at, content in contents.items()) else {}


def _content(value: Any) -> list[str]:
    each = value if isinstance(value, list) else [value]
    simple = all(isinstance(one, str | int | float) and not isinstance(one, bool) for one in each)
    return [str(one) for one in each] if simple else []
