"""A world of its own for the fork server and for each child (namespaces(7)), where the kernel lets us make one.

* A child is the first process of a world of processes (pid_namespaces(7)): it can name no other, so it can signal none, and all
  that it starts ends with it, wherever it has hidden.
* The fork server has a world of users (user_namespaces(7)), which is what lets an ordinary user make the others, and of System V
  memory and queues. Root needs none, and in one could no longer read other users' files.
* No world of networks: making one takes the kernel some 18 ms (measured), and there is no socket in `calls`.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from service.jobs.children.confinement.kernel import setns, unshare

_USER, _PID, _IPC = 0x10000000, 0x20000000, 0x08000000
"""CLONE_NEW… of linux/sched.h."""


def enter() -> bool:
    """Whether this process is now in worlds of its own; the one that called is left behind and waits for it.

    Only in a process without threads.
    """
    user, group = os.geteuid(), os.getegid()
    try:
        unshare(_PID | _IPC | (_USER if user else 0))
        if user:
            _keep_names(user, group)
    except OSError:
        return False
    first = os.fork()  # a world of processes begins with the next one
    if first:
        _, status = os.waitpid(first, 0)
        os._exit(0 if status == 0 else 1)
    return True


def _keep_names(user: int, group: int) -> None:
    """Users and groups are called as before, or no file could be made (user_namespaces(7))."""
    mine = Path("/proc/self")
    (mine / "setgroups").write_text("deny", encoding="ascii")
    (mine / "uid_map").write_text(f"{user} {user} 1", encoding="ascii")
    (mine / "gid_map").write_text(f"{group} {group} 1", encoding="ascii")


@contextmanager
def world_of_processes(mine: int | None) -> Iterator[None]:
    """A process that is forked inside is the first of a world of its own. `mine`: what `own_world` gave; None: as it is."""
    if mine is None:
        yield
        return
    unshare(_PID)
    try:
        yield
    finally:
        setns(mine, _PID)


def own_world() -> int:
    """A descriptor of the world of processes that this one is in."""
    return os.open("/proc/self/ns/pid", os.O_RDONLY | os.O_CLOEXEC)
