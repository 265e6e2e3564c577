"""`python -m tests.chaos [SECONDS] [SEED]`: under load, any part is killed, the database and the store are away for a while.

Then the account is drawn up. Exit code 1 where anything was lost, was told of under two ids, or never told of.
"""

from __future__ import annotations

import random
import signal
import sys
import tempfile
import time
from pathlib import Path

from tests.build import page
from tests.chaos.cluster import Cluster, Part
from tests.chaos.load import Account, Callers, account
from tests.jobs.calling.receiving import Receiver, receiving

CALLERS = 3
AWAY_SECONDS = 30
SETTLED_WITHIN_SECONDS = 420
"""After the last stroke: silence of twenty seconds, twice that after an outage, a minute for a callback whose process died."""
SECRET = "whsec_" + "Y2hhb3M" * 8


def main(seconds: float, seed: int) -> int:
    chance, began = random.Random(seed), time.monotonic()
    with tempfile.TemporaryDirectory() as name, receiving() as shop:
        folder = Path(name)
        pdf = page(85, 55, bleed=3).fill(cyan=1).save(folder / "card.pdf").read_bytes()
        with Cluster(folder, CALLBACK_SECRET=SECRET, CALLBACK_NETWORKS="127.0.0.0/8", WAIT_SECONDS="1") as cluster:
            cluster.start()
            callers = Callers(cluster, shop, pdf, CALLERS, seed)
            callers.start()
            strokes = 0
            while time.monotonic() - began < seconds:
                time.sleep(chance.uniform(3, 8))
                print(f"{time.monotonic() - began:6.0f} s  {_stroke(cluster, chance)}", flush=True)
                strokes += 1
            callers.stop()
            found = settled(cluster, callers, shop)
    return _report(callers, found, strokes)


def _stroke(cluster: Cluster, chance: random.Random) -> str:
    """One mishap from its beginning to its end; what it was."""
    kinds = ["part"] * 6 + ["database dies", "database away", "store away"]
    kind = chance.choice(kinds)
    if kind == "part":
        part: Part = chance.choice([*cluster.apis, *cluster.workers])
        part.kill()
        time.sleep(chance.uniform(0, 4))
        part.start()
        return f"killed {part.name}"
    if kind == "database dies":
        cluster.postgres.stop(signal.SIGKILL)
        time.sleep(chance.uniform(0, 4))
        cluster.postgres.start()
        return kind
    pause = cluster.postgres.send if kind == "database away" else cluster.signal_s3
    pause(signal.SIGSTOP)
    time.sleep(AWAY_SECONDS)
    pause(signal.SIGCONT)
    return f"{kind} for {AWAY_SECONDS} s"


def settled(cluster: Cluster, callers: Callers, shop: Receiver) -> Account:
    last = time.monotonic() + SETTLED_WITHIN_SECONDS
    while (found := account(cluster, callers.told, shop)).open and time.monotonic() < last:
        time.sleep(2)
    return found


def _report(callers: Callers, found: Account, strokes: int) -> int:
    told = callers.told
    print(f"{strokes} strokes; accepted {len(told.accepted)}, refused {dict(told.refused)}, never answered {told.given_up}")
    print(f"of the accepted: {dict(found.states)}; callbacks delivered {found.deliveries} times")
    wrong = {
        "lost": found.states["lost"], "still open": found.states["open"], "one key, two checks": len(told.twice),
        "nobody told": len(found.without_callback), "told under two ids": len(found.under_two_ids),
    }  # fmt: skip
    print(", ".join(f"{what}: {count}" for what, count in wrong.items()))
    return int(any(wrong.values()) or not told.accepted)


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # whoever ends this ends all that it started
    sys.exit(main(float(sys.argv[1]) if len(sys.argv) > 1 else 600, int(sys.argv[2]) if len(sys.argv) > 2 else 1))
