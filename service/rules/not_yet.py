"""What a sheet can ask and this version does not measure yet: each comes out `not_measured`, never as a silent pass.

A rule that gets its function loses its line here. Standing rules that are not written yet have no line: no sheet asks for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from service.pdf.measurements import Measurements
from service.rules.base import DECLARED, NotMeasured, Outcome, Rule
from service.sheets.model import Level, SpecSheet

NOT_YET = "{title}: not measured yet by this version"
"""The reason in the result."""


class Waiting(NamedTuple):
    rule_id: str
    title: str
    level: Level
    asked_by: str
    asks: Callable[[SpecSheet], object | None]


WAITING = (
    Waiting("ink.total", "Total ink", "must", "color.ink_limit",
            lambda s: s.color if s.color and s.color.ink_limit_percent is not None else None),
)  # fmt: skip


def _declaration(waiting: Waiting) -> Rule:
    reason = NOT_YET.format(title=waiting.title)

    def run(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:  # noqa: ARG001  (the shape of every rule)
        yield NotMeasured(reason)

    return Rule(
        id=waiting.rule_id,
        title=f"{reason}.",
        why="The sheet can ask for it, and a result must not pass over it in silence.",
        remedy="Look at this point yourself, or ask the printer to; this service says nothing about it yet.",
        knows="Only that the sheet asks.",
        cannot_know="Whether the file meets it.",
        source="the sheet",
        level=waiting.level,
        measured={},
        required={},
        asked_by=waiting.asked_by,
        asks=waiting.asks,
        run=run,
        module=__name__,
        built=False,
    )


DECLARED.update((waiting.rule_id, _declaration(waiting)) for waiting in WAITING)
