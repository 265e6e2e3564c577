"""Calls of Linux that Python has no name for, by number: the same ones on every machine that is known here."""

from __future__ import annotations

import ctypes
import os
import sys

MACHINE = os.uname().machine if sys.platform == "linux" and sys.maxsize > 2**32 else ""
"""'x86_64', 'aarch64', …; empty where this is no 64-bit Linux."""

SECCOMP = {"x86_64": 317, "aarch64": 277}
"""seccomp(2)"""
CAPGET, CAPSET = {"x86_64": 125, "aarch64": 90}, {"x86_64": 126, "aarch64": 91}
"""capget(2), capset(2)"""
LANDLOCK_CREATE_RULESET, LANDLOCK_ADD_RULE, LANDLOCK_RESTRICT_SELF = 444, 445, 446
"""The same on all: calls newer than Linux 5.1 are numbered alike (asm-generic/unistd.h)."""

_LIBC = ctypes.CDLL(None, use_errno=True)


def call(number: int, *arguments: object) -> int:
    """Raises OSError. Integers are passed as 64 bits, bytes by their address."""
    wide = [ctypes.c_long(one) if isinstance(one, int) else one for one in arguments]
    return _checked(_LIBC.syscall(ctypes.c_long(number), *wide), f"system call {number}")


def prctl(option: int, *arguments: int) -> int:
    """Raises OSError."""
    wide = [ctypes.c_ulong(one) for one in (*arguments, 0, 0, 0, 0)[:4]]
    return _checked(_LIBC.prctl(ctypes.c_int(option), *wide), f"prctl {option}")


def unshare(namespaces: int) -> None:
    """`namespaces`: CLONE_NEW…. Raises OSError."""
    _checked(_LIBC.unshare(ctypes.c_int(namespaces)), "unshare")


def setns(descriptor: int, kind: int) -> None:
    """Go into the world that a descriptor stands for. Raises OSError."""
    _checked(_LIBC.setns(ctypes.c_int(descriptor), ctypes.c_int(kind)), "setns")


def _checked(result: int, what: str) -> int:
    if result < 0:
        number = ctypes.get_errno()
        raise OSError(number, f"{what}: {os.strerror(number)}")
    return result
