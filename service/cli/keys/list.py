"""`print-spec keys list`."""

from __future__ import annotations

import argparse
import json
from typing import Any

from service.accounts.keys import shown
from service.answers.times import time_answer
from service.cli.keys.opened import opened
from service.language.spoken import say


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("--json", action="store_true", help="as JSON, one object a line")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    with opened() as here:
        rows = here.accounts.all_keys()
    keys = [
        {
            "key": shown(row.prefix),
            "account": row.owner,
            "scopes": row.scopes.split(),
            "note": row.note,
            "made_at": time_answer(row.made_at),
            "used_at": time_answer(row.used_at) if row.used_at else None,
            "turned_off_at": time_answer(row.turned_off_at) if row.turned_off_at else None,
        }
        for row in rows
    ]
    if given.json:
        for one in keys:
            print(json.dumps(one, ensure_ascii=False))
    else:
        _show(keys)
    return 0


def _show(keys: list[dict[str, Any]]) -> None:
    from rich.text import Text

    from service.cli.telling import console, plain_table

    table = plain_table(say("Key"), say("Account"), say("Allows"), say("For"), say("Made"), say("Last used"), say("Turned off"))
    for one in keys:
        days = ((one[name] or "")[:10] for name in ("made_at", "used_at", "turned_off_at"))
        table.add_row(*map(Text, (one["key"], one["account"], ", ".join(one["scopes"]), one["note"], *days)))
    console().print(table)
