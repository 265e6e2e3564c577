"""The filter on system calls, read as the kernel reads it, for machines that no test runs on as well."""

from __future__ import annotations

import errno
import struct

import pytest

from service.jobs.children.confinement.seccomp import program

ALLOWED, KILLED = "allowed", "killed"
MACHINES = {"x86_64": 0xC000003E, "aarch64": 0xC00000B7}
OWN = 4711


def said(machine: str, number: int, *arguments: int, architecture: int | None = None) -> str | int:
    """What the kernel does with a call: 'allowed', 'killed', or the number of the error that it gives."""
    foreseen = (*arguments, 0, 0, 0, 0, 0, 0)[:6]
    data = struct.pack("=iIQ6Q", number, MACHINES[machine] if architecture is None else architecture, 0, *foreseen)
    lines = list(struct.iter_unpack("=HBBI", program(machine, OWN)))
    at, held = 0, 0
    while True:
        code, yes, no, operand = lines[at]
        at += 1
        match code:
            case 0x20:
                (held,) = struct.unpack_from("=I", data, operand)
            case 0x54:
                held &= operand
            case 0x05:
                at += operand
            case 0x15:
                at += yes if held == operand else no
            case 0x35:
                at += yes if held >= operand else no
            case 0x06:
                return {0x7FFF0000: ALLOWED, 0x80000000: KILLED}.get(operand, operand & 0xFFFF)
            case other:
                raise AssertionError(f"no instruction of ours: {other:#x}")


NUMBERS = {
    "read": (0, 63), "write": (1, 64), "mmap": (9, 222), "exit_group": (231, 94), "openat": (257, 56), "clone": (56, 220),
    "kill": (62, 129), "tgkill": (234, 131), "fcntl": (72, 25), "ioctl": (16, 29), "prctl": (157, 167), "prlimit64": (302, 261),
    "close_range": (436, 436), "clone3": (435, 435), "io_uring_setup": (425, 425), "socket": (41, 198), "execve": (59, 221),
    "unlinkat": (263, 35), "ftruncate": (77, 46), "fchmod": (91, 52), "sendto": (44, 206), "setns": (308, 268),
}  # fmt: skip
"""syscall_64.tbl and asm-generic/unistd.h of Linux."""
THREAD = 0x3D0F00  # CLONE_VM | CLONE_FS | … as glibc starts a thread


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize(
    ("call", "arguments", "expected"),
    [
        ("read", (), ALLOWED), ("write", (), ALLOWED), ("mmap", (), ALLOWED), ("exit_group", (), ALLOWED),
        ("close_range", (), ALLOWED),
        ("openat", (0, 0, 0), ALLOWED), ("openat", (0, 0, 0o2000000), ALLOWED),  # O_CLOEXEC
        ("openat", (0, 0, 0o1), errno.EPERM), ("openat", (0, 0, 0o2), errno.EPERM), ("openat", (0, 0, 0o100), errno.EPERM),
        ("openat", (0, 0, 0o1000), errno.EPERM), ("openat", (0, 0, 0o20000000), errno.EPERM),
        ("clone", (THREAD,), ALLOWED), ("clone", (17,), errno.EPERM), ("clone", (0x100 | 17,), errno.EPERM),
        ("clone", (THREAD | 0x20000000,), errno.EPERM), ("clone", (THREAD | 0x10000000,), errno.EPERM),
        ("kill", (OWN, 9), ALLOWED), ("kill", (1, 9), errno.EPERM), ("kill", (2**64 - 1, 9), errno.EPERM),
        ("kill", (0, 9), errno.EPERM), ("tgkill", (OWN, OWN, 6), ALLOWED), ("tgkill", (1, 1, 6), errno.EPERM),
        ("fcntl", (3, 3), ALLOWED), ("fcntl", (3, 1030), ALLOWED), ("fcntl", (3, 8), errno.EPERM),
        ("fcntl", (3, 10), errno.EPERM),
        ("ioctl", (3, 0x5401), ALLOWED), ("ioctl", (3, 0x5412), errno.EPERM),
        ("prctl", (15,), ALLOWED), ("prctl", (4, 1), errno.EPERM),
        ("prlimit64", (0,), ALLOWED), ("prlimit64", (1,), errno.EPERM),
        ("clone3", (), errno.ENOSYS), ("io_uring_setup", (), errno.ENOSYS),
        *((call, (), errno.EPERM) for call in ("socket", "execve", "unlinkat", "ftruncate", "fchmod", "sendto", "setns")),
    ],
)  # fmt: skip
def test_the_kernel_is_told(machine: str, call: str, arguments: tuple[int, ...], expected: str | int) -> None:
    number = NUMBERS[call][tuple(MACHINES).index(machine)]
    assert said(machine, number, *arguments) == expected


@pytest.mark.parametrize("machine", MACHINES)
def test_a_call_of_another_kind_of_machine_ends_the_process(machine: str) -> None:
    assert said(machine, 0, architecture=0x40000003) == KILLED  # i386
    assert said("x86_64", 0x40000000) == errno.ENOSYS  # x32


@pytest.mark.parametrize("machine", MACHINES)
def test_few_calls_are_allowed(machine: str) -> None:
    allowed = [number for number in range(1024) if said(machine, number) == ALLOWED]
    assert len(allowed) < 80
