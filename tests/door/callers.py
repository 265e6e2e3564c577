"""Callers who keep a service busy: slow senders, slow heads, slow readers. Each holds its connections until it is let go."""

from __future__ import annotations

import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any
from urllib.parse import urlsplit

import requests
from requests.adapters import HTTPAdapter

from tests.patience import PATIENCE_SECONDS

ELSEWHERE = "127.0.77.1"
"""Of this machine too, and of another block of addresses than 127.0.0.1."""


class _From(HTTPAdapter):
    def __init__(self, address: str) -> None:
        self._address = address
        super().__init__()

    def init_poolmanager(self, *args: Any, **kwargs: Any) -> None:
        super().init_poolmanager(*args, source_address=(self._address, 0), **kwargs)  # type: ignore[no-untyped-call]


def session(source: str) -> requests.Session:
    """Of a caller with that address."""
    made = requests.Session()
    made.mount("http://", _From(source))
    return made


class Callers:
    """Open connections of one kind."""

    def __init__(self, lines: list[socket.socket]) -> None:
        self._lines = lines

    @property
    def still_there(self) -> int:
        """How many the service has not closed."""
        return sum(_is_open(line) for line in self._lines)


@contextmanager
def slow_heads(address: str, count: int) -> Iterator[Callers]:
    """A header that never ends, a byte at a time."""
    with _trickling(address, count, b"GET /v1/specs HTTP/1.1\r\nHost: localhost\r\nX-Slow: ") as callers:
        yield callers


@contextmanager
def slow_senders(address: str, count: int) -> Iterator[Callers]:
    """A PDF of 5 MB, a byte at a time."""
    head = (
        b"POST /v1/checks?spec=business-card-85x55 HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/pdf\r\n"
        b"Content-Length: 5000000\r\n\r\n%PDF-1.7"
    )
    with _trickling(address, count, head) as callers:
        yield callers


@contextmanager
def slow_readers(address: str, count: int, path: str) -> Iterator[Callers]:
    """Who ask for what is large and take nothing of it."""
    with ExitStack() as stack:
        lines = [_line(address, stack, receive_bytes=4096) for _ in range(count)]
        for line in lines:
            line.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost\r\n\r\n".encode())
        for line in lines:
            assert line.recv(1, socket.MSG_PEEK), "the answer has begun"
        yield Callers(lines)


@contextmanager
def _trickling(address: str, count: int, begin: bytes) -> Iterator[Callers]:
    with ExitStack() as stack:
        lines = [_line(address, stack) for _ in range(count)]
        for line in lines:
            line.sendall(begin)
        stack.enter_context(_again_and_again(lambda: [_send(line, b"x") for line in lines]))
        yield Callers(lines)


@contextmanager
def _again_and_again(act: Callable[[], object]) -> Iterator[None]:
    stop = threading.Event()

    def work() -> None:
        while not stop.wait(0.1):
            act()

    thread = threading.Thread(target=work, name="slow callers")
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join(PATIENCE_SECONDS)


def _line(address: str, stack: ExitStack, receive_bytes: int | None = None) -> socket.socket:
    found = urlsplit(address)
    line = stack.enter_context(socket.socket())
    if receive_bytes is not None:
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, receive_bytes)
    line.settimeout(PATIENCE_SECONDS)
    line.connect((found.hostname, found.port))
    return line


def _send(line: socket.socket, data: bytes) -> None:
    try:
        line.sendall(data)
    except OSError:
        return  # it was closed


def _is_open(line: socket.socket) -> bool:
    """Nothing has come yet, or something that is not the end."""
    line.setblocking(False)
    try:
        return bool(line.recv(1, socket.MSG_PEEK))
    except BlockingIOError:
        return True
    except OSError:
        return False
    finally:
        line.settimeout(PATIENCE_SECONDS)
