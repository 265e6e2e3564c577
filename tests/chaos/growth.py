"""`python -m tests.chaos.growth [--cards 100] [--workers 1 2 4]`: cards a second that so many `print-spec work` finish together.

Each runs one check at a time, on PostgreSQL and an S3-compatible store. The cards wait in line before the first worker starts,
and nobody sends meanwhile; the rate is taken from when the results were stored, without the start. How busy the machine's
processors were says whether it is these that bound it.
"""

from __future__ import annotations

import argparse
import os
import signal
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import create_engine, text

from tests.chaos.cluster import Cluster
from tests.chaos.line import card, counted, put_in_line, wait_for_the_end
from tests.patience import until

SETTLED_WITHIN_SECONDS = 900.0
_TICKS = os.sysconf("SC_CLK_TCK")


@dataclass(frozen=True)
class Busy:
    """Processor seconds since the machine started."""

    all: float
    idle: float

    @classmethod
    def now(cls) -> Busy:
        times = [int(one) / _TICKS for one in Path("/proc/stat").read_text().splitlines()[0].split()[1:9]]
        return cls(sum(times), times[3] + times[4])


@dataclass(frozen=True)
class Growth:
    workers: int
    a_second: float
    cores_busy: float
    """Of all on the machine, while the cards were run."""


def of_workers(folder: Path, workers: int, cards: int) -> Growth:
    settings = {"QUEUE_LENGTH": str(cards), "RETENTION_HOURS": "1"}
    with Cluster(folder, apis=1, workers=workers, places=1, **settings) as cluster:
        cluster.start(working=False)
        put_in_line(cluster.address(0), card(folder), cards)
        for part in cluster.workers:
            part.start()
        until(lambda: counted(cluster.address(0))["finished"] >= 2 * workers, "all of them at work")
        before, began = Busy.now(), counted(cluster.address(0))["finished"]
        wait_for_the_end(cluster.address(0), SETTLED_WITHIN_SECONDS)
        after = Busy.now()
        times = _finished(cluster)[began:]
    seconds = (times[-1] - times[0]).total_seconds()
    busy = (after.all - before.all - (after.idle - before.idle)) / ((after.all - before.all) / (os.cpu_count() or 1))
    return Growth(workers, (len(times) - 1) / seconds, busy)


def _finished(cluster: Cluster) -> list[datetime]:
    engine = create_engine(cluster.postgres.url())
    with engine.connect() as connection:
        times = list(connection.scalars(text("SELECT finished_at FROM checks WHERE state = 'finished' ORDER BY finished_at")))
    engine.dispose()
    return times


def main(given: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.chaos.growth")
    parser.add_argument("--cards", type=int, default=100, help="for each worker")
    parser.add_argument("--workers", type=int, nargs="+", default=[1, 2, 4])
    wishes = parser.parse_args(given)
    first = 0.0
    for workers in wishes.workers:
        with tempfile.TemporaryDirectory() as folder:
            found = of_workers(Path(folder), workers, wishes.cards * workers)
        first = first or found.a_second
        print(
            f"{workers} workers: {found.a_second:.1f} cards a second, {found.a_second / first:.2f} of the first; "
            f"{found.cores_busy:.2f} of {os.cpu_count()} cores busy",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # whoever ends this ends all that it started
    sys.exit(main(sys.argv[1:]))
