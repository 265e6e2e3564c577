"""A short sample of `python -m tests.chaos`: worker and database killed, and nothing that was accepted is lost."""

from __future__ import annotations

import random
import signal
from pathlib import Path

from tests.build import page
from tests.chaos.__main__ import SECRET, settled
from tests.chaos.cluster import Cluster
from tests.chaos.load import Callers
from tests.jobs.calling.receiving import receiving


def test_whoever_is_killed_nothing_that_was_accepted_is_lost(tmp_path: Path) -> None:
    pdf = page(85, 55, bleed=3).fill(cyan=1).save(tmp_path / "card.pdf").read_bytes()
    settings = {"CALLBACK_SECRET": SECRET, "CALLBACK_NETWORKS": "127.0.0.0/8"}
    with receiving() as shop, Cluster(tmp_path, apis=1, workers=1, places=1, loaded=True, **settings) as cluster:
        cluster.start()
        callers, chance = Callers(cluster, shop, pdf, 0, 1), random.Random(1)
        for number in range(4):
            callers.send(f"order-{number}", chance)
        cluster.workers[0].kill()
        cluster.postgres.stop(signal.SIGKILL)
        cluster.postgres.start()
        for number in range(6):
            callers.send(f"order-{number}", chance)
        cluster.workers[0].start()
        found = settled(cluster, callers, shop)
    assert found.states == {"finished": 6}
    assert found.without_callback == []
    assert (callers.told.twice, found.under_two_ids, callers.told.given_up) == ([], [], 0)
