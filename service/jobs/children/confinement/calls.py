"""The system calls that a child needs, of whatever kind it is; all others are refused.

Found by following (strace) checks, plates, pictures, previews, dummies, single pages and reports of the demo's files and of
strangers', and completed with what C libraries make of the same functions on other versions and machines (from memory). All kinds
stand on the same parsers and renderers, so one list serves them: measuring, judging and drawing read, think, start threads
(PDFium paints one rendering while the next is prepared; a report is set by several) and answer through a pipe that is open.

So there is no socket, fork, exec, ptrace, process_vm_readv, pidfd, mount, bpf, keyctl, userfaultfd, perf_event_open or io_uring;
no way to make, name, remove or change a file; and none to signal another process.

Numbers: arch/x86/entry/syscalls/syscall_64.tbl and include/uapi/asm-generic/unistd.h of Linux.
"""

from __future__ import annotations

from typing import NamedTuple

FIRST_YOUNG = 424
"""Calls from Linux 5.1 on are numbered from here, alike on all machines; a C library goes on without them."""
OWN = -1
"""Stands for the process's own id."""


class Condition(NamedTuple):
    argument: int
    """From 0."""
    bits: int
    """That are looked at."""
    among: tuple[int, ...]
    """One of which they have to be."""


_ALL = 0xFFFFFFFF
_ITSELF = Condition(0, _ALL, (OWN,))
_NOT_TO_WRITE = 0o3 | 0o100 | 0o1000 | 0o20000000
"""O_ACCMODE, O_CREAT, O_TRUNC, __O_TMPFILE (include/uapi/asm-generic/fcntl.h)."""
_CLONE_VM, _CLONE_THREAD, _CLONE_NEW = 0x100, 0x10000, 0x7E020080
"""linux/sched.h. The last: any namespace."""
_THREAD = _CLONE_VM | _CLONE_THREAD

_PLAIN = {
    # Reading, and answering through what is open.
    "read": (0, 63), "write": (1, 64), "close": (3, 57), "fstat": (5, 80), "lseek": (8, 62), "pread64": (17, 67),
    "readv": (19, 65), "writev": (20, 66), "preadv": (295, 69), "dup": (32, 23), "dup2": (33, None), "dup3": (292, 24),
    "poll": (7, None), "ppoll": (271, 73), "select": (23, None), "pselect6": (270, 72), "close_range": (436, 436),
    "fadvise64": (221, 223),
    # What there is, by name.
    "stat": (4, None), "lstat": (6, None), "newfstatat": (262, 79), "statx": (332, 291), "access": (21, None),
    "faccessat": (269, 48), "faccessat2": (439, 439), "readlink": (89, None), "readlinkat": (267, 78), "getdents64": (217, 61),
    "getcwd": (79, 17), "statfs": (137, 43), "fstatfs": (138, 44),
    # Memory.
    "mmap": (9, 222), "mprotect": (10, 226), "munmap": (11, 215), "brk": (12, 214), "mremap": (25, 216), "madvise": (28, 233),
    # Threads, and waiting for each other.
    "futex": (202, 98), "set_robust_list": (273, 99), "rseq": (334, 293), "set_tid_address": (218, 96), "membarrier": (324, 283),
    "sched_yield": (24, 124), "sched_getaffinity": (204, 123), "gettid": (186, 178), "exit": (60, 93), "exit_group": (231, 94),
    "restart_syscall": (219, 128),
    # Signals to oneself, and time.
    "rt_sigaction": (13, 134), "rt_sigprocmask": (14, 135), "rt_sigreturn": (15, 139), "sigaltstack": (131, 132),
    "alarm": (37, None), "setitimer": (38, 103), "nanosleep": (35, 101), "clock_nanosleep": (230, 115),
    "clock_gettime": (228, 113), "clock_getres": (229, 114), "gettimeofday": (96, 169), "time": (201, None), "times": (100, 153),
    # Who one is, and what one may use.
    "getpid": (39, 172), "getppid": (110, 173), "getuid": (102, 174), "geteuid": (107, 175), "getgid": (104, 176),
    "getegid": (108, 177), "uname": (63, 160), "sysinfo": (99, 179), "getrusage": (98, 165), "getrlimit": (97, 163),
    "getrandom": (318, 278),
}  # fmt: skip
"""Numbers on x86_64 and aarch64; None where the machine has no such call."""

_CONDITIONAL = {
    "open": ((2, None), Condition(1, _NOT_TO_WRITE, (0,))),
    "openat": ((257, 56), Condition(2, _NOT_TO_WRITE, (0,))),
    # To ask what a descriptor is; TCGETS, FIOCLEX, FIONBIO (include/uapi/asm-generic/ioctls.h).
    "ioctl": ((16, 29), Condition(1, _ALL, (0x5401, 0x5451, 0x5421))),
    # F_DUPFD, F_GETFD, F_SETFD, F_GETFL, F_DUPFD_CLOEXEC; not F_SETOWN, by which a pipe signals another process.
    "fcntl": ((72, 25), Condition(1, _ALL, (0, 1, 2, 3, 1030))),
    "clone": ((56, 220), Condition(0, _THREAD | _CLONE_NEW, (_THREAD,))),
    "kill": ((62, 129), _ITSELF),
    "tgkill": ((234, 131), _ITSELF),
    "prlimit64": ((302, 261), Condition(0, _ALL, (0, OWN))),
    # PR_SET_NAME, PR_SET_VMA: how a thread and a piece of memory are called.
    "prctl": ((157, 167), Condition(0, _ALL, (15, 0x53564D41))),
}


def allowed_on(machine: str) -> dict[int, tuple[Condition, ...]]:
    """Conditions by number."""
    at = ("x86_64", "aarch64").index(machine)
    calls = {numbers[at]: () for numbers in _PLAIN.values()} | {numbers[at]: (one,) for numbers, one in _CONDITIONAL.values()}
    return {number: conditions for number, conditions in calls.items() if number is not None}
