"""The body of a request, taken in whole before anybody looks at it: what is large lies in an unlinked file."""

from __future__ import annotations

import asyncio
import re
import tempfile
from asyncio import IncompleteReadError, LimitOverrunError, StreamReader
from collections.abc import AsyncIterator, Callable
from pathlib import Path
from typing import IO, Any, Protocol, cast

from service.door.pace import paced

IN_MEMORY_BYTES = 256 * 1024
"""That a body or an answer takes of memory; the rest of it lies in a file."""
PIECE_BYTES = 64 * 1024
_LOOK_EVERY_BYTES = 2**20
"""Whether there is still room."""
_MOST_TRAILERS = 50


class SentTooSlowly(OSError):
    """The caller was given up; what came of the body is not all of it."""


class NotAsAnnounced(OSError):
    """The body does not have the form that the headers announce."""


class NoRoomForBody(OSError):
    """There is not enough room for it on the disk."""


class Body(Protocol):
    def read(self, size: int = -1, /) -> bytes: ...


class NotTaken:
    """A body that did not come whole. Whoever reads it is told why, once, and is then at its end."""

    def __init__(self, why: OSError) -> None:
        self._why: OSError | None = why

    def read(self, size: int = -1, /) -> bytes:  # noqa: ARG002
        why, self._why = self._why, None
        if why is not None:
            raise why
        return b""


HasRoom = Callable[[int], bool]
"""Whether so many more bytes may be written."""


class Spools:
    """Where bodies and answers lie while they come and go."""

    def __init__(self, folder: Path, most_bytes: int, has_room: HasRoom) -> None:
        """`most_bytes`: of one body; whoever reads one that is larger finds it too large."""
        self._folder, self.most_bytes, self.has_room = folder, most_bytes, has_room

    def new(self) -> IO[bytes]:
        """Nothing is left of it when the process is killed: its file has no name."""
        return cast(IO[bytes], tempfile.SpooledTemporaryFile(IN_MEMORY_BYTES, dir=str(self._folder)))

    async def taken(self, pieces: AsyncIterator[bytes], announced_bytes: int) -> Body:
        if not self.has_room(announced_bytes):
            return NotTaken(NoRoomForBody())
        body, size, looked_at = self.new(), 0, 0
        try:
            async with paced() as pace:
                async for piece in pieces:
                    body.write(piece)
                    pace.went(len(piece))
                    size += len(piece)
                    if size > self.most_bytes:
                        break
                    if size - looked_at > _LOOK_EVERY_BYTES:
                        looked_at = size
                        if not self.has_room(0):
                            raise NoRoomForBody
        except TimeoutError:
            return _dropped(body, SentTooSlowly())
        except (IncompleteReadError, LimitOverrunError, ConnectionError, ValueError):  # a reset: nobody is there any longer
            return _dropped(body, NotAsAnnounced())
        except NoRoomForBody as full:
            return _dropped(body, full)
        except asyncio.CancelledError:
            body.close()
            raise
        except OSError:  # the disk
            return _dropped(body, NoRoomForBody())
        body.seek(0)
        return body


def _dropped(body: IO[Any], why: OSError) -> NotTaken:
    body.close()
    return NotTaken(why)


async def counted(reader: StreamReader, length: int) -> AsyncIterator[bytes]:
    while length:
        piece = await reader.read(min(length, PIECE_BYTES))
        if not piece:
            raise IncompleteReadError(b"", length)
        length -= len(piece)
        yield piece


async def chunks(reader: StreamReader) -> AsyncIterator[bytes]:
    """What the chunked coding holds (RFC 9112, 7.1). Raises ValueError where it is none."""
    while size := _size_of_chunk(await reader.readuntil(b"\r\n")):
        async for piece in counted(reader, size):
            yield piece
        if await reader.readexactly(2) != b"\r\n":
            raise ValueError("a chunk that does not end where it says")
    for _ in range(_MOST_TRAILERS):
        if await reader.readuntil(b"\r\n") == b"\r\n":
            return
    raise ValueError("more trailers than anybody needs")


def _size_of_chunk(line: bytes) -> int:
    found = re.fullmatch(rb"([0-9A-Fa-f]{1,12})(?:[ \t]*;[^\r\n]*)?\r\n", line)
    if not found:
        raise ValueError("no size of a chunk")
    return int(found[1], 16)
