"""What a sheet has checked, before there is a file: each rule that it asks for, by the rule's own declaration."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.rules.base import Rule
from service.rules.catalogue import RULES
from service.sheets.model import Block, Level, SpecSheet


@dataclass(frozen=True)
class Demand:
    rule: Rule
    level: Level
    standing: bool
    """Whether it holds for every sheet."""


def demands(sheet: SpecSheet) -> Iterator[Demand]:
    """In the order of a result. What the sheet turns off is none."""
    for rule in RULES.values():
        asked, switch = rule.asks(sheet), sheet.levels.get(rule.id)
        if asked is None or switch == "off":
            continue
        yield Demand(rule, switch or usual_level(rule, asked), rule.asked_by.startswith("always"))


def usual_level(rule: Rule, asked: object) -> Level:
    """The block's own level, else the rule's."""
    return (asked.level if isinstance(asked, Block) else None) or rule.level
