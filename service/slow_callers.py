"""Callers who send too slowly, or not what they announced: they are let go, so that the others are served.

A server process answers a few requests at the same time (PRINT_SPEC_THREADS). Whoever sends a byte a minute would keep one of
them for as long as he likes; as many of them as there are would keep everybody out.
"""

from __future__ import annotations

import socket
import struct
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any, Protocol

from gunicorn.http.errors import ParseException

HEAD_SECONDS = 10.0
"""For the request line and the headers."""
PIECE_BYTES = 64 * 1024
PIECE_SECONDS = 30.0
"""For each so many bytes of the body: about 2 kB a second, a tenth of what the slowest mobile networks carry (from memory)."""
ANSWER_SECONDS = 60
"""That a caller may leave an answer lying without taking any of it."""
_LOOK_EVERY_SECONDS = 0.5


class SentTooSlowly(OSError):
    """The caller was let go; what was read of the body is not all of it."""


class NotAsAnnounced(OSError):
    """The body does not have the form that the headers announce."""


class _Wait:
    def __init__(self, connection: socket.socket, seconds: float) -> None:
        self.connection, self.until, self.missed = connection, time.monotonic() + seconds, False


class Deadlines:
    """Stops the receiving of connections that have not sent by their time what is waited for; one thread for all."""

    def __init__(self) -> None:
        self._waits: set[_Wait] = set()
        self._changed = threading.Condition()
        self._thread: threading.Thread | None = None

    @contextmanager
    def within(self, connection: socket.socket, seconds: float) -> Iterator[_Wait]:
        wait = _Wait(connection, seconds)
        with self._changed:
            self._waits.add(wait)
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, name="deadlines", daemon=True)
                self._thread.start()
            self._changed.notify()
        try:
            yield wait
        finally:
            self.over(wait)

    def over(self, wait: _Wait) -> None:
        """Nothing is waited for any longer; a second call does nothing."""
        with self._changed:
            self._waits.discard(wait)

    def _work(self) -> None:
        while True:
            with self._changed:
                while not self._waits:
                    self._changed.wait()
                now = time.monotonic()
                for wait in [one for one in self._waits if one.until < now]:
                    self._waits.discard(wait)
                    wait.missed = True
                    _stop_receiving(wait.connection)
            time.sleep(_LOOK_EVERY_SECONDS)


def _stop_receiving(connection: socket.socket) -> None:
    try:
        connection.shutdown(socket.SHUT_RD)  # whoever reads from it, in another thread, is told that it has ended
    except OSError:
        return  # it is closed already


def limit_answering(connection: socket.socket) -> None:
    connection.setsockopt(socket.SOL_SOCKET, socket.SO_SNDTIMEO, struct.pack("ll", ANSWER_SECONDS, 0))


class Readable(Protocol):
    def read(self, size: int, /) -> bytes: ...


class Body:
    """The body of a request, a piece at a time. After an error it is at its end."""

    def __init__(self, body: Readable, connection: socket.socket, deadlines: Deadlines, seconds: float = PIECE_SECONDS) -> None:
        self._body, self._connection, self._deadlines, self._seconds = body, connection, deadlines, seconds
        self._over = False

    def read(self, size: int = -1, /) -> bytes:
        """Raises `SentTooSlowly`, `NotAsAnnounced`."""
        read = bytearray()
        while not self._over and (size < 0 or len(read) < size):
            piece = self._piece(PIECE_BYTES if size < 0 else min(PIECE_BYTES, size - len(read)))
            if not piece:
                break
            read += piece
        return bytes(read)

    def _piece(self, size: int) -> bytes:
        try:
            with self._deadlines.within(self._connection, self._seconds) as wait:
                piece = self._body.read(size)
        except (ParseException, OSError) as error:
            self._over = True
            raise (SentTooSlowly() if wait.missed else NotAsAnnounced()) from error
        if wait.missed:
            self._over = True
            raise SentTooSlowly
        return piece


Wsgi = Callable[..., Iterable[bytes]]


def with_patience(app: Wsgi, deadlines: Deadlines) -> Wsgi:
    """The application, its requests' bodies under a time limit."""

    def answer(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        connection = environ.get("gunicorn.socket")
        if connection is not None:
            environ["wsgi.input"] = Body(environ["wsgi.input"], connection, deadlines)
        return app(environ, start_response)

    return answer
