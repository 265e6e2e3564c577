"""`print-spec keys make`: the key goes to stdout, alone, so that a script can put it where secrets are kept."""

from __future__ import annotations

import argparse
import sys

from service.accounts.callers import SCOPES
from service.accounts.keys import new_key, shown
from service.cli.keys.opened import account_named, hand, opened
from service.language.spoken import say

_USUAL = ("check", "read")


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Make an API key. It is shown this once; only a hash of it is kept."
    command.add_argument("account", metavar="ACCOUNT", help="whose key it is, such as halyard-lane; made where there is none")
    usual = " and ".join(_USUAL)
    command.add_argument("--scope", action="append", choices=SCOPES, help=f"what it allows; may be repeated (default: {usual})")
    command.add_argument("--note", default="", help="what it is for, for the list of keys")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    account = account_named(given.account)
    scopes = [scope for scope in SCOPES if scope in (given.scope or _USUAL)]
    with opened() as here:
        from service.jobs.checking import now
        from service.setting_values import KEYS

        made = new_key()
        here.accounts.make_key(account, made.digest, made.prefix, scopes, given.note[:200], hand(), now())
    print(made.key)
    told = say(
        "{key} of {account} allows: {scopes}. It is not shown again.",
        key=shown(made.prefix), account=account, scopes=", ".join(scopes),
    )
    print(told, file=sys.stderr)
    if here.settings.access != KEYS:
        print(say("The service asks for keys once {setting} is set.", setting="PRINT_SPEC_ACCESS=keys"), file=sys.stderr)
    return 0
