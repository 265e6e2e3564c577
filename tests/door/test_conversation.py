"""What passes the door, byte for byte, with an application that tells what it got."""

from __future__ import annotations

import asyncio
import hashlib
import socket
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from gunicorn.config import Config

from service.door.answering import Answering
from service.door.bodies import NoRoomForBody, NotAsAnnounced, SentTooSlowly, Spools
from service.door.conversation import Conversation
from tests.patience import PATIENCE_SECONDS, ended

MOST_BYTES = 1_000_000


def tells_what_came(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
    """The path and the body's digest; of a body that was not taken, why."""
    try:
        body = environ["wsgi.input"].read()
    except (SentTooSlowly, NotAsAnnounced, NoRoomForBody) as why:
        told = type(why).__name__.encode()
    else:
        told = hashlib.sha256(body).hexdigest().encode()
    said = f"{environ['REQUEST_METHOD']} {environ['PATH_INFO']} ".encode() + told + b"\n"
    start_response("200 OK", [("Content-Length", str(len(said)))])
    return [said]


def answers_at_length(_: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
    start_response("200 OK", [("Content-Length", "50000000")])
    return (bytes(1_000_000) for _ in range(50))


@contextmanager
def door(
    folder: Path, app: Callable[..., Any] = tells_what_came, room: Callable[[int], bool] = lambda _: True,
    is_refused: Callable[[dict[str, Any]], bool] = lambda _: False,
) -> Iterator[int]:
    """Its port."""
    spools = Spools(folder, MOST_BYTES, room)
    answering = Answering(app, Config(), spools, threads=1, is_refused=is_refused)
    opened, closing = threading.Event(), threading.Event()
    port: list[int] = []
    talking: set[asyncio.Task[None]] = set()

    async def came(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None
        talking.add(task)
        await Conversation(reader, writer, answering, spools).go_on()

    async def serve() -> None:
        server = await asyncio.start_server(came, "127.0.0.1", 0, limit=64 * 1024)
        port.append(server.sockets[0].getsockname()[1])
        opened.set()
        async with asyncio.timeout(10 * PATIENCE_SECONDS):
            while not closing.is_set():
                await asyncio.sleep(0.01)
        server.close()
        await asyncio.wait_for(asyncio.gather(*talking), PATIENCE_SECONDS)

    thread = threading.Thread(target=lambda: asyncio.run(serve()), name="door")
    thread.start()
    assert opened.wait(PATIENCE_SECONDS)
    try:
        yield port[0]
    finally:
        answering.close()
        closing.set()
        ended(thread)


def said(port: int, *sent: bytes) -> bytes:
    """All that comes back until the door closes the line."""
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as line:
        for piece in sent:
            line.sendall(piece)
        return b"".join(iter(lambda: line.recv(65536), b""))


def bodies(answer: bytes) -> list[str]:
    return [line for line in answer.decode().split("\n") if line.startswith(("GET ", "POST "))]


def digest(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


LAST = b"GET /last HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
NOTHING = digest(b"")


def test_one_request_follows_another_on_the_same_line(tmp_path: Path) -> None:
    card = b"POST /card HTTP/1.1\r\nHost: x\r\nContent-Length: 7\r\n\r\nHalyard"
    with door(tmp_path) as port:
        answer = said(port, card + card, LAST)
    assert bodies(answer) == [f"POST /card {digest(b'Halyard')}"] * 2 + [f"GET /last {NOTHING}"]


@pytest.mark.parametrize("size", [0, 1, 300_000, MOST_BYTES])
def test_a_body_comes_whole_whatever_its_size(tmp_path: Path, size: int) -> None:
    body = b"lane" * (size // 4) + b"x" * (size % 4)
    with door(tmp_path) as port:
        answer = said(port, f"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: {size}\r\n\r\n".encode() + body, LAST)
    assert bodies(answer)[0] == f"POST / {digest(body)}"


def test_chunks_are_put_together(tmp_path: Path) -> None:
    head = b"POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n"
    with door(tmp_path) as port:
        answer = said(port, head + b"4\r\nHaly\r\n3;note=1\r\nard\r\n0\r\nX-Trailer: 1\r\n\r\n", LAST)
    assert bodies(answer) == [f"POST / {digest(b'Halyard')}", f"GET /last {NOTHING}"]


@pytest.mark.parametrize("chunks", [b"zz\r\n", b"3\r\nabcd\r\n0\r\n\r\n", b"-1\r\n", b"1" * 70_000, b"0\r\n" + b"X: 1\r\n" * 60])
def test_broken_chunks_are_no_body_and_end_the_line(tmp_path: Path, chunks: bytes) -> None:
    with door(tmp_path) as port:
        answer = said(port, b"POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n" + chunks, LAST)
    assert bodies(answer) == ["POST / NotAsAnnounced"]


def test_a_body_that_is_cut_off_is_no_body(tmp_path: Path) -> None:
    with door(tmp_path) as port, socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as line:
        line.sendall(b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 9\r\n\r\nHal")
        line.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: line.recv(65536), b""))
    assert bodies(answer) == ["POST / NotAsAnnounced"]


def test_who_asks_first_is_told_to_go_on(tmp_path: Path) -> None:
    with door(tmp_path) as port, socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as line:
        line.sendall(b"POST / HTTP/1.1\r\nHost: x\r\nExpect: 100-continue\r\nConnection: close\r\nContent-Length: 1\r\n\r\n")
        assert line.recv(65536) == b"HTTP/1.1 100 Continue\r\n\r\n"
        line.sendall(b"x")
        answer = b"".join(iter(lambda: line.recv(65536), b""))
    assert answer.count(b"HTTP/1.1 ") == 1
    assert bodies(answer) == [f"POST / {digest(b'x')}"]


def test_a_body_that_is_announced_too_large_is_not_waited_for(tmp_path: Path) -> None:
    """The application refuses it by its length; a caller who asks first is not told to go on."""
    head = f"POST / HTTP/1.1\r\nHost: x\r\nExpect: 100-continue\r\nContent-Length: {MOST_BYTES + 1}\r\n\r\n".encode()
    with door(tmp_path) as port, socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as line:
        line.sendall(head)
        answer = b"".join(iter(lambda: line.recv(65536), b""))
    assert answer.startswith(b"HTTP/1.1 200 OK\r\n")
    assert b"Connection: close" in answer


def test_no_room_on_the_disk_is_told(tmp_path: Path) -> None:
    with door(tmp_path, room=lambda size: size < 5) as port:
        answer = said(port, b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 9\r\n\r\nHalyard!!")
    assert bodies(answer) == ["POST / NoRoomForBody"]


@pytest.mark.parametrize(
    ("sent", "status", "problem"),
    [
        (b"no request\r\n\r\n", b"400 ", b"/problems/bad-request"),
        (b"GET / HTTP/1.1\r\nHost: x\r\nNo header\r\n\r\n", b"400 ", b"/problems/bad-request"),
        (b"GET /" + b"a" * 9000 + b" HTTP/1.1\r\nHost: x\r\n\r\n", b"414 ", b"/problems/address-too-long"),
        (b"GET / HTTP/1.1\r\nHost: x\r\n" + b"X: 1\r\n" * 200 + b"\r\n", b"431 ", b"/problems/headers-too-large"),
        (b"GET / HTTP/1.1\r\nX: " + b"a" * 200_000, b"431 ", b"/problems/headers-too-large"),
        (
            b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nTransfer-Encoding: chunked\r\n\r\n",
            b"400 ",
            b"/problems/bad-request",
        ),
    ],
)
def test_what_is_no_request_is_a_documented_problem(tmp_path: Path, sent: bytes, status: bytes, problem: bytes) -> None:
    with door(tmp_path) as port:
        answer = said(port, sent)
    assert answer.startswith(b"HTTP/1.1 " + status)
    assert b"\r\nContent-Type: application/problem+json\r\n" in answer
    assert problem in answer


def test_a_body_has_a_time_as_a_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who sends a byte before each end of a shorter time would stay for ever."""
    monkeypatch.setattr("service.door.bodies.paced.__wrapped__.__defaults__", (0.3,))
    with door(tmp_path) as port, socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as line:
        line.sendall(b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 900000\r\n\r\n")
        line.settimeout(0.05)
        answer = b""
        for _ in range(20 * PATIENCE_SECONDS):
            line.sendall(b"x")
            try:
                answer += line.recv(65536)
            except TimeoutError:
                continue
            break
    assert bodies(answer) == ["POST / SentTooSlowly"]


def test_an_answer_that_nobody_takes_is_dropped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.door.conversation._ANSWER_GRACE_SECONDS", 0.3)
    monkeypatch.setattr("service.door.pace.LEAST_BYTES_A_SECOND", 10**9)  # what the system takes for him counts as gone
    with door(tmp_path, answers_at_length) as port, socket.socket() as line:
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        line.settimeout(PATIENCE_SECONDS)
        line.connect(("127.0.0.1", port))
        line.sendall(LAST)
        threading.Event().wait(1.5)
        with pytest.raises(ConnectionResetError):
            deque(iter(lambda: line.recv(65536), b""), maxlen=0)


def test_a_large_answer_lies_in_no_memory_and_leaves_no_file(tmp_path: Path) -> None:
    with door(tmp_path, answers_at_length) as port:
        assert len(said(port, LAST)) > 50_000_000
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "announced", [b"Content-Length: 900000", b"Transfer-Encoding: chunked", b"Content-Length: 9\r\nExpect: 100-continue"]
)
def test_what_is_refused_for_its_head_is_answered_before_its_body_comes(tmp_path: Path, announced: bytes) -> None:
    head = b"POST /card HTTP/1.1\r\nHost: x\r\n" + announced + b"\r\n\r\n"
    with door(tmp_path, is_refused=lambda environ: environ["PATH_INFO"] == "/card") as port:
        answer = said(port, head)
    assert bodies(answer) == ["POST /card NotAsAnnounced"]
    assert b"connection: close" in answer.lower()
    assert b"100 Continue" not in answer


def test_what_is_small_or_not_refused_comes_whole(tmp_path: Path) -> None:
    asked: list[str] = []

    def notes(environ: dict[str, Any]) -> bool:
        asked.append(environ["PATH_INFO"])
        return False

    with door(tmp_path, is_refused=notes) as port:
        small = b"POST /small HTTP/1.1\r\nHost: x\r\nContent-Length: 7\r\n\r\nHalyard"
        large = b"POST /large HTTP/1.1\r\nHost: x\r\nContent-Length: 900000\r\n\r\n" + bytes(900_000)
        answer = said(port, small, large, LAST)
    assert bodies(answer)[:2] == [f"POST /small {digest(b'Halyard')}", f"POST /large {digest(bytes(900_000))}"]
    assert asked == ["/large"]
