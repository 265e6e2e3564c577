"""`print-spec serve`: the HTTP service. The server's libraries are loaded when it runs."""

from __future__ import annotations

import argparse

from service.accounts.this_machine import is_this_machine
from service.cli.arguments import add_port
from service.cli.refused import Refused


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Run the HTTP service until it is stopped."
    command.add_argument("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    add_port(command, 8000, "port to listen on")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    from service.jobs.children.sandbox import demand
    from service.serving import serve
    from service.setting_values import OPEN
    from service.settings import SettingsRefused, read_settings
    from service.store.schema import SchemaUnknown

    try:
        settings = read_settings()
        demand(settings.sandbox)
    except SettingsRefused as refused:
        mistakes = (f"  {one}" for one in refused.mistakes)
        raise Refused("The service cannot start with these settings:", *mistakes) from refused
    if settings.access == OPEN and not is_this_machine(given.host):
        raise Refused(
            f"The service does not start: without keys, whoever reaches {given.host} could read, send and delete everything.",
            "  PRINT_SPEC_ACCESS=keys asks callers for a key; make one with: print-spec keys make NAME",
            "  PRINT_SPEC_ACCESS=open-anywhere leaves it open, for where something in front decides who comes in.",
        )
    try:
        serve(given.host, given.port, settings)
    except SchemaUnknown as unknown:
        raise Refused(str(unknown)) from unknown
    return 0
