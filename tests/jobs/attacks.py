"""Measuring steps of a child that a file has taken over: each tries one thing, and tells by its progress how that went.

`finishing_inks` of the question hold what it was told of its target. `done` and `refused` are told with a number: what came of
it, or of the error.
"""

from __future__ import annotations

import ctypes
import errno
import fcntl
import mmap
import os
import resource
import signal
import socket
import threading
import time
from collections.abc import Callable
from pathlib import Path

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure
from service.pdf.question import Question

Progress = Callable[[str, int, int], None]
_LIBC = ctypes.CDLL(None, use_errno=True)
_UNREADABLE = Measurements.unreadable(7, Failure("broken", "Nothing to see."))
_MOST = 10**8
LONG = 3600


def attack(attempt: Callable[[Path, tuple[str, ...]], int]) -> Callable[[Path, Question, Progress], Measurements]:
    def measure(path: Path, question: Question, progress: Progress) -> Measurements:
        try:
            came = attempt(path, question.finishing_inks)
        except OSError as error:
            progress("refused", error.errno or 0, _MOST)
        else:
            progress("done", came, _MOST)
        return _UNREADABLE

    return measure


@attack
def reads(_: Path, told: tuple[str, ...]) -> int:
    return len(Path(told[0]).read_bytes())


@attack
def opens(_: Path, told: tuple[str, ...]) -> int:
    """Where that is all that is asked for: the first address of a memory is nobody's to read."""
    with Path(told[0]).open("rb", 0):
        return 1


@attack
def reads_its_own_file(path: Path, _: tuple[str, ...]) -> int:
    return len(path.read_bytes())


@attack
def lists(_: Path, told: tuple[str, ...]) -> int:
    return len(os.listdir(told[0]))  # noqa: PTH208


@attack
def reads_memory_by_call(_: Path, told: tuple[str, ...]) -> int:
    """process_vm_readv(2) of a number, told with its address."""
    got = ctypes.c_uint64(0)
    local = (ctypes.c_uint64 * 2)(ctypes.addressof(got), 8)
    remote = (ctypes.c_uint64 * 2)(int(told[1]), 8)
    _called(_LIBC.process_vm_readv(int(told[0]), local, 1, remote, 1, 0))
    return got.value


@attack
def finds_in_its_own_memory(_: Path, told: tuple[str, ...]) -> int:
    """How often both halves stand behind each other, in its environment or anywhere else; the halves alone do not count."""
    first, second = (half.encode() for half in told)
    found = sum(both.count(first) for both in (b"\n".join(f"{k}={v}".encode() for k, v in os.environ.items()),))
    for line in Path("/proc/self/maps").read_text().splitlines():
        span, rights, *_rest = line.split()
        if rights.startswith("rw"):
            start, end = (int(one, 16) for one in span.split("-"))
            with Path("/proc/self/mem").open("rb", 0) as memory:
                memory.seek(start)
                try:
                    held = memory.read(end - start)
                except OSError:
                    continue
            at = held.find(first)
            while at >= 0:
                found += held[at + len(first) : at + len(first) + len(second)] == second
                at = held.find(first, at + 1)
    return found


@attack
def has_in_its_environment(_: Path, told: tuple[str, ...]) -> int:
    return sum(name.startswith(told[0]) for name in os.environ)


@attack
def changes_through_memory(_: Path, told: tuple[str, ...]) -> int:
    with Path(told[0]).open("r+b") as file, mmap.mmap(file.fileno(), 0) as mapped:
        mapped[0:1] = b"X"
    return 1


@attack
def deletes(_: Path, told: tuple[str, ...]) -> int:
    Path(told[0]).unlink()
    return 1


@attack
def makes(_: Path, told: tuple[str, ...]) -> int:
    Path(told[0]).touch()
    return 1


@attack
def empties(_: Path, told: tuple[str, ...]) -> int:
    os.truncate(told[0], 0)
    return 1


@attack
def locks_out(_: Path, told: tuple[str, ...]) -> int:
    Path(told[0]).chmod(0)
    return 1


@attack
def connects(_: Path, told: tuple[str, ...]) -> int:
    with socket.create_connection(("127.0.0.1", int(told[0])), timeout=10):
        return 1


@attack
def connects_to_a_name(_: Path, told: tuple[str, ...]) -> int:
    """An abstract UNIX socket."""
    with socket.socket(socket.AF_UNIX) as one:
        one.settimeout(10)
        one.connect("\0" + told[0])
        return 1


@attack
def finds_open_sockets(_: Path, __: tuple[str, ...]) -> int:
    """Descriptors behind which somebody could be asked for a process."""
    found = 0
    for number in range(4096):
        try:
            mode = os.fstat(number).st_mode
        except OSError:
            continue
        found += mode & 0o170000 == 0o140000
    return found


@attack
def leaves_a_grandchild(_: Path, __: tuple[str, ...]) -> int:
    if not (between := os.fork()):
        os.setsid()
        if not os.fork():
            signal.signal(signal.SIGALRM, signal.SIG_IGN)
            signal.alarm(0)
            time.sleep(LONG)
        os._exit(0)
    os.waitpid(between, 0)
    return 1


@attack
def starts_a_program(_: Path, __: tuple[str, ...]) -> int:
    return os.spawnv(os.P_WAIT, "/bin/true", ["true"]) + 1


@attack
def kills(_: Path, told: tuple[str, ...]) -> int:
    os.kill(int(told[0]), signal.SIGKILL)
    return 1


@attack
def signals_through_a_pipe(_: Path, told: tuple[str, ...]) -> int:
    """What is open may name who is to be told of what happens on it."""
    out = next(number for number in range(3, 64) if _is_open(number))
    fcntl.fcntl(out, fcntl.F_SETOWN, int(told[0]))
    return 1


@attack
def traces(_: Path, told: tuple[str, ...]) -> int:
    _called(_LIBC.ptrace(16, int(told[0]), 0, 0))  # PTRACE_ATTACH
    return 1


@attack
def calls(_: Path, told: tuple[str, ...]) -> int:
    """Some system call, by number, with arguments that are nothing."""
    _called(_LIBC.syscall(int(told[0]), *(ctypes.c_long(0) for _ in range(6))))
    return 1


@attack
def raises_its_limits(_: Path, __: tuple[str, ...]) -> int:
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (2**20, 2**20))
    except ValueError as error:  # Python's word for EPERM here
        raise OSError(errno.EPERM, str(error)) from error
    return 1


@attack
def starts_threads(_: Path, __: tuple[str, ...]) -> int:
    came: list[int] = []
    threads = [threading.Thread(target=came.append, args=(1,)) for _ in range(8)]
    for one in threads:
        one.start()
    for one in threads:
        one.join(10)
    return len(came)


def _is_open(number: int) -> bool:
    try:
        os.fstat(number)
    except OSError:
        return False
    return True


def _called(result: int) -> None:
    if result < 0:
        raise OSError(ctypes.get_errno(), "refused")
