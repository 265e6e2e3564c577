"""A long piece of an upload: what came of it before the line broke is with the application, at its place."""

from __future__ import annotations

import hashlib
import socket
import struct
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest

from tests.door.test_conversation import LAST, door, said
from tests.patience import PATIENCE_SECONDS, until

PIECE = "application/offset+octet-stream"
BODY = bytes(range(256)) * 1000


class Kept:
    """An application that keeps what comes, as an upload does, and refuses what comes at another place."""

    def __init__(self) -> None:
        self.came = b""
        self.times = 0

    def __call__(self, environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        self.times += 1
        right = environ.get("HTTP_UPLOAD_OFFSET") == str(len(self.came))
        if right:
            piece = environ["wsgi.input"].read()
            assert len(piece) == int(environ["CONTENT_LENGTH"])
            self.came += piece
        start_response("204 No Content" if right else "409 Conflict", [("Upload-Offset", str(len(self.came)))])
        return []


def head(offset: int, length: int | None, **more: str) -> bytes:
    headers = {"Host": "x", "Content-Type": PIECE, "Upload-Offset": str(offset), **more}
    headers |= {"Transfer-Encoding": "chunked"} if length is None else {"Content-Length": str(length)}
    return "".join(["PATCH /u HTTP/1.1\r\n", *(f"{name}: {value}\r\n" for name, value in headers.items()), "\r\n"]).encode()


@pytest.fixture
def kept(monkeypatch: pytest.MonkeyPatch) -> Kept:
    monkeypatch.setattr("service.door.portions.PORTION_BYTES", 100_000)
    return Kept()


def test_a_long_piece_comes_in_portions_and_is_answered_once(tmp_path: Path, kept: Kept) -> None:
    with door(tmp_path, kept) as port:
        answer = said(port, head(0, len(BODY)), BODY, LAST)
    assert hashlib.sha256(kept.came).digest() == hashlib.sha256(BODY).digest()
    assert kept.times >= 3
    assert answer.count(b"HTTP/1.1 204") == 1
    assert b"Upload-Offset: 256000" in answer
    assert answer.count(b"HTTP/1.1") == 2  # the line goes on: whoever asks next is answered


def test_chunks_come_in_portions_too(tmp_path: Path, kept: Kept) -> None:
    chunk = b"%x\r\n%b\r\n" % (len(BODY), BODY)
    with door(tmp_path, kept) as port:
        answer = said(port, head(0, None), chunk, b"0\r\n\r\n", LAST)
    assert (kept.came == BODY, answer.count(b"HTTP/1.1 204")) == (True, 1)


@pytest.mark.parametrize("reset", [True, False])
def test_what_came_before_the_line_broke_is_kept(tmp_path: Path, kept: Kept, reset: bool) -> None:
    with door(tmp_path, kept) as port:
        with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as line:
            line.sendall(head(0, 3 * len(BODY)) + BODY)
            until(lambda: len(kept.came) >= 200_000, "two portions")
            if reset:
                line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        until(lambda: kept.times == 3, "what came last")
        assert BODY.startswith(kept.came)
        rest = BODY[len(kept.came) :]
        assert b"204" in said(port, head(len(kept.came), len(rest), Connection="close"), rest)
    assert kept.came == BODY


def test_a_refused_piece_ends_at_its_first_portion(tmp_path: Path, kept: Kept) -> None:
    with door(tmp_path, kept) as port:
        answer = said(port, head(7, len(BODY)), BODY)
    assert (kept.times, kept.came) == (1, b"")
    assert answer.startswith(b"HTTP/1.1 409")


def test_what_is_promised_as_a_whole_is_taken_as_a_whole(tmp_path: Path, kept: Kept) -> None:
    with door(tmp_path, kept) as port:
        said(port, head(0, len(BODY), **{"Content-Digest": "sha-256=:AA==:", "Connection": "close"}), BODY)
    assert (kept.times, kept.came == BODY) == (1, True)
