"""`print-spec rules`: every rule, what breaks it, why, and what to do."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping, Sequence
from typing import Any

from service.language.levels import ASKED
from service.language.spoken import say
from service.rules.reference import reference


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Every rule: what breaks it, why, what to do."
    command.add_argument("--json", action="store_true", help="as JSON")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    rules = reference()
    if given.json:
        print(json.dumps(rules, indent=2, ensure_ascii=False))
        return 0
    _show(rules)
    return 0


def _show(rules: Sequence[Mapping[str, Any]]) -> None:
    from rich import box
    from rich.table import Table

    from service.cli.telling import Words, console

    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("Rule"), say("How strictly"), say("Asked by"), say("What is asked")):
        table.add_column(heading, overflow="fold")
    for one in rules:
        told = (one["id"], say(ASKED[one["level"]]), say(one["asked_by"]), say(one["title"]))
        table.add_row(*map(Words, told))
    console().print(table)
