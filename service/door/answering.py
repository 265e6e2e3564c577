"""A request that has come whole is answered by the application, in a thread, into a file: who takes it slowly holds no thread."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from typing import IO, Any, NamedTuple

from gunicorn.http import wsgi

from service.door.bodies import Body, Spools
from service.door.holding import DOOR, GOES_ON, Holding, Steps, Wishes

ALWAYS_ANSWERED = "/healthz"
"""By a thread of its own: whether the process lives does not depend on how busy it is."""


IsRefused = Callable[[dict[str, Any]], bool]
"""Whether what is told to the application of a request's head is refused, whatever its body holds."""


class Answer(NamedTuple):
    content: IO[bytes]
    """Head and body, from their start."""
    is_last: bool
    """The connection is closed after it."""
    is_refusal: bool
    steps: Steps | None = None
    """What goes on after it, piece by piece."""
    framed: Callable[[bytes], bytes] = bytes
    """A piece as it goes out; the empty one is the end."""

    def __enter__(self) -> Answer:
        return self

    def __exit__(self, *_: object) -> None:
        self.content.close()


class Answering:
    def __init__(self, app: Any, cfg: Any, spools: Spools, threads: int, is_refused: IsRefused = lambda _: False) -> None:
        self.cfg, self._app, self._spools, self._is_refused = cfg, app, spools, is_refused
        self._threads = ThreadPoolExecutor(threads, "request")
        self._always = ThreadPoolExecutor(1, "health")
        self._holding = Holding(self._threads)
        self._stopping = False

    def look_now(self) -> None:
        """For those who wait for something. On the event loop."""
        self._holding.look_now()

    def stop(self) -> None:
        """Each answer is the last of its connection, and whoever waits for something gets what there is."""
        self._stopping = True
        self._holding.stop()

    async def refuses(self, request: Any, peer: Any, server: Any) -> bool:
        """For its head alone: then it is answered without its body."""
        asked = asyncio.get_running_loop().run_in_executor
        return await asked(self._threads, lambda: self._is_refused(self._environ(request, BytesIO(), peer, server)[1]))

    async def of(
        self, request: Any, body: Body, peer: Any, server: Any, *, last: bool, changes: Mapping[str, Any] | None = None
    ) -> Answer:
        """Once it is there: who waits for something holds no thread. `changes`: of the environment."""
        address = str((peer or ("",))[0])
        wishes = Wishes(self._holding.has_room_for(address))
        answer = await self._once(request, body, peer, server, last, {DOOR: wishes, **(changes or {})})
        if wishes.steps is None or wishes.is_followed:
            return answer
        with answer:
            async for _ in self._holding.pieces(wishes.steps, address):
                pass
        return await self._once(request, BytesIO(), peer, server, last, {DOOR: Wishes(False), GOES_ON: True, **wishes.again})

    def going_on(self, steps: Steps, peer: Any) -> AsyncIterator[bytes]:
        return self._holding.pieces(steps, str((peer or ("",))[0]))

    async def _once(self, request: Any, body: Body, peer: Any, server: Any, last: bool, more: Mapping[str, Any]) -> Answer:
        threads = self._always if request.path == ALWAYS_ANSWERED else self._threads
        return await asyncio.get_running_loop().run_in_executor(
            threads, self._answered, request, body, peer, server, last, more
        )

    def _answered(self, request: Any, body: Body, peer: Any, server: Any, last: bool, more: Mapping[str, Any]) -> Answer:
        content = self._spools.new()
        response, environ = self._environ(request, content, peer, server)
        environ.update({"wsgi.multithread": True, "wsgi.input": body, **more})
        if last or self._stopping:
            response.force_close()
        pieces = self._app(environ, response.start_response)
        wishes = more.get(DOOR)
        steps = wishes.steps if wishes and wishes.is_followed else None
        try:
            for piece in pieces:
                response.write(piece)
            if steps is None:
                response.close()
        finally:
            if hasattr(pieces, "close"):
                pieces.close()
            if hasattr(body, "close"):
                body.close()
        content.seek(0)
        return Answer(content, response.should_close(), response.status_code >= 400, steps, _chunk if response.chunked else bytes)

    def _environ(self, request: Any, content: IO[bytes], peer: Any, server: Any) -> tuple[Any, dict[str, Any]]:
        """Gunicorn's response, which writes into `content`, and what the application is told."""
        made: tuple[Any, dict[str, Any]] = wsgi.create(request, _Into(content), peer, server, self.cfg)
        return made

    def close(self) -> None:
        self._threads.shutdown(wait=False)
        self._always.shutdown(wait=False)


def _chunk(piece: bytes) -> bytes:
    """RFC 9112, 7.1."""
    return b"%x\r\n%b\r\n" % (len(piece), piece)


class _Into:
    """What gunicorn's response writes into instead of a socket."""

    def __init__(self, content: IO[bytes]) -> None:
        self.sendall = content.write

    def send(self, data: bytes) -> int:
        """'100 Continue', which was said when it was time."""
        return len(data)
