"""Uploaded files in an S3-compatible store, for several machines; what is being worked on lies in a folder as well, for a while.

Keys, region and endpoint come from the environment as every S3 client has them (AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY,
AWS_REGION, AWS_ENDPOINT_URL, AWS_ALLOW_HTTP).
"""

from __future__ import annotations

import logging
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import obstore
from obstore.exceptions import BaseError
from obstore.store import S3Store

from service.store.files.blobs import Blobs, FilesAway, NoRoom, Readable, Saved

log = logging.getLogger(__name__)

_RETRIES = 3
_RETRY_FOR = timedelta(seconds=15)
_ANSWER_WITHIN = timedelta(seconds=30)
_KEPT_HERE_SECONDS = 15 * 60
"""Since somebody last needed it: as long as somebody looks at the pictures of his file, it is not fetched again."""
_LIST_EVERY_SECONDS = 10 * 60
"""All that is in the store, for what belongs to no check."""


class Bucket(Blobs):
    def __init__(self, url: str, cache: Path, free_bytes: int = 0) -> None:
        """`url`: `s3://bucket` or `s3://bucket/folder`; `cache`: of this process's machine."""
        super().__init__(cache, free_bytes)
        self._list_at = 0.0
        self._store = S3Store.from_url(
            url,
            client_options={
                "timeout": _ANSWER_WITHIN,
                "connect_timeout": timedelta(seconds=5),
                "allow_http": os.environ.get("AWS_ALLOW_HTTP", "").lower() == "true",  # which these options would override
            },
            retry_config={"max_retries": _RETRIES, "retry_timeout": _RETRY_FOR},
        )

    def path(self, check_id: str) -> Path:
        """Where it lies on this machine, fetched if need be; no file is there where it is gone. Raises FilesAway."""
        path = self._here(check_id)
        try:
            os.utime(path)
        except FileNotFoundError:
            self._fetch(path)
        return path

    def _fetch(self, path: Path) -> None:
        coming = path.with_name(f"{path.stem}.{os.getpid()}-{time.monotonic_ns()}.coming")
        try:
            with self._asked(), os.fdopen(os.open(coming, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
                for piece in obstore.get(self._store, path.name):
                    if not self.has_room(len(piece)):
                        raise FilesAway("no room for a file that is to be worked on")
                    file.write(piece)
            coming.rename(path)
        except FileNotFoundError:
            coming.unlink(missing_ok=True)
        except BaseException:
            coming.unlink(missing_ok=True)
            raise

    def holds(self, check_id: str) -> bool:
        try:
            with self._asked():
                obstore.head(self._store, self._here(check_id).name)
        except FileNotFoundError:
            return False
        return True

    def save(self, check_id: str, stream: Readable, maximum_bytes: int) -> Saved:
        """Raises besides FilesAway."""
        saved = super().save(check_id, stream, maximum_bytes)
        self._put(check_id)
        return saved

    def adopt(self, check_id: str, file: Path) -> None:
        """Raises besides FilesAway."""
        super().adopt(check_id, file)
        self._put(check_id)

    def _put(self, check_id: str) -> None:
        path = self._here(check_id)
        try:
            with self._asked():
                obstore.put(self._store, path.name, path)
        except BaseException:
            path.unlink(missing_ok=True)
            raise

    def save_here(self, check_id: str, stream: Readable, maximum_bytes: int) -> Saved:
        return super().save(check_id, stream, maximum_bytes)

    def share(self, check_id: str, new_id: str) -> bool:
        try:
            with self._asked():
                obstore.copy(self._store, self._here(check_id).name, self._here(new_id).name)
        except FileNotFoundError:
            return False
        return True

    def forget(self, check_id: str) -> None:
        """Where the store is away, its file is forgotten with the strays, later."""
        super().forget(check_id)
        try:
            with self._asked():
                obstore.delete(self._store, self._here(check_id).name)
        except FileNotFoundError:
            pass
        except FilesAway:
            log.exception("a file cannot be deleted just now")

    def older_than(self, epoch_seconds: float) -> Iterator[str]:
        """What is in the store; and what nobody has needed here for a while goes from here."""
        for path in self._folder.iterdir():
            try:
                if path.stat().st_mtime < time.time() - _KEPT_HERE_SECONDS:
                    path.unlink()
            except FileNotFoundError:
                continue
        if time.monotonic() < self._list_at:
            return
        self._list_at = time.monotonic() + _LIST_EVERY_SECONDS
        with self._asked():
            for some in obstore.list(self._store):
                for one in some:
                    name = Path(one["path"]).name
                    if name.endswith(".pdf") and one["last_modified"].timestamp() < epoch_seconds:
                        yield name.removesuffix(".pdf")

    def answers(self) -> bool:
        """Raises FilesAway."""
        with self._asked():
            next(iter(obstore.list(self._store, chunk_size=1)), None)
        return True

    @contextmanager
    def _asked(self) -> Iterator[None]:
        try:
            yield
        except (FileNotFoundError, FilesAway, NoRoom):
            raise
        except (BaseError, OSError) as error:
            raise FilesAway(f"the store of files does not answer: {type(error).__name__}") from error
