"""`print-spec audit`: who did what, the newest first."""

from __future__ import annotations

import argparse
import json

from service.answers.audit import audit_entry
from service.cli.arguments import from_1
from service.cli.keys.opened import opened
from service.language.spoken import say


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Who made and turned off keys, wrote and deleted sheets, deleted checks; the newest first."
    command.add_argument("--account", help="only of this account")
    command.add_argument("--most", type=from_1, default=100, metavar="N", help="entries at most (default: 100)")
    command.add_argument("--json", action="store_true", help="as JSON, one object a line")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    with opened() as here:
        rows = here.audit.entries(given.account, given.most)
    entries = [{"account": row.owner, **audit_entry(row.id, row.at, row.by, row.did, row.about)} for row in rows]
    if given.json:
        for one in entries:
            print(json.dumps(one, ensure_ascii=False))
        return 0
    from rich.text import Text

    from service.cli.telling import console, plain_table

    table = plain_table(say("Time"), say("Account"), say("By"), say("Did"), say("About"))
    for one in entries:
        table.add_row(*(Text(str(one[name])) for name in ("at", "account", "by", "did", "about")))
    console().print(table)
    return 0
