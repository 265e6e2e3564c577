"""Which files a child may read, by Landlock (landlock(7); include/uapi/linux/landlock.h): those named, and to write none.

* A ruleset denies each right that it handles and that no rule gives back. It binds this process and all that it starts, for good.
* What is open already stays usable: the pipe that a child answers through, and nothing else.
* Landlock does not look at what changes a file without opening it (chmod, utime, …), at the length of a file before ABI 3, at
  signals before ABI 6: the list of calls (`calls`) and the user that the service runs as have to.

By raw system calls: three of them and two records. The packages that wrap them were looked at: small, young, of one author
each, and they know older kernels only; there is less to trust here.
"""

from __future__ import annotations

import os
import struct
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from stat import S_ISDIR

from service.jobs.children.confinement.kernel import (
    LANDLOCK_ADD_RULE,
    LANDLOCK_CREATE_RULESET,
    LANDLOCK_RESTRICT_SELF,
    MACHINE,
    call,
)

_CREATE_RULESET_VERSION = 1 << 0
_RULE_PATH_BENEATH = 1

_READ_FILE, _READ_DIR = 1 << 2, 1 << 3
_FILE_RIGHTS = {1: 13, 2: 14, 3: 15, 5: 16}
"""How many rights on files there are from that ABI on: bits 0 to 12 (execute, write, read, make, remove), 13 (refer), 14
(truncate), 15 (ioctl on devices)."""
_NET_RIGHTS = {4: 2}
"""Bits 0 and 1: bind and connect a TCP socket."""
_SCOPES = {6: 2}
"""Bits 0 and 1: abstract UNIX sockets and signals of processes outside."""


def abi() -> int:
    """The version that the kernel offers; 0: none."""
    if not MACHINE:
        return 0
    try:
        return call(LANDLOCK_CREATE_RULESET, None, 0, _CREATE_RULESET_VERSION)
    except OSError:
        return 0


def read_only(paths: Iterable[Path], version: int) -> None:
    """From now on this process reads these files and what is below these folders, and writes, makes, removes and runs nothing.

    `version`: what `abi` said. A path that is not there is left out. Raises OSError.
    """
    # The record is sent whole: a kernel that knows less of it takes the rest where that is zero.
    rights = (_bits(_FILE_RIGHTS, version), _bits(_NET_RIGHTS, version), _bits(_SCOPES, version))
    ruleset = call(LANDLOCK_CREATE_RULESET, struct.pack("=QQQ", *rights), 24, 0)
    try:
        for path in paths:
            with suppress(FileNotFoundError, NotADirectoryError):
                _let_read(ruleset, path)
        call(LANDLOCK_RESTRICT_SELF, ruleset, 0)
    finally:
        os.close(ruleset)


def _let_read(ruleset: int, path: Path) -> None:
    beneath = os.open(path, os.O_PATH | os.O_CLOEXEC)
    try:
        rights = _READ_FILE | _READ_DIR if S_ISDIR(os.fstat(beneath).st_mode) else _READ_FILE
        call(LANDLOCK_ADD_RULE, ruleset, _RULE_PATH_BENEATH, struct.pack("=Qi", rights, beneath), 0)
    finally:
        os.close(beneath)


def _bits(since: dict[int, int], version: int) -> int:
    return (1 << max((bits for first, bits in since.items() if first <= version), default=0)) - 1
