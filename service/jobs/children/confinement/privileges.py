"""What a process is: without privileges, bounded, and out of sight of others of the same user.

prctl(2), capabilities(7), setrlimit(2).
"""

from __future__ import annotations

import ctypes
import os
import resource
import signal
import struct
from math import ceil
from typing import TYPE_CHECKING

from service.jobs.children.confinement.kernel import CAPGET, CAPSET, MACHINE, call, prctl

if TYPE_CHECKING:
    from service.jobs.children.tasks import Limits

_SET_PDEATHSIG, _SET_DUMPABLE, _SET_CHILD_SUBREAPER, _SET_NO_NEW_PRIVS = 1, 4, 36, 38
_CAPABILITY_VERSION = 0x20080522
"""Version 3: two words for each set."""
_DAC_READ_SEARCH = 1 << 2
"""To read files whatever their mode: root checks the files of others as well."""


def hide_memory() -> None:
    """What this process remembers, and its environment, are for itself and for the machine's administrator.

    Others of the same user are refused by /proc and ptrace. It costs core dumps.
    """
    if MACHINE:
        prctl(_SET_DUMPABLE, 0)


def adopt_orphans() -> None:
    """What processes that this one started leave behind becomes its own child."""
    if MACHINE:
        prctl(_SET_CHILD_SUBREAPER, 1)


def give_up(limits: Limits, most_threads: int | None) -> None:
    """Nothing here can be undone. `most_threads`: of all children together. Raises OSError."""
    if MACHINE:
        prctl(_SET_PDEATHSIG, signal.SIGKILL)  # of the fork server
        prctl(_SET_NO_NEW_PRIVS, 1)
        _keep_capabilities(_DAC_READ_SEARCH if os.geteuid() == 0 else 0)
    seconds = ceil(limits.seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_AS, (limits.memory_bytes, limits.memory_bytes))
    for none in (resource.RLIMIT_FSIZE, resource.RLIMIT_CORE, resource.RLIMIT_MSGQUEUE):
        resource.setrlimit(none, (0, 0))
    if most_threads is not None:
        _bound_threads(most_threads)


def _keep_capabilities(wanted: int) -> None:
    """Of those that there are, in the permitted and the effective set; none is passed on."""
    if MACHINE not in CAPSET:
        return
    header, found = struct.pack("=Ii", _CAPABILITY_VERSION, 0), ctypes.create_string_buffer(24)
    call(CAPGET[MACHINE], header, found)
    kept = struct.unpack("=6I", found.raw)[1] & wanted
    call(CAPSET[MACHINE], header, struct.pack("=6I", kept, kept, 0, 0, 0, 0))


def _bound_threads(most: int) -> None:
    hard = resource.getrlimit(resource.RLIMIT_NPROC)[1]
    most = most if hard == resource.RLIM_INFINITY else min(most, hard)
    resource.setrlimit(resource.RLIMIT_NPROC, (most, most))
