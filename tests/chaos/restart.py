"""`python -m tests.chaos.restart [COUNT]`: everything is killed while so many checks wait; when it starts again, all are run.

Once with one process and SQLite, once with two APIs, two workers, PostgreSQL and an S3-compatible store (of which the store
lives on: what the tests use keeps its files in memory). Exit code 1 where a check is lost or fails.
"""

from __future__ import annotations

import os
import signal
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from tests.chaos.cluster import Cluster
from tests.chaos.line import became, card, counted, put_in_line, wait_for_the_end
from tests.patience import PATIENCE_SECONDS
from tests.running import running

SETTLED_WITHIN_SECONDS = 600.0
_RUN_FIRST = 3
"""Two places, and one more for first passes: these have begun when the process is killed."""


@dataclass(frozen=True)
class Outcome:
    waited: int
    """When it was killed."""
    states: Counter[str]
    """Afterwards, of all that were accepted."""
    seconds: float
    """From the second start until the last has ended."""


def one_process(folder: Path, count: int) -> Outcome:
    pdf, length = card(folder), {"QUEUE_LENGTH": str(count + _RUN_FIRST)}
    with running(folder / "data", "tests.jobs.faults:hangs", FIRST_PASS_SECONDS="3600", **length) as service:
        ids = put_in_line(service.address, pdf, count + _RUN_FIRST)
        waited = counted(service.address)["queued"]
        os.killpg(service.process.pid, signal.SIGKILL)
        service.process.wait(PATIENCE_SECONDS)
    began = time.monotonic()
    with running(folder / "data", **length) as again:
        wait_for_the_end(again.address, SETTLED_WITHIN_SECONDS)
        return Outcome(waited, became(again.address, ids), time.monotonic() - began)


def many_processes(folder: Path, count: int) -> Outcome:
    with Cluster(folder, QUEUE_LENGTH=str(count)) as cluster:
        cluster.start(working=False)
        ids = put_in_line(cluster.address(0), card(folder), count)
        waited = counted(cluster.address(1))["queued"]
        for part in cluster.apis:
            part.kill()
        cluster.postgres.stop(signal.SIGKILL)
        began = time.monotonic()
        cluster.postgres.start()
        cluster.start()
        wait_for_the_end(cluster.address(1), SETTLED_WITHIN_SECONDS)
        return Outcome(waited, became(cluster.address(1), ids), time.monotonic() - began)


def main(count: int) -> int:
    good = True
    for name, run in {"one process, SQLite": one_process, "two APIs, two workers, PostgreSQL, S3": many_processes}.items():
        with tempfile.TemporaryDirectory() as folder:
            found = run(Path(folder), count)
        print(
            f"{name}: {found.waited} waited when it was killed; then {dict(found.states)} within {found.seconds:.0f} s",
            flush=True,
        )
        good = good and found.waited >= count and set(found.states) == {"finished"}
    return 0 if good else 1


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # whoever ends this ends all that it started
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
