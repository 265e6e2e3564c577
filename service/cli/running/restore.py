"""`print-spec restore`: a back-up into a new data folder."""

from __future__ import annotations

import argparse
from pathlib import Path

from service.cli.refused import Refused
from service.cli.running.backup import ELSEWHERE


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Put a back-up into the data folder (PRINT_SPEC_DATA), which must not hold a database."
    command.add_argument("saved", type=Path, metavar="FILE", help="what `print-spec backup` made")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    from service.settings import SettingsRefused, read_settings
    from service.store.backup import BackupRefused, restore

    try:
        settings = read_settings()
        if settings.database_url or settings.files:
            raise Refused(ELSEWHERE)
        count = restore(given.saved, settings.data)
    except (SettingsRefused, BackupRefused, OSError) as error:
        raise Refused(str(error)) from error
    print(f"{settings.data}: the database and {count} files")
    return 0
