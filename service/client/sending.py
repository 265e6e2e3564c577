"""A form with a file, given to the connection piece by piece: a large PDF is never held in memory, and the caller sees it go."""

from __future__ import annotations

import os
import uuid
from collections.abc import Callable, Iterator, Mapping
from typing import BinaryIO

Sent = Callable[[int, int], None]
"""Called with the bytes that are sent and all there are."""
_PIECE_BYTES = 1 << 16


class FormWithFile:
    """A body of multipart/form-data (RFC 7578) with one file, as long as it says it is."""

    def __init__(self, fields: Mapping[str, str], file: BinaryIO, name: str, sent: Sent | None = None) -> None:
        self._boundary = uuid.uuid4().hex
        self._file, self._start, self._sent = file, file.tell() if file.seekable() else 0, sent
        heads = [self._head(f'name="{_escaped(key)}"') + value.encode() + b"\r\n" for key, value in fields.items()]
        heads.append(self._head(f'name="file"; filename="{_escaped(name)}"', "Content-Type: application/pdf\r\n"))
        self._before, self._after = b"".join(heads), f"\r\n--{self._boundary}--\r\n".encode()
        self._file_bytes = file.seek(0, os.SEEK_END) - self._start

    @property
    def content_type(self) -> str:
        return f"multipart/form-data; boundary={self._boundary}"

    def __len__(self) -> int:
        return len(self._before) + self._file_bytes + len(self._after)

    def __iter__(self) -> Iterator[bytes]:
        """From the start, each time anew."""
        self._file.seek(self._start)
        yield self._before
        done = 0
        while done < self._file_bytes and (piece := self._file.read(min(_PIECE_BYTES, self._file_bytes - done))):
            yield piece
            done += len(piece)
            if self._sent:
                self._sent(done, self._file_bytes)
        yield self._after

    def _head(self, what: str, more: str = "") -> bytes:
        return f"--{self._boundary}\r\nContent-Disposition: form-data; {what}\r\n{more}\r\n".encode()


def _escaped(name: str) -> str:
    """As browsers write names of files (RFC 7578, 4.2, and the HTML standard)."""
    return name.replace('"', "%22").replace("\r", "%0D").replace("\n", "%0A")
