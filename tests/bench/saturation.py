"""Cards at saturation: `python -m tests.bench.saturation [--seconds 10] [--callers 1 2 4 …]`.

* Closed loop: so many callers, each sends its next card when it has the answer to the last one.
* Open loop: cards come at a fixed rate, whatever became of those before; what is refused (429) is counted.
* On one core: `taskset -c 0 python -m tests.bench.saturation`.

It prints checks a second, the median and the 95th percentile, and in the last line, after BENCH, JSON. Loopback only.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from tests.bench.files import made
from tests.bench.sending import as_new, checked, new_session
from tests.running import Running, running

CALLERS = (1, 2, 4, 8, 16, 32, 64)
RATES = (5, 10, 20, 40)
SHEET = "business-card-85x55"


def main(given: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.saturation")
    parser.add_argument("--seconds", type=float, default=10.0, help="of each load")
    parser.add_argument("--callers", type=int, nargs="*", default=list(CALLERS))
    parser.add_argument("--rates", type=float, nargs="*", default=list(RATES), help="cards a second of the open loop")
    wishes = parser.parse_args(given)
    told: dict[str, Any] = {"cores": len(os.sched_getaffinity(0)), "closed": {}, "open": {}}
    with tempfile.TemporaryDirectory() as folder:
        card = made(Path(folder), "card").read_bytes()
        with running(Path(folder, "data"), anew=True, QUEUE_LENGTH="1000") as service:
            checked(new_session(), service.address, ("card.pdf", as_new(card)), SHEET)
            for callers in wishes.callers:
                told["closed"][callers] = _said(f"{callers} callers", _closed(service, card, callers, wishes.seconds))
            for rate in wishes.rates:
                told["open"][rate] = _said(f"{rate:g} a second come", _open(service, card, rate, wishes.seconds))
    print("BENCH", json.dumps(told))
    return 0


def _said(load: str, told: dict[str, float]) -> dict[str, float]:
    print(
        f"{load:>20}: {told['a_second']:6.1f} checks a second, median {told['median_ms']:6.0f} ms, "
        f"95 % within {told['p95_ms']:6.0f} ms, {told['refused']:.0f} refused",
        flush=True,
    )
    return told


def _closed(service: Running, card: bytes, callers: int, seconds: float) -> dict[str, float]:
    began = time.perf_counter()

    def call() -> list[float]:
        taken = []
        with new_session() as session:
            while time.perf_counter() - began < seconds:
                taken.append(_one(lambda: checked(session, service.address, ("card.pdf", as_new(card)), SHEET)))
        return taken

    with ThreadPoolExecutor(callers) as pool:
        taken = [one for ones in [pool.submit(call) for _ in range(callers)] for one in ones.result()]
    return _summed(taken, 0, time.perf_counter() - began)


def _open(service: Running, card: bytes, rate: float, seconds: float) -> dict[str, float]:
    taken: list[float] = []
    began = time.perf_counter()

    def call(at: float) -> None:
        time.sleep(max(0.0, began + at - time.perf_counter()))
        due = time.perf_counter()
        try:
            with new_session() as session:
                checked(session, service.address, ("card.pdf", as_new(card)), SHEET)
        except SystemExit:
            return
        taken.append(time.perf_counter() - due)

    count = int(rate * seconds)
    with ThreadPoolExecutor(min(count, 256)) as pool:
        list(pool.map(call, [at / rate for at in range(count)]))
    lost = count - len(taken)
    return _summed(taken, lost, time.perf_counter() - began)


def _one(act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


def _summed(taken: list[float], refused: int, seconds: float) -> dict[str, float]:
    taken = sorted(taken) or [0.0]
    return {
        "a_second": round(len(taken) / seconds, 2),
        "median_ms": round(1000 * statistics.median(taken), 1),
        "p95_ms": round(1000 * taken[min(int(0.95 * len(taken)), len(taken) - 1)], 1),
        "refused": refused,
    }


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
