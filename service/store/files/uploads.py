"""Files on their way in, piece by piece: what came stays when the line breaks, and the rest is added to it later.

Each is two files in a folder: what came so far, and what was said of it. How much has come is the size of the first, and stands
nowhere else. An upload that a check has taken leaves its facts, without the bytes, for as long as it would have been kept: the
same request may come again.

They lie on the machine that they came to, whatever keeps the files of checks: a balancer in front of several machines keeps each
caller's uploads at one of them.
"""

from __future__ import annotations

import errno
import fcntl
import hashlib
import json
import os
import re
import secrets
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import BinaryIO

from service.store.files.blobs import HEADER_WITHIN, Blobs, NoRoom, Readable, Saved, TooLarge

MOST_OF_A_SENDER, MOST_AT_ALL = 20, 400
"""That are on their way or not taken yet. Ours, no source."""
_CHUNK = 2**20


class TooMany(Exception):
    """The sender has so many uploads already, or all senders together."""


class OtherOffset(Exception):
    """The piece does not begin where what came so far ends."""

    def __init__(self, offset: int) -> None:
        super().__init__(f"{offset} bytes are here")
        self.offset = offset


class Busy(Exception):
    """Another piece of the same upload is just being written."""


@dataclass(frozen=True)
class Facts:
    """What was said of an upload when it was announced, and what became of it."""

    length: int
    sender: str
    """Who shares places with nobody else; it says nothing of the address."""
    owner: str
    """The account whose upload it is."""
    name: str | None = None
    """As the sender calls the file; text, never a path."""
    origin: str | None = None
    """Of the page that uploads with a token."""
    metadata: str | None = None
    """As it was sent, to be told again; without the token."""
    check: str | None = None
    """That has taken it."""
    sha256: str | None = None
    """Once a check has taken it."""


@dataclass(frozen=True)
class Upload:
    id: str
    facts: Facts
    offset: int
    """How many bytes are here."""
    expires_at: datetime

    @property
    def is_whole(self) -> bool:
        return self.offset == self.facts.length


class Uploads:
    def __init__(self, folder: Path, blobs: Blobs, kept: timedelta) -> None:
        """`kept`: after the last byte. The folder is made for the first upload; best on the disk of the blobs."""
        self._folder, self._blobs, self._kept = folder, blobs, kept

    def announce(self, facts: Facts, now: datetime) -> Upload:
        """Raises `TooMany`, `NoRoom`."""
        open_ones = [one.facts.sender for one in self._all(now) if one.facts.check is None]
        if len(open_ones) >= MOST_AT_ALL or open_ones.count(facts.sender) >= MOST_OF_A_SENDER:
            raise TooMany
        if not self._blobs.has_room(facts.length):
            raise NoRoom
        upload_id = secrets.token_urlsafe(18)
        try:
            self._folder.mkdir(mode=0o700, exist_ok=True)
            os.close(os.open(self._bytes(upload_id), os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
            self._touch(self._bytes(upload_id), now)
            self._write(upload_id, facts, now)
        except OSError as error:
            self.forget(upload_id)
            raise NoRoom from error
        return Upload(upload_id, facts, 0, now + self._kept)

    def get(self, upload_id: str, now: datetime) -> Upload | None:
        """None where there is none, or no longer."""
        if not re.fullmatch(r"[A-Za-z0-9_-]{1,40}", upload_id):
            return None
        try:
            facts = Facts(**json.loads(self._said(upload_id).read_text("utf-8")))
            written = (self._said if facts.check else self._bytes)(upload_id).stat()
        except FileNotFoundError:
            return None
        expires_at = datetime.fromtimestamp(written.st_mtime, UTC) + self._kept
        offset = facts.length if facts.check else written.st_size
        return Upload(upload_id, facts, offset, expires_at) if expires_at > now else None

    def add(self, upload: Upload, offset: int, piece: Readable, now: datetime) -> int:
        """How many bytes are here now. Raises `OtherOffset`, `TooLarge`, `NoRoom`, `Busy`; what was here stays, nothing more."""
        with self._bytes(upload.id).open("r+b") as file:
            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)  # gone with the process
            except BlockingIOError as error:
                raise Busy from error
            here = file.seek(0, os.SEEK_END)
            if here != offset:
                raise OtherOffset(here)
            try:
                here = self._append(file, here, upload.facts.length, piece)
                self._touch(self._bytes(upload.id), now)
                return here
            except BaseException as error:
                file.truncate(offset)
                if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT):
                    raise NoRoom from error
                raise

    def _append(self, file: BinaryIO, here: int, length: int, piece: Readable) -> int:
        while chunk := piece.read(_CHUNK):
            here += len(chunk)
            if here > length:
                raise TooLarge
            if not self._blobs.has_room(len(chunk)):
                raise NoRoom
            file.write(chunk)
        file.flush()
        return here

    def give(self, upload: Upload, check_id: str) -> Saved:
        """The whole file also as that of a check. Raises FileNotFoundError where it is gone, FilesAway."""
        self._blobs.adopt(check_id, self._bytes(upload.id))
        with self._bytes(upload.id).open("rb") as file:
            head = file.read(HEADER_WITHIN)
            file.seek(0)
            return Saved(upload.facts.length, hashlib.file_digest(file, "sha256").hexdigest(), head)

    def note_taken(self, upload: Upload, check_id: str, sha256: str, now: datetime) -> None:
        """The check has the file now; of the upload the facts are left."""
        self._write(upload.id, replace(upload.facts, check=check_id, sha256=sha256), now)
        self._bytes(upload.id).unlink(missing_ok=True)

    def forget(self, upload_id: str) -> None:
        self._bytes(upload_id).unlink(missing_ok=True)
        self._said(upload_id).unlink(missing_ok=True)

    def sweep(self, now: datetime) -> None:
        for path in [*self._folder.glob("*.bytes"), *self._folder.glob("*.json")]:
            if self.get(path.stem, now) is None and _is_older(path, now - self._kept):
                self.forget(path.stem)

    def _all(self, now: datetime) -> Iterator[Upload]:
        found = (self.get(path.stem, now) for path in self._folder.glob("*.json"))
        return (one for one in found if one)

    def _touch(self, path: Path, now: datetime) -> None:
        """The time that is kept counts from here, by the service's clock."""
        os.utime(path, (now.timestamp(), now.timestamp()))

    def _write(self, upload_id: str, facts: Facts, now: datetime) -> None:
        """At once, whole: whoever reads meanwhile finds the old or the new."""
        new = self._folder / f"{upload_id}.new"
        new.write_text(json.dumps(asdict(facts)), "utf-8")
        self._touch(new, now)
        new.replace(self._said(upload_id))

    def _bytes(self, upload_id: str) -> Path:
        return self._folder / f"{upload_id}.bytes"

    def _said(self, upload_id: str) -> Path:
        return self._folder / f"{upload_id}.json"


def _is_older(path: Path, than: datetime) -> bool:
    try:
        return path.stat().st_mtime < than.timestamp()
    except FileNotFoundError:
        return False
