"""`print-spec keys limits`: how much one account may use, where it is not what the settings say for all."""

from __future__ import annotations

import argparse
from dataclasses import asdict, replace
from typing import Any

from service.accounts.limits import Wished
from service.cli.keys.opened import account_named, hand, opened
from service.language.spoken import say

USUAL = "usual"


def declare(command: argparse.ArgumentParser) -> None:
    command.description = f"Show or set what an account may use. '{USUAL}': as the settings say for all."
    command.add_argument("account", metavar="ACCOUNT")
    command.add_argument("--requests-per-minute", type=_count, metavar="N")
    command.add_argument("--bytes-per-day", type=_size, metavar="SIZE", help="such as '5 GB'")
    command.add_argument("--disk", type=_size, metavar="SIZE", dest="disk_bytes", help="files that are kept for it")
    command.add_argument("--sheets", type=_count, metavar="N", help="sheets of its own")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    account = account_named(given.account)
    asked: dict[str, Any] = {name: getattr(given, name) for name in asdict(Wished()) if getattr(given, name) is not None}
    with opened() as here:
        from service.jobs.checking import now

        changed = {name: None if value == USUAL else value for name, value in asked.items()}
        wished = replace(here.accounts.wished(account), **changed)
        if asked:
            here.accounts.set_limits(account, wished, hand(), now())
    holds = wished.over(here.settings.limits)
    for sentence in (
        say("requests in a minute: {count}", count=holds.requests_per_minute),
        say("bytes in a day: {count}", count=holds.bytes_per_day),
        say("bytes of files that are kept: {count}", count=holds.disk_bytes),
        say("sheets of its own: {count}", count=holds.sheets),
    ):
        print(sentence)
    return 0


def _count(text: str) -> int | str:
    return text if text == USUAL else _read("own_sheets", text)


def _size(text: str) -> int | str:
    return text if text == USUAL else _read("bytes_per_day", text)


def _read(like: str, text: str) -> Any:
    """As the setting of that name is written."""
    from service.settings import TABLE

    try:
        return next(one for one in TABLE if one.field == like).read(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from error
