"""`print-spec keys callbacks`: the only hosts that callbacks of one account go to."""

from __future__ import annotations

import argparse

from service.cli.keys.opened import account_named, hand, opened
from service.language.spoken import say


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Show or set the only hosts that callbacks of an account go to, among those that the service calls at all "
        "(PRINT_SPEC_CALLBACK_HOSTS)."
    )
    command.add_argument("account", metavar="ACCOUNT")
    wish = command.add_mutually_exclusive_group()
    wish.add_argument("--host", action="append", type=_host, metavar="HOST", help="such as hooks.shop.example; may be repeated")
    wish.add_argument("--all", action="store_true", help="all that the service calls")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    account = account_named(given.account)
    with opened() as here:
        from service.jobs.checking import now

        if given.host or given.all:
            here.accounts.set_callback_hosts(account, given.host or (), hand(), now())
        hosts = here.accounts.callback_hosts(account)
    print("\n".join(hosts) if hosts else say("all that the service calls"))
    return 0


def _host(text: str) -> str:
    from service.setting_values import hosts

    try:
        (host,) = hosts(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(say("write one host, such as hooks.shop.example or *.shop.example")) from error
    return host
