"""Callers who are slow keep nobody out: the service answers the others while they are still there.

One thread answers requests here: whoever held it would hold everybody. Nothing is timed; that the slow callers are still there
when an honest one has his answer says that he did not wait for them.
"""

from __future__ import annotations

import socket
from collections.abc import Iterator

import pytest
import requests

from tests.build import page
from tests.door.callers import slow_heads, slow_readers, slow_senders
from tests.patience import PATIENCE_SECONDS
from tests.running import Running, running

CARD = {"spec": "business-card-85x55"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("service") / "data", THREADS="1", MAXIMUM_UPLOAD="10 MB") as started:
        yield started


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return path.read_bytes()


def a_card_is_checked(service: Running, card: bytes) -> None:
    assert requests.get(f"{service.address}/healthz", timeout=PATIENCE_SECONDS).json() == {"status": "ok"}
    files = {"file": ("card.pdf", card)}
    answer = requests.post(f"{service.address}/v1/checks", files=files, data=CARD, timeout=PATIENCE_SECONDS)
    assert (answer.status_code, answer.json()["verdict"]) == (201, "conforming")


def test_slow_senders_keep_nobody_out(service: Running, card: bytes) -> None:
    with slow_senders(service.address, 16) as slow:
        a_card_is_checked(service, card)
        assert slow.still_there == 16


def test_slow_heads_keep_nobody_out(service: Running, card: bytes) -> None:
    with slow_heads(service.address, 16) as slow:
        a_card_is_checked(service, card)
        assert slow.still_there == 16


def test_slow_readers_keep_nobody_out(service: Running, card: bytes) -> None:
    with slow_readers(service.address, 18, "/openapi.json") as slow:
        a_card_is_checked(service, card)
        assert slow.still_there == 18


def test_a_head_that_does_not_end_is_refused_in_time(service: Running) -> None:
    """The time counts from its first byte, however many come."""
    host, _, port = service.address.removeprefix("http://").partition(":")
    with socket.create_connection((host, int(port)), timeout=PATIENCE_SECONDS) as line:
        line.sendall(b"GET / HTTP/1.1\r\nHost: x\r\nX-Slow: ")
        answer = b"".join(iter(lambda: line.recv(4096), b""))
    assert answer.startswith(b"HTTP/1.1 408 ")
    assert b"Content-Type: application/problem+json" in answer
