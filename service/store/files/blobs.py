"""Uploaded files in a folder, named by the check's id; what the sender called them is never a path.

`service.store.files.bucket` keeps them for several machines.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

HEADER_WITHIN = 1024
"""Readers accept the header `%PDF-` anywhere in the first 1,024 bytes (ISO 32000-1:2008, Annex H, note 13, from memory)."""

_CHUNK = 1024 * 1024


class Readable(Protocol):
    def read(self, size: int, /) -> bytes: ...


class TooLarge(Exception):
    """More bytes came than are taken."""


class NoRoom(Exception):
    """The disk is full, or nearly so."""


class FilesAway(OSError):
    """The store of the files does not answer."""


@dataclass(frozen=True)
class Saved:
    size_bytes: int
    sha256: str
    head: bytes
    """The first `HEADER_WITHIN` bytes."""


class Blobs:
    def __init__(self, folder: Path, free_bytes: int = 0) -> None:
        """`free_bytes`: that no file may take from the disk."""
        self._folder, self._free_bytes = folder, free_bytes
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)

    def has_room(self, more_bytes: int = 0) -> bool:
        """Whether so many more bytes leave free what is to stay free. Raises OSError where the folder is gone."""
        disk = os.statvfs(self._folder)
        return disk.f_bavail * disk.f_frsize - more_bytes >= self._free_bytes

    def path(self, check_id: str) -> Path:
        """Where it is; no file is there where it is gone."""
        return self._here(check_id)

    def _here(self, check_id: str) -> Path:
        if not re.fullmatch(r"[A-Za-z0-9_-]{1,40}", check_id):
            raise ValueError(f"{check_id!r} is no id of a check")
        return self._folder / f"{check_id}.pdf"

    def save(self, check_id: str, stream: Readable, maximum_bytes: int) -> Saved:
        """Write the stream. Raises `TooLarge`, `NoRoom`; whatever is raised, nothing stays behind."""
        path, digest, size, head = self._here(check_id), hashlib.sha256(), 0, b""
        try:
            with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
                while chunk := stream.read(_CHUNK):
                    size += len(chunk)
                    if size > maximum_bytes:
                        raise TooLarge
                    if not self.has_room(len(chunk)):
                        raise NoRoom
                    head = (head + chunk[:HEADER_WITHIN])[:HEADER_WITHIN]
                    digest.update(chunk)
                    file.write(chunk)
        except BaseException as error:
            path.unlink(missing_ok=True)
            if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT):
                raise NoRoom from error
            raise
        return Saved(size, digest.hexdigest(), head)

    def adopt(self, check_id: str, file: Path) -> None:
        """A file of this machine as that of a check, too. Raises FileNotFoundError where it is gone."""
        try:
            os.link(file, self._here(check_id))
        except OSError as error:
            if error.errno != errno.EXDEV:
                raise
            shutil.copyfile(file, self._here(check_id))

    def save_here(self, check_id: str, stream: Readable, maximum_bytes: int) -> Saved:
        """For a moment, on this machine only."""
        return self.save(check_id, stream, maximum_bytes)

    def holds(self, check_id: str) -> bool:
        return self._here(check_id).is_file()

    def share(self, check_id: str, new_id: str) -> bool:
        """Give a new check the file of an earlier one; each may be forgotten without the other. False where it is gone."""
        try:
            os.link(self._here(check_id), self._here(new_id))
        except FileNotFoundError:
            return False
        return True

    def answers(self) -> bool:
        """Whether files can be kept and read."""
        return os.access(self._folder, os.W_OK)

    def forget(self, check_id: str) -> None:
        self._here(check_id).unlink(missing_ok=True)

    def older_than(self, epoch_seconds: float) -> Iterator[str]:
        """Ids of the files that were last written before that time."""
        for path in self._folder.glob("*.pdf"):
            try:
                if path.stat().st_mtime < epoch_seconds:
                    yield path.stem
            except FileNotFoundError:
                continue  # forgotten meanwhile by someone else
