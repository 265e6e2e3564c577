"""Which system calls a process may still make, as a filter that the kernel runs before each (seccomp(2)).

What is not named in `calls` is refused with EPERM, and libraries go on without it; a call that is younger than the table with
ENOSYS, as an older kernel would, so that a newer C library falls back on one that is named. Killing the process instead was
weighed: a library that asks for something harmless would end a check. Calls for another kind of machine end it.

Own instructions instead of libseccomp: its Python package has to be compiled against the system's library, and what is asked of
it is a list of jumps.
"""

from __future__ import annotations

import ctypes
import errno
import os
import struct
from functools import cache

from service.jobs.children.confinement.calls import FIRST_YOUNG, OWN, Condition, allowed_on
from service.jobs.children.confinement.kernel import MACHINE, SECCOMP, call

_SET_MODE_FILTER, _GET_ACTION_AVAIL = 1, 2
_ALLOW, _ERRNO, _KILL_PROCESS = 0x7FFF0000, 0x00050000, 0x80000000
_ARCHITECTURES = {"x86_64": 0xC000003E, "aarch64": 0xC00000B7}
"""AUDIT_ARCH_… of linux/audit.h."""
_NUMBER_AT, _ARCHITECTURE_AT, _ARGUMENTS_AT = 0, 4, 16
"""Where in `struct seccomp_data`; an argument has eight bytes, the lower four first."""
_LOAD, _SKIP, _EQUAL, _AT_LEAST, _AND, _RETURN = 0x20, 0x05, 0x15, 0x35, 0x54, 0x06
"""BPF_LD|W|ABS, BPF_JMP|JA, BPF_JMP|JEQ|K, BPF_JMP|JGE|K, BPF_ALU|AND|K, BPF_RET|K of linux/bpf_common.h."""

Instruction = tuple[int, int, int, int]
"""Code, how many to jump over where true and where false, operand."""


def offered() -> bool:
    """Whether the kernel filters, and this is a machine whose calls are known here."""
    if MACHINE not in _ARCHITECTURES:
        return False
    try:
        call(SECCOMP[MACHINE], _GET_ACTION_AVAIL, 0, struct.pack("=I", _ERRNO))
    except OSError:
        return False
    return True


def keep_to_the_table() -> None:
    """From now on this process, its threads, and whatever it may start make only the calls of the table. Raises OSError.

    It must have given up new privileges (`PR_SET_NO_NEW_PRIVS`).
    """
    code = program(MACHINE, os.getpid())
    instructions = ctypes.create_string_buffer(code, len(code))
    record = struct.pack("@HP", len(code) // 8, ctypes.addressof(instructions))  # struct sock_fprog
    call(SECCOMP[MACHINE], _SET_MODE_FILTER, 0, record)


def work_out() -> None:
    """The filter, but for whose it is: once, where every child would do it anew."""
    program(MACHINE, os.getpid())


def program(machine: str, own: int) -> bytes:
    """The filter for the process of that id."""
    return b"".join(
        struct.pack("=HBBI", code, yes, no, own if operand == OWN else operand)
        for code, yes, no, operand in _instructions(machine)
    )


@cache
def _instructions(machine: str) -> tuple[Instruction, ...]:
    calls = allowed_on(machine)
    plain = [number for number, conditions in calls.items() if not conditions]
    lines: list[Instruction] = [
        (_LOAD, 0, 0, _ARCHITECTURE_AT),
        (_EQUAL, 1, 0, _ARCHITECTURES[machine]),
        (_RETURN, 0, 0, _KILL_PROCESS),
        (_LOAD, 0, 0, _NUMBER_AT),
        # One after the other, each with a jump behind the last: a jump is of 255 at most.
        *((_EQUAL, len(plain) - at, 0, number) for at, number in enumerate(plain)),
        (_SKIP, 0, 0, 1),
        (_RETURN, 0, 0, _ALLOW),
    ]
    for number, conditions in calls.items():
        if conditions:
            body = [line for one in conditions for line in _held(one)]
            lines += [(_EQUAL, 0, len(body) + 1, number), *body, (_RETURN, 0, 0, _ALLOW)]
    lines += [(_AT_LEAST, 0, 1, FIRST_YOUNG), (_RETURN, 0, 0, _ERRNO | errno.ENOSYS), (_RETURN, 0, 0, _ERRNO | errno.EPERM)]
    return tuple(lines)


def _held(one: Condition) -> list[Instruction]:
    """Goes on behind its last line where it holds. All these arguments are of 32 bits for the kernel as well."""
    return [
        (_LOAD, 0, 0, _ARGUMENTS_AT + 8 * one.argument),
        (_AND, 0, 0, one.bits),
        *((_EQUAL, len(one.among) - at, 0, value) for at, value in enumerate(one.among)),
        (_RETURN, 0, 0, _ERRNO | errno.EPERM),
    ]
