"""Callers who are slow keep nobody out: the service answers the others while they are still there.

One thread answers requests here: whoever held it would hold everybody. Nothing is timed; that the slow callers are still there
when an honest one has his answer says that he did not wait for them.
"""

from __future__ import annotations

import socket
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple

import pytest
import requests

from tests.build import page
from tests.door.callers import ELSEWHERE, session, slow_heads, slow_readers, slow_senders
from tests.patience import PATIENCE_SECONDS, until
from tests.running import Running, running

CARD = {"spec": "business-card-85x55"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("service") / "data", THREADS="1", MAXIMUM_UPLOAD="10 MB") as started:
        yield started


class Waiting(NamedTuple):
    service: Running
    data: Path

    def go_on(self) -> None:
        (self.data / "files" / "go").touch()


@pytest.fixture
def waiting(tmp_path: Path) -> Iterator[Waiting]:
    """One thread answers, and checks stand still until they are let go on."""
    data = tmp_path / "data"
    with running(data, "tests.jobs.faults:waits_for_a_file", THREADS="1", WAIT_SECONDS="60", STOP_SECONDS="0") as started:
        yield Waiting(started, data)


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
        line.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ")
        answer = b"".join(iter(lambda: line.recv(4096), b""))
    assert answer.startswith(b"HTTP/1.1 408 ")
    assert b"Content-Type: application/problem+json" in answer


# --- Those who wait -----------------------------------------------------------------------------------------------------

STAYS = b"%PDF-1.7 stays" + b" " * 815
"""829 bytes that run until they are stopped (`tests.jobs.faults`)."""


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    data = tmp_path_factory.mktemp("busy") / "data"
    patient = {"FIRST_PASS_SECONDS": "5"}  # enough for the honest card where ten others want each processor
    settings = {"STOP_SECONDS": "0", "CHECK_SECONDS": "3600", "THREADS": "8", "WAIT_SECONDS": "4", **patient}
    with running(data, "tests.jobs.faults:stays_if_told", **settings) as started:
        yield started


def test_callers_who_wait_for_long_checks_keep_nobody_out(busy: Running, card: bytes) -> None:
    """Twenty who send and wait, and then so many more that their line is full."""
    with ThreadPoolExecutor(60) as pool:
        waiting = [pool.submit(sent, busy, STAYS) for _ in range(20)]
        codes = [answer.result(PATIENCE_SECONDS).status_code for answer in waiting[:1]]
        assert requests.get(f"{busy.address}/healthz", timeout=PATIENCE_SECONDS).status_code == 200
        finished_from_elsewhere(busy, card)
        more = [pool.submit(sent, busy, STAYS, Prefer="respond-async") for _ in range(40)]
        codes += [answer.result(PATIENCE_SECONDS).status_code for answer in (*waiting[1:], *more)]
        assert set(codes) == {202, 429}, "one sender's line is full"
        refused = next(one.result(PATIENCE_SECONDS) for one in more if one.result(PATIENCE_SECONDS).status_code == 429)
        assert int(refused.headers["Retry-After"]) > 1, "which says how long his own checks take"
        finished_from_elsewhere(busy, card)
    checks = [one.result(PATIENCE_SECONDS).json() for one in (*waiting, *more) if one.result(PATIENCE_SECONDS).status_code == 202]
    states = Counter(state(busy, one["id"]) for one in checks)
    assert set(states) <= {"queued", "running"}, "none of them ended while the others were served"
    assert states["running"] <= 3


def sent(service: Running, pdf: bytes, caller: requests.Session | None = None, **headers: str) -> requests.Response:
    files = {"file": ("card.pdf", pdf)}
    address = f"{service.address}/v1/checks"
    post = caller.post if caller else requests.post
    return post(address, files=files, data=CARD, headers=headers, timeout=PATIENCE_SECONDS)


def finished_from_elsewhere(service: Running, card: bytes) -> None:
    with session(ELSEWHERE) as caller:
        check = sent(service, card, caller).json()["id"]
        until(lambda: state(service, check) == "finished", "the honest card finished")


def state(service: Running, check: str) -> str:
    return str(requests.get(f"{service.address}/v1/checks/{check}", timeout=PATIENCE_SECONDS).json()["state"])


def test_those_who_wait_and_listen_keep_nobody_out(waiting: Waiting, card: bytes) -> None:
    """Twenty wait for one check and twenty hear how far it is, and a card of somebody else is sent meanwhile: each of them with
    the only thread that there is.
    """
    address = f"{waiting.service.address}/v1/checks"
    later = {"Prefer": "respond-async"}
    check = requests.post(address, files={"file": card}, data=CARD, headers=later, timeout=PATIENCE_SECONDS).json()["id"]

    def wait(_: int) -> str:
        with session(ELSEWHERE) as elsewhere:
            asked = elsewhere.get(f"{address}/{check}", headers={"Prefer": "wait=60"}, timeout=PATIENCE_SECONDS)
        return str(asked.json()["state"])

    def listen(_: int) -> str:
        with requests.get(f"{address}/{check}/events", timeout=PATIENCE_SECONDS) as stream:
            return stream.text

    def send(_: int) -> tuple[int, str]:
        sent = requests.post(address, files={"file": card}, data=CARD, headers={"Prefer": "wait=60"}, timeout=PATIENCE_SECONDS)
        return sent.status_code, sent.headers["Location"]

    with ThreadPoolExecutor(41) as callers:
        waits, listens = [callers.submit(wait, one) for one in range(20)], [callers.submit(listen, one) for one in range(20)]
        sends = callers.submit(send, 0)
        until(lambda: requests.get(f"{waiting.service.address}/v1/specs", timeout=PATIENCE_SECONDS).ok, "somebody else answered")
        assert not any(one.done() for one in [*waits, *listens, sends])
        waiting.go_on()
        assert {one.result(PATIENCE_SECONDS) for one in waits} == {"finished"}
        assert all("event: finished\n" in one.result(PATIENCE_SECONDS) for one in listens)
        status, location = sends.result(PATIENCE_SECONDS)
        assert (status, location.startswith("/v1/checks/")) == (201, True)
