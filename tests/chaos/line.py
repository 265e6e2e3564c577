"""Many checks put in line at once, and what becomes of them."""

from __future__ import annotations

import re
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import requests

from tests.bench.sending import as_new
from tests.build import page
from tests.patience import PATIENCE_SECONDS

SHEET = {"spec": "business-card-85x55"}


def card(folder: Path) -> bytes:
    return page(85, 55, bleed=3).fill(cyan=1).save(folder / "card.pdf").read_bytes()


def put_in_line(address: str, pdf: bytes, count: int) -> list[str]:
    """Ids of so many checks, all accepted; other bytes each, so that none is answered from what is stored."""
    ids = []
    with requests.Session() as session:
        for _ in range(count):
            files = {"file": ("card.pdf", as_new(pdf))}
            later = {"Prefer": "respond-async"}
            answer = session.post(f"{address}/v1/checks", files=files, data=SHEET, headers=later, timeout=PATIENCE_SECONDS)
            assert answer.status_code == 202, answer.text
            ids.append(str(answer.json()["id"]))
    return ids


def counted(address: str) -> dict[str, int]:
    """How many checks the service keeps in each state."""
    told = requests.get(f"{address}/metrics", timeout=PATIENCE_SECONDS).text
    return {state: int(float(count)) for state, count in re.findall(r'print_spec_checks{state="(\w+)"} (\S+)', told)}


def wait_for_the_end(address: str, at_most_seconds: float) -> None:
    """Until none waits or runs."""
    last = time.monotonic() + at_most_seconds
    while (now := counted(address)) and now["queued"] + now["running"]:
        assert time.monotonic() < last, f"in {at_most_seconds} s they have not ended: {now}"
        time.sleep(0.5)


def became(address: str, ids: Sequence[str]) -> Counter[str]:
    """State → how many of these; 'lost' for what the service does not know."""
    states: Counter[str] = Counter()
    with requests.Session() as session:
        for check_id in ids:
            answer = session.get(f"{address}/v1/checks/{check_id}", timeout=PATIENCE_SECONDS)
            states["lost" if answer.status_code == 404 else str(answer.json()["state"])] += 1
    return states
