"""`print-spec work`: runs checks that others accepted, without HTTP. The service's libraries are loaded when it runs."""

from __future__ import annotations

import argparse

from service.cli.refused import Refused


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Run checks until it is stopped: those that `print-spec serve`, here or on other machines, accepts into the same "
        "database and files. Start as many as there are machines; PRINT_SPEC_WORKERS says how many checks each runs at once."
    )
    command.set_defaults(run=run)


def run(_: argparse.Namespace) -> int:
    from service.jobs.children.sandbox import demand
    from service.settings import SettingsRefused, read_settings
    from service.store.schema import SchemaUnknown
    from service.working import work

    try:
        settings = read_settings()
        demand(settings.sandbox)
        if not settings.workers:
            raise SettingsRefused(["PRINT_SPEC_WORKERS is '0': there would be no work."])
        work(settings)
    except SettingsRefused as refused:
        mistakes = (f"  {one}" for one in refused.mistakes)
        raise Refused("The work cannot start with these settings:", *mistakes) from refused
    except SchemaUnknown as unknown:
        raise Refused(str(unknown)) from unknown
    return 0
