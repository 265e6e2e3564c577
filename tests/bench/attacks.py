"""What `/healthz` and an honest card take while others keep the service busy: `python -m tests.bench.attacks`.

The honest caller comes from another block of addresses of this machine than the others.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import Any

import requests

from tests.bench.sending import as_new
from tests.build import page
from tests.door.callers import ELSEWHERE, session, slow_heads, slow_readers, slow_senders
from tests.running import Running, running, worker_memory_bytes

CARD = {"spec": "business-card-85x55"}
SMALL = b"%PDF-1.7 stays" + b" " * 815
"""A file of 829 bytes that runs until it is stopped."""
TIMES = 20


def seconds(act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


def check(caller: requests.Session, service: Running, pdf: bytes) -> str:
    """Until the result is there."""
    answer = caller.post(f"{service.address}/v1/checks", files={"file": ("card.pdf", as_new(pdf))}, data=CARD, timeout=120)
    while answer.status_code == 202 or answer.json().get("state") in ("queued", "running"):
        time.sleep(0.05)
        answer = caller.get(f"{service.address}/v1/checks/{answer.json()['id']}", timeout=120)
    return str(answer.json().get("verdict", answer.status_code))


@contextmanager
def uploads(service: Running, count: int, pdf: bytes, **headers: str) -> Iterator[list[int]]:
    """So many callers who send and wait; their answers' status codes."""
    codes: list[int] = []

    def send() -> None:
        files = {"file": ("card.pdf", as_new(pdf))}
        address = f"{service.address}/v1/checks"
        codes.append(requests.post(address, files=files, data=CARD, headers=headers, timeout=300).status_code)

    threads = [threading.Thread(target=send, daemon=True) for _ in range(count)]
    for one in threads:
        one.start()
    time.sleep(2)
    yield codes


def told(name: str, service: Running, card: bytes, attack: Any) -> None:
    with attack:
        health = [seconds(lambda: requests.get(f"{service.address}/healthz", timeout=120)) for _ in range(TIMES)]
        cards = []
        for source in (ELSEWHERE, ELSEWHERE, ELSEWHERE):
            caller = session(source)
            verdicts: list[str] = []
            cards.append(seconds(lambda: verdicts.append(check(caller, service, card))))  # noqa: B023
            assert verdicts == ["conforming"], verdicts
    resident = worker_memory_bytes(service) // 10**6
    print(
        f"{name:44} /healthz median {statistics.median(health) * 1000:5.0f} ms, longest {max(health) * 1000:5.0f} ms   "
        f"card {' '.join(f'{one:.2f}' for one in cards)} s   server {resident} MB",
        flush=True,
    )


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        page(85, 55, bleed=3).fill(cyan=1).save(folder / "card.pdf")
        card = (folder / "card.pdf").read_bytes()
        with running(folder / "data", "tests.jobs.faults:stays_if_told", anew=True) as service:
            check(session(ELSEWHERE), service, card)
            address = service.address
            told("nobody else", service, card, nullcontext())
            told("16 slow senders", service, card, slow_senders(address, 16))
            told("16 slow heads", service, card, slow_heads(address, 16))
            told("18 slow readers", service, card, slow_readers(address, 18, "/openapi.json"))
            told("20 uploads that wait", service, card, uploads(service, 20, SMALL))
            told("53 uploads that run to the limit", service, card, uploads(service, 53, SMALL, Prefer="respond-async"))
    return 0


if __name__ == "__main__":
    sys.exit(main())
