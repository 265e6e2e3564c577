"""Callers who send too slowly do not keep the others out."""

from __future__ import annotations

import io
import socket
import time
from collections.abc import Iterator

import pytest
from gunicorn.http.errors import InvalidChunkSize

from service.slow_callers import Body, Deadlines, NotAsAnnounced, SentTooSlowly


@pytest.fixture
def line() -> Iterator[tuple[socket.socket, socket.socket]]:
    """(the caller's end, ours)."""
    theirs, ours = socket.socketpair()
    with theirs, ours:
        yield theirs, ours


class Received:
    """As a server's body: waits until so many bytes have come or the line has ended."""

    def __init__(self, ours: socket.socket) -> None:
        self._ours = ours

    def read(self, size: int, /) -> bytes:
        data = b""
        while len(data) < size and (more := self._ours.recv(size - len(data))):
            data += more
        return data


def test_a_body_that_comes_in_time_is_read_whole(line: tuple[socket.socket, socket.socket]) -> None:
    theirs, ours = line
    theirs.sendall(b"%PDF-1.7 card")
    theirs.shutdown(socket.SHUT_WR)
    body = Body(Received(ours), ours, Deadlines())
    assert (body.read(4), body.read(), body.read(9)) == (b"%PDF", b"-1.7 card", b"")


def test_a_body_larger_than_a_piece_is_read_to_the_size_that_is_asked() -> None:
    theirs, ours = socket.socketpair()
    with theirs, ours:
        body = Body(io.BytesIO(bytes(300_000)), ours, Deadlines())
        assert [len(body.read(200_000)), len(body.read(200_000)), len(body.read(1))] == [200_000, 100_000, 0]


@pytest.mark.parametrize("sends", [b"", b"%PDF"])
def test_who_stops_sending_is_let_go(line: tuple[socket.socket, socket.socket], sends: bytes) -> None:
    theirs, ours = line
    theirs.sendall(sends)
    body, began = Body(Received(ours), ours, Deadlines(), seconds=0.2), time.monotonic()
    with pytest.raises(SentTooSlowly):
        body.read(100)
    assert time.monotonic() - began >= 0.2
    assert body.read(100) == b"", "after an error the body is at its end"


def test_a_line_that_is_waited_for_no_longer_is_left_alone(line: tuple[socket.socket, socket.socket]) -> None:
    theirs, ours = line
    deadlines = Deadlines()
    with deadlines.within(ours, 0.1) as wait:
        deadlines.over(wait)
        time.sleep(0.8)
    theirs.sendall(b"late")
    assert (ours.recv(10), wait.missed) == (b"late", False)


def test_a_body_in_broken_chunks_is_not_as_announced(line: tuple[socket.socket, socket.socket]) -> None:
    class Broken:
        def read(self, _: int, /) -> bytes:
            raise InvalidChunkSize(b"zz")

    body = Body(Broken(), line[1], Deadlines())
    with pytest.raises(NotAsAnnounced):
        body.read(10)
    assert body.read(10) == b""
