"""A line to a service that breaks: everything passes until so many bytes have gone in, then both ends find it cut."""

from __future__ import annotations

import socket
import struct
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from urllib.parse import urlsplit

from tests.patience import PATIENCE_SECONDS

_PIECE_BYTES = 64 * 1024
_AT_ONCE = struct.pack("ii", 1, 0)
"""SO_LINGER: what is still under way is dropped, and the other end is told so (a reset)."""


class Line:
    def __init__(self, address: str, breaks: Sequence[int]) -> None:
        self._target = (urlsplit(address).hostname, urlsplit(address).port)
        self._breaks = list(breaks)
        """After how many bytes, counted anew each time, it breaks; then it holds."""
        self._gone = 0
        self.broken = 0
        self._counting = threading.Lock()
        self._door = socket.create_server(("127.0.0.1", 0))
        self.address = f"http://127.0.0.1:{self._door.getsockname()[1]}"
        self._ends: list[socket.socket] = []
        self._threads = [threading.Thread(target=self._take, name="line")]
        self._threads[0].start()

    def _take(self) -> None:
        with suppress(OSError):  # closed
            while True:
                near, _ = self._door.accept()
                self._ends.append(near)
                near.settimeout(PATIENCE_SECONDS)
                far = socket.create_connection(self._target, timeout=PATIENCE_SECONDS)
                self._ends.append(far)
                for one in ((near, far, True), (far, near, False)):
                    self._threads.append(threading.Thread(target=self._pass_on, args=one, name="line"))
                    self._threads[-1].start()

    def _pass_on(self, source: socket.socket, target: socket.socket, goes_in: bool) -> None:
        with suppress(OSError):  # either end is gone
            while piece := source.recv(_PIECE_BYTES):
                target.sendall(piece)
                if goes_in and self._breaks_now(len(piece)):
                    for one in (source, target):
                        one.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, _AT_ONCE)
                        one.shutdown(socket.SHUT_RD)  # wakes who reads there, and tells nobody
                        one.close()
                    return
            target.shutdown(socket.SHUT_WR)

    def _breaks_now(self, count: int) -> bool:
        with self._counting:
            self._gone += count
            if not self._breaks or self._gone < self._breaks[0]:
                return False
            del self._breaks[0]
            self._gone = 0
            self.broken += 1
            return True

    def close(self) -> None:
        self._door.shutdown(socket.SHUT_RDWR)
        self._door.close()
        for end in self._ends:
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
        for one in self._threads:
            one.join(PATIENCE_SECONDS)
        for end in self._ends:
            end.close()


@contextmanager
def line_that_breaks(address: str, *after_bytes: int) -> Iterator[Line]:
    line = Line(address, after_bytes)
    try:
        yield line
    finally:
        line.close()
