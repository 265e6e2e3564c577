"""Processor time of a child until it begins to work, behind all walls and behind none: `python -m tests.bench.children`.

Its own, and what the fork server needed to make it; the middle of many, made in turn. Look at the differences.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from statistics import median

from service.jobs.children import sandbox
from service.jobs.children.drawing import draw
from service.jobs.children.fork_server import ForkServer
from service.jobs.children.tasks import DrawingTask, Limits
from tests.build import page

CHILDREN = 150
LIMITS = Limits(seconds=60, memory_bytes=2**30)
WALLS = {
    "no walls": frozenset({"landlock", "seccomp", "namespaces"}),
    "Landlock": frozenset({"seccomp", "namespaces"}),
    "seccomp": frozenset({"landlock", "namespaces"}),
    "namespaces": frozenset({"landlock", "seccomp"}),
    "all walls": frozenset[str](),
}


def main() -> int:
    servers = {name: ForkServer(without) for name, without in WALLS.items()}
    cost: dict[str, list[float]] = {name: [] for name in servers}
    with tempfile.TemporaryDirectory() as folder:
        card = page(85, 55).save(Path(folder, "card.pdf"))
        for server in servers.values():
            _milliseconds(server, card)  # it is loaded
        for _ in range(CHILDREN):
            for name, server in servers.items():
                cost[name].append(_milliseconds(server, card))
    for name, one in cost.items():
        more = median(one) - median(cost["no walls"])
        print(f"{name:12} {median(one):5.2f} ms a child, {more:+5.2f} ms; least {min(one):5.2f} ms")
    for server in servers.values():
        server.close()
    return 0


def _milliseconds(server: ForkServer, card: Path) -> float:
    sandbox.SERVER = server
    server.begin()
    before = _fork_server_seconds(server)
    told = draw(DrawingTask(pdf=card, brief=None, draw="tests.jobs.drawing_faults:tells_what_it_has_cost"), LIMITS)
    assert isinstance(told, bytes), told
    return (float(told) + _fork_server_seconds(server) - before) * 1000


def _fork_server_seconds(server: ForkServer) -> float:
    """Of a second process as well, where it has begun a world of its own with one."""
    assert server._process is not None
    pid = server._process.pid
    ours = [pid, *Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]
    return sum(int(Path(f"/proc/{one}/schedstat").read_text().split()[0]) for one in ours) / 1e9


if __name__ == "__main__":
    sys.exit(main())
