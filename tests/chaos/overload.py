"""`python -m tests.chaos.overload [SECONDS] [--cluster]`: twice as many cards come as can be run, for so long.

First the capacity is measured: callers who each wait for their answer, and more of them than places. Then cards come at twice
that rate, whatever becomes of those before, from several senders. It prints how long the accepted took, from when they were sent
to when their result was there, and what became of the others. Exit code 1 where

* the 95th percentile of the accepted is above what the length of the line allows: as many as may wait, at the rate at which
  cards were finished meanwhile: refusing takes processor time too, and so do the senders, on the same cores;
* fewer than half as many are finished as when nobody is refused;
* somebody is refused otherwise than by 429 or 503 with Retry-After, or not answered at all, or a check that was accepted fails.
"""

from __future__ import annotations

import argparse
import signal
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import requests

from tests.bench.sending import as_new, checked, new_session
from tests.chaos.cluster import Cluster
from tests.chaos.line import SHEET, card
from tests.running import running

ANSWER_WITHIN_SECONDS = 120
LENGTH = 10
"""Of each sender so many may wait."""
SENDERS = ("192.0.2.1", "198.51.100.1", "203.0.113.1", "198.18.0.1")
"""As a proxy names them (RFC 5737, RFC 2544): each in a block of its own, for those of one block share their places."""
_ALLOWANCE = 1.5
"""Over what the length of the line makes of the mean rate: some cards come when it is full."""
_STILL_DONE = 0.5
"""Of the capacity: a service that refuses and does little else has collapsed."""


@dataclass
class Overload:
    """What became of the cards that came."""

    taken: list[float] = field(default_factory=list)
    """Seconds of each that was accepted, until it was finished."""
    refused: Counter[str] = field(default_factory=Counter)
    """'429 queue-full' → how many, all with Retry-After."""
    wrong: Counter[str] = field(default_factory=Counter)
    """Answered in no polite way, not answered, or accepted and then failed."""

    @property
    def p95(self) -> float:
        taken = sorted(self.taken) or [0.0]
        return taken[min(int(0.95 * len(taken)), len(taken) - 1)]


def capacity(addresses: Sequence[str], pdf: bytes, seconds: float, callers: int = 16) -> float:
    """Cards a second."""
    until = time.monotonic() + seconds

    def call(number: int) -> int:
        done = 0
        with new_session() as session:
            session.headers["X-Forwarded-For"] = SENDERS[number % len(SENDERS)]
            while time.monotonic() < until:
                checked(session, addresses[number % len(addresses)], ("card.pdf", as_new(pdf)), SHEET["spec"])
                done += 1
        return done

    began = time.monotonic()
    with ThreadPoolExecutor(callers) as pool:
        done = sum(pool.map(call, range(callers)))
    return done / (time.monotonic() - began)


def overload(addresses: Sequence[str], pdf: bytes, a_second: float, seconds: float) -> Overload:
    found, telling = Overload(), threading.Lock()
    began = time.monotonic()

    def send(number: int) -> None:
        time.sleep(max(0.0, began + number / a_second - time.monotonic()))
        sender = SENDERS[number % len(SENDERS)]
        sent = time.monotonic()
        what, how = _sent(addresses[number % len(addresses)], as_new(pdf), sender)
        with telling:
            if what == "finished":
                found.taken.append(time.monotonic() - sent)
            else:
                (found.refused if what == "refused" else found.wrong)[how] += 1

    with ThreadPoolExecutor(200) as pool:
        list(pool.map(send, range(int(a_second * seconds))))
    return found


def _sent(address: str, pdf: bytes, sender: str) -> tuple[str, str]:
    """('finished' or 'refused' or 'wrong', what was said)."""
    with new_session() as session:
        session.headers["X-Forwarded-For"] = sender
        try:
            answer = session.post(
                f"{address}/v1/checks", files={"file": ("card.pdf", pdf)}, data=SHEET, timeout=ANSWER_WITHIN_SECONDS
            )
            while answer.ok and answer.json()["state"] in ("queued", "running"):
                path, wait = f"/v1/checks/{answer.json()['id']}", {"Prefer": "wait=20"}
                answer = session.get(address + path, headers=wait, timeout=ANSWER_WITHIN_SECONDS)
        except requests.RequestException as error:
            return "wrong", type(error).__name__
    if answer.ok:
        state = str(answer.json()["state"])
        return ("finished", state) if state == "finished" else ("wrong", state)
    said = f"{answer.status_code} {answer.json()['type'].removeprefix('/problems/')}"
    polite = answer.status_code in (429, 503) and int(answer.headers.get("Retry-After", "0")) > 0
    return ("refused" if polite else "wrong"), said


@contextmanager
def served(folder: Path, *, cluster: bool) -> Iterator[list[str]]:
    """Addresses of a service with this length of its line."""
    settings = {"QUEUE_LENGTH": str(LENGTH), "PROXIES": "1"}
    if not cluster:
        with running(folder / "data", **settings) as service:
            yield [service.address]
        return
    with Cluster(folder, **settings) as parts:
        parts.start()
        yield [parts.address(number) for number in range(len(parts.apis))]


def main(given: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.chaos.overload")
    parser.add_argument("seconds", type=float, nargs="?", default=300.0)
    parser.add_argument("--cluster", action="store_true", help="two APIs, two workers, PostgreSQL and S3; else one process")
    wishes = parser.parse_args(given)
    with tempfile.TemporaryDirectory() as name, served(Path(name), cluster=wishes.cluster) as addresses:
        pdf = card(Path(name))
        checked(new_session(), addresses[0], ("card.pdf", as_new(pdf)), SHEET["spec"])
        capacity(addresses, pdf, min(15.0, wishes.seconds))  # until all have loaded what they need
        rate = capacity(addresses, pdf, min(20.0, wishes.seconds))
        found = overload(addresses, pdf, 2 * rate, wishes.seconds)
    taken = sorted(found.taken) or [0.0]
    meanwhile = len(found.taken) / wishes.seconds
    bound = _ALLOWANCE * (len(SENDERS) * LENGTH) / min(rate, meanwhile or rate) + 1.0
    print(f"capacity {rate:.1f} cards a second; {2 * rate:.1f} came for {wishes.seconds:g} s, and {meanwhile:.1f} were finished")
    print(
        f"accepted {len(found.taken)}: median {taken[len(taken) // 2]:.1f} s, 95 % within {found.p95:.1f} s, all within "
        f"{taken[-1]:.1f} s; the line allows {bound:.1f}"
    )
    print(f"refused, each with Retry-After: {dict(found.refused)}; wrong: {dict(found.wrong)}")
    collapsed = meanwhile < _STILL_DONE * rate
    return int(bool(found.wrong) or not found.taken or not found.refused or found.p95 > bound or collapsed)


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # whoever ends this ends all that it started
    sys.exit(main(sys.argv[1:]))
