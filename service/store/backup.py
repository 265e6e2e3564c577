"""What one machine keeps, as one file: the database as of one moment, also while the service runs, its files, its secret.

With PostgreSQL and an S3-compatible store, their own tools do this.
"""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
import tarfile
import tempfile
from contextlib import closing
from pathlib import Path
from typing import IO

DATABASE = "checks.sqlite3"
_KEPT = re.compile(r"checks\.sqlite3|token-secret|files/[A-Za-z0-9_-]{1,40}\.pdf")


class BackupRefused(Exception):
    """And why."""


def save(data: Path, out: Path) -> int:
    """How many files of checks are in it. Raises `BackupRefused`; where it cannot be written, OSError, and nothing is left."""
    if not (data / DATABASE).is_file():
        raise BackupRefused(f"There is no database in {data}.")
    unfinished = out.with_name(f".{out.name}.unfinished")
    count = 0
    try:
        with (
            tempfile.TemporaryDirectory(dir=data) as folder,
            _private(unfinished) as file,
            tarfile.open(fileobj=file, mode="w") as tar,
        ):
            copy = Path(folder) / DATABASE
            ids = _copied(data / DATABASE, copy)
            tar.add(copy, DATABASE)
            if (data / "token-secret").is_file():
                tar.add(data / "token-secret", "token-secret")
            for check_id in ids:
                try:
                    tar.add(data / "files" / f"{check_id}.pdf", f"files/{check_id}.pdf")
                except FileNotFoundError:
                    continue  # it had none, or was forgotten just now
                count += 1
        unfinished.rename(out)
    finally:
        unfinished.unlink(missing_ok=True)
    return count


def _copied(database: Path, copy: Path) -> list[str]:
    """The ids of the checks in the copy."""
    with closing(sqlite3.connect(database)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
        return [str(check_id) for (check_id,) in target.execute("SELECT id FROM checks")]


def restore(saved: Path, data: Path) -> int:
    """How many files of checks there are. Raises `BackupRefused`, OSError; what is there is never written over."""
    if (data / DATABASE).exists():
        raise BackupRefused(f"There is a database in {data} already. Restore into a new folder.")
    (data / "files").mkdir(mode=0o700, parents=True, exist_ok=True)
    count = 0
    try:
        with tarfile.open(saved, "r:") as tar:
            members = {member.name: member for member in tar if member.isfile() and _KEPT.fullmatch(member.name)}
            if DATABASE not in members:
                raise BackupRefused(f"{saved} is no back-up.")
            for name in sorted(members, key=lambda name: name == DATABASE):  # the database last: without it nothing is there
                content = tar.extractfile(members[name])
                assert content is not None, "it is a file"
                with content, _private(data / name) as file:
                    shutil.copyfileobj(content, file)
                count += name.startswith("files/")
    except tarfile.TarError as error:
        raise BackupRefused(f"{saved} is no back-up.") from error
    return count


def _private(path: Path) -> IO[bytes]:
    return os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb")
