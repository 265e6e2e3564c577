"""`print-spec keys turn-off`: from now on nobody gets in with it, nor with an upload token that it asked for."""

from __future__ import annotations

import argparse

from service.accounts.keys import prefix_in, shown
from service.cli.keys.opened import hand, opened
from service.cli.refused import Refused
from service.language.spoken import say


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Turn an API key off, at once and for good. The upload tokens that it asked for end with it."
    command.add_argument("key", metavar="KEY", help="as the list shows it, such as psk_1f2e3d4c")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    prefix = prefix_in(given.key)
    with opened() as here:
        from service.jobs.checking import now

        account = here.accounts.turn_off(prefix, hand(), now()) if prefix else None
    if prefix is None or account is None:
        raise Refused(say("There is no such key that is on. 'print-spec keys list' shows them."))
    print(say("{key} of {account} is turned off.", key=shown(prefix), account=account))
    return 0
