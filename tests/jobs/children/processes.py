"""Which processes there are, as the kernel lists them."""

from __future__ import annotations

import os
from collections import defaultdict
from pathlib import Path

from service.jobs.children.fork_server import ForkServer


def alive(pid: int) -> bool:
    """Zombies do not count: nobody may be there to reap an orphan in a container."""
    stat = _stat(pid)
    return bool(stat) and stat[0] != "Z"


def descendants_of(pid: int) -> set[int]:
    by_parent = defaultdict(set)
    for one in Path("/proc").iterdir():
        if one.name.isdigit() and (stat := _stat(int(one.name))):
            by_parent[int(stat[1])].add(int(one.name))
    found: set[int] = set()
    left = {pid}
    while left:
        left = {child for one in left for child in by_parent[one]} - found
        found |= left
    return found


def children_of(server: ForkServer) -> set[int]:
    """Those that run, each in a session of its own, and what they have started; the fork server is in ours."""
    if server._process is None:
        return set()
    return {one for one in descendants_of(server._process.pid) if alive(one) and os.getsid(one) != os.getsid(0)}


def forkers_of(server: ForkServer) -> set[int]:
    """What forks, and the spare that it keeps: they are in our session. While a child runs there is no spare."""
    if server._process is None:
        return set()
    return {one for one in descendants_of(server._process.pid) if alive(one)} - children_of(server)


def _stat(pid: int) -> list[str]:
    """State, parent's id, and so on."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    except OSError:
        return []
