"""One connection, from its first byte to its end: requests in, answers out. It waits on the event loop; a thread only answers.

* The head of a request, its body and its answer have each a time, from the first byte to the last (`service.door.pace`).
* The head is read by gunicorn's parser, the body by what that found in the head: there is one opinion about where a request ends.
* A body that is large is taken only where the head is not refused already: without a right key, at no such address.
* While the service stops, whoever is still sending is told so at once.
"""

from __future__ import annotations

import asyncio
import io
import logging
import socket
import struct
from asyncio import IncompleteReadError, LimitOverrunError, StreamReader, StreamWriter
from contextlib import suppress
from typing import IO, Any, NamedTuple

from gunicorn.http.body import ChunkedReader
from gunicorn.http.errors import ParseException
from gunicorn.http.parser import RequestParser

from service.door import refusals
from service.door.answering import Answer, Answering
from service.door.bodies import IN_MEMORY_BYTES, PIECE_BYTES, Body, NotAsAnnounced, NotTaken, Spools, chunks, counted
from service.door.pace import HEAD_SECONDS, paced
from service.door.portions import Portions, comes_in_portions

log = logging.getLogger(__name__)

MOST_HEAD_BYTES = 64 * 1024
IDLE_SECONDS = 15.0
"""That a connection is kept for another request."""
_ANSWER_GRACE_SECONDS = 60.0
_LINGER_SECONDS = 20.0
_LINGER_STOPPING_SECONDS = 1.0
_LINGER_BYTES = 512 * 2**20


class _Refused(Exception):
    """What was sent does not reach the application; the answer is there already."""

    def __init__(self, answer: bytes) -> None:
        super().__init__()
        self.answer = answer


class _Taken(NamedTuple):
    request: Any
    body: Body
    whole: bool
    """Whether the next request may follow."""
    portions: Portions | None = None
    """Instead of the body."""


class Conversation:
    def __init__(self, reader: StreamReader, writer: StreamWriter, answering: Answering, spools: Spools) -> None:
        self._reader, self._writer, self._answering, self._spools = reader, writer, answering, spools
        self._peer, self._server = writer.get_extra_info("peername"), writer.get_extra_info("sockname")
        self.receiving = False
        """Whether it may be broken off: nothing was begun yet."""
        self._begun = False
        self._stopping = False
        self._lingering: asyncio.Timeout | None = None
        writer.transport.set_write_buffer_limits(high=0)  # `drain` waits until all has gone

    async def go_on(self) -> None:
        """Until either side ends it. Cancelled while `receiving`, it tells the caller that the service stops."""
        try:
            while await self._next():
                pass
        except _Refused as refused:
            await self._refuse(refused.answer)
        except asyncio.CancelledError:
            if not (self.receiving and self._stopping):
                raise
            if self._begun:
                await self._refuse(refusals.stopping())
        except (ConnectionError, IncompleteReadError, TimeoutError):
            self._cut()  # gone, or not taking the answer: what is left of it is of no use
        finally:
            self._writer.close()

    def stop(self) -> None:
        """The service ends: what was answered is waited for no longer than a moment."""
        self._stopping = True
        if self._lingering is not None:
            self._lingering.reschedule(asyncio.get_running_loop().time() + _LINGER_STOPPING_SECONDS)

    def _cut(self) -> None:
        """The system keeps nothing of what was not taken."""
        line = self._writer.get_extra_info("socket")
        with suppress(OSError):  # closed already
            line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        self._writer.transport.abort()

    def refuse_at_once(self, answer: bytes) -> None:
        """Without hearing what the caller wants."""
        self._writer.write(answer)
        self._writer.close()

    async def _next(self) -> bool:
        """One request and its answer; whether another may follow."""
        self.receiving, self._begun = True, False
        taken = await self._take()
        self.receiving = False
        if taken is None:
            return False
        if taken.portions is not None:
            return await self._in_portions(taken.request, taken.portions)
        with await self._answering.of(taken.request, taken.body, self._peer, self._server, last=not taken.whole) as answer:
            await self._send(answer.content)
            if answer.steps is not None:
                await self._go_on_with(answer)
            if not answer.is_last:
                return True
        await self._linger()
        return False

    async def _in_portions(self, request: Any, portions: Portions) -> bool:
        while True:
            self.receiving = True
            portion = await portions.next()
            self.receiving = False
            going_on = not (portion.is_last or portion.is_cut)
            answer = await self._answering.of(
                request, portion.body, self._peer, self._server, last=False, changes=portion.changes
            )
            with answer:
                if portion.is_cut:
                    raise ConnectionResetError
                if going_on and not answer.is_refusal:
                    continue
                await self._send(answer.content)
                if not going_on and not answer.is_last:
                    return True
            await self._linger()
            return False

    # --- Taking ---------------------------------------------------------------------------------------------------------

    async def _take(self) -> _Taken | None:
        """None where no further request comes."""
        head = await self._head()
        if not head:
            return None
        try:
            request = next(RequestParser(self._answering.cfg, iter([head]), self._peer))
        except ParseException as error:
            raise _Refused(refusals.head_refused(error)) from error
        chunked = isinstance(request.body.reader, ChunkedReader)
        length = 0 if chunked else request.body.reader.length
        if length > self._spools.most_bytes:  # the application says so, from the headers alone
            return _Taken(request, io.BytesIO(), whole=False)
        if not chunked and not length:
            return _Taken(request, io.BytesIO(), whole=True)
        if await self._is_refused(request, length, chunked=chunked):
            return _Taken(request, NotTaken(NotAsAnnounced()), whole=False)
        if _expects(request):
            self._writer.write(b"HTTP/1.1 100 Continue\r\n\r\n")
        pieces = chunks(self._reader) if chunked else counted(self._reader, length)
        if comes_in_portions(request) and self._spools.has_room(length):
            return _Taken(request, io.BytesIO(), whole=True, portions=Portions(request, pieces, self._spools))
        body = await self._spools.taken(pieces, length)
        return _Taken(request, body, whole=not isinstance(body, NotTaken))

    async def _is_refused(self, request: Any, length: int, *, chunked: bool) -> bool:
        """For its head. Asked where the body is large or the caller waits for a word: a small one has come by then."""
        if length <= IN_MEMORY_BYTES and not chunked and not _expects(request):
            return False
        return await self._answering.refuses(request, self._peer, self._server)

    async def _head(self) -> bytes:
        try:
            async with asyncio.timeout(IDLE_SECONDS):
                first = await self._reader.read(1)
        except TimeoutError:
            return b""
        if not first:
            return b""
        self._begun = True
        try:
            async with asyncio.timeout(HEAD_SECONDS):
                return first + await self._reader.readuntil(b"\r\n\r\n")
        except TimeoutError as error:
            raise _Refused(refusals.head_too_slow()) from error
        except LimitOverrunError as error:
            raise _Refused(refusals.head_too_large()) from error

    # --- Giving out -----------------------------------------------------------------------------------------------------

    async def _send(self, content: IO[bytes]) -> None:
        async with paced(_ANSWER_GRACE_SECONDS) as pace:
            while piece := content.read(PIECE_BYTES):
                self._writer.write(piece)
                await self._writer.drain()
                pace.went(len(piece))

    async def _go_on_with(self, answer: Answer) -> None:
        assert answer.steps is not None
        async for piece in self._answering.going_on(answer.steps, self._peer):
            await self._send(io.BytesIO(answer.framed(piece)))
        await self._send(io.BytesIO(answer.framed(b"")))

    async def _refuse(self, answer: bytes) -> None:
        log.info("refused at the door: %s", answer.split(b"\r\n", 1)[0].decode("ascii"))
        await self._send(io.BytesIO(answer))
        await self._linger()

    async def _linger(self) -> None:
        """Takes what is still coming, and drops it: a connection that is closed while its caller sends loses the answer."""
        if self._writer.can_write_eof():
            self._writer.write_eof()
        left = _LINGER_BYTES
        try:
            async with asyncio.timeout(_LINGER_STOPPING_SECONDS if self._stopping else _LINGER_SECONDS) as self._lingering:
                while left > 0 and (piece := await self._reader.read(PIECE_BYTES)):
                    left -= len(piece)
        except TimeoutError:
            return
        finally:
            self._lingering = None


def _expects(request: Any) -> bool:
    """'100 Continue', before it sends the body."""
    return any(name == "EXPECT" for name, _ in request.headers)
