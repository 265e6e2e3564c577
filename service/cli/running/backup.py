"""`print-spec backup`: what this machine keeps, as one file, also while the service runs."""

from __future__ import annotations

import argparse
from pathlib import Path

from service.cli.refused import Refused

ELSEWHERE = (
    "The database or the files are not in the data folder (PRINT_SPEC_DATABASE_URL, PRINT_SPEC_FILES): save and restore them "
    "with their own tools, pg_dump, pg_restore and the store's."
)


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Save what is in the data folder (PRINT_SPEC_DATA) as one file, also while the service runs."
    command.add_argument("out", type=Path, metavar="OUT", help="a tar file that is made, or written anew")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    from service.settings import SettingsRefused, read_settings
    from service.store.backup import BackupRefused, save

    try:
        settings = read_settings()
        if settings.database_url or settings.files:
            raise Refused(ELSEWHERE)
        count = save(settings.data, given.out)
    except (SettingsRefused, BackupRefused, OSError) as error:
        raise Refused(str(error)) from error
    print(f"{given.out}: the database and {count} files")
    return 0
