"""A request that has come whole is answered by the application, in a thread, into a file: who takes it slowly holds no thread."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from typing import IO, Any, NamedTuple

from gunicorn.http import wsgi

from service.door.bodies import Body, Spools

ALWAYS_ANSWERED = "/healthz"
"""By a thread of its own: whether the process lives does not depend on how busy it is."""


class Answer(NamedTuple):
    content: IO[bytes]
    """Head and body, from their start."""
    is_last: bool
    """The connection is closed after it."""

    def __enter__(self) -> Answer:
        return self

    def __exit__(self, *_: object) -> None:
        self.content.close()


class Answering:
    def __init__(self, app: Any, cfg: Any, spools: Spools, threads: int) -> None:
        self.cfg, self._app, self._spools = cfg, app, spools
        self._threads = ThreadPoolExecutor(threads, "request")
        self._always = ThreadPoolExecutor(1, "health")
        self.stopping = False

    async def of(self, request: Any, body: Body, peer: Any, server: Any, *, last: bool) -> Answer:
        threads = self._always if request.path == ALWAYS_ANSWERED else self._threads
        return await asyncio.get_running_loop().run_in_executor(threads, self._answered, request, body, peer, server, last)

    def _answered(self, request: Any, body: Body, peer: Any, server: Any, last: bool) -> Answer:
        content = self._spools.new()
        response, environ = wsgi.create(request, _Into(content), peer, server, self.cfg)
        environ.update({"wsgi.multithread": True, "wsgi.input": body})
        if last or self.stopping:
            response.force_close()
        pieces = self._app(environ, response.start_response)
        try:
            for piece in pieces:
                response.write(piece)
            response.close()
        finally:
            if hasattr(pieces, "close"):
                pieces.close()
            if hasattr(body, "close"):
                body.close()
        content.seek(0)
        return Answer(content, response.should_close())

    def close(self) -> None:
        self._threads.shutdown(wait=False)
        self._always.shutdown(wait=False)


class _Into:
    """What gunicorn's response writes into instead of a socket."""

    def __init__(self, content: IO[bytes]) -> None:
        self.sendall = content.write

    def send(self, data: bytes) -> int:
        """'100 Continue', which was said when it was time."""
        return len(data)
