"""The process that children are forked from, as its owner sees it: started clean, asked through a socket without a name.

* It is a fresh program, not a fork of ours: what ours has read (secrets, the database, other people's files) is in no child's
  memory. Of the environment it gets `_KEPT` alone.
* Our own memory and environment are shut to others of the same user, whom children are, from then on.
* It is asked through one half of a pair of sockets. They have no name, and a child closes what it inherited, so nobody else can
  have a process started by it.
* Each child has a line of its own to it: the fork server tells on it how the child ended, and ends the child, with all that it
  started, when we hang up. So children end with their check, and with us, however we end.
* It says once when it has loaded what the first child needs. Until then it has none, however many were asked for: nobody waits
  for the end of one, and whoever ends it ends it at once.
* While nobody asks it keeps one child ready, which has seen nothing; it takes the next file, and ends like any other.
* What a child is to do goes into memory that has a descriptor (`memfd_create(2)`) and no other name.

`service.jobs.children.forking` is the other end.
"""

from __future__ import annotations

import atexit
import os
import pickle
import socket
import subprocess
import sys
import threading
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from struct import calcsize, unpack
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.jobs.children.tasks import Limits

READY = b"r"
"""What the fork server says before it forks for the first time."""
EXIT_CODE = "i"
"""How the end of a child is told, for `struct`."""
LONGEST_NAME = 100
"""Of what is to run in a child, as the fork server is told."""
_KEPT = ("LANG", "LC_", "LD_LIBRARY_PATH", "PYTHON", "TZ")
"""Beginnings of names: what Python and its libraries are found by, and what they speak."""
_AT_ONCE, _KEPT_FREE = 8 * 2**20, 16 * 2**20
"""Bytes of memory: what is as large is given back when it is let go, and so is what is free beyond the other. Ours, no source."""
_OURS = {
    "OPENBLAS_NUM_THREADS": "1",  # NumPy's: its threads would be started again in every child
    # A child is new memory throughout, and a page of 4 kB costs some 2 µs when it is first touched: a quarter of what drawing
    # a photograph took. So memory comes in pages of 2 MB where the kernel has them, and what is let go is used again, by
    # whichever thread.
    "GLIBC_TUNABLES": ":".join((
        "glibc.malloc.hugetlb=1", "glibc.malloc.arena_max=1",
        f"glibc.malloc.mmap_threshold={_AT_ONCE}", f"glibc.malloc.trim_threshold={_KEPT_FREE}",
    )),
}
_RUN = "import sys; sys.path[:] = {path!r}; from service.jobs.children.forking import main; main({control}, {without!r})"
_PATIENCE_SECONDS = 10.0
"""For what the fork server does at once: a machine that needs longer is beyond help."""


class ForkServer:
    """Safe to use from several threads; a process that was forked from the one that made it gets a fork server of its own."""

    def __init__(self, without: frozenset[str] = frozenset()) -> None:
        """`without`: walls that are left out, as on a kernel that does not offer them; for tests."""
        self._without = without
        self._starting = threading.Lock()
        self._owner = 0
        self._control: socket.socket | None = None
        self._process: subprocess.Popen[bytes] | None = None
        self._ready = False
        """It has said so: what was asked for is forked."""

    def begin(self) -> None:
        """Start it where it is not running, without waiting until it is ready. Raises OSError."""
        self._running()

    def _running(self) -> socket.socket:
        with self._starting:
            if self._owner != os.getpid():  # forked: it is another's, who does not notice
                if self._control is not None:
                    self._control.close()
                self._owner, self._control, self._process = os.getpid(), None, None
            if self._process is not None and self._process.poll() is not None:
                self._let_go()
            if self._control is None:
                self._start()
            assert self._control is not None
            return self._control

    def _start(self) -> None:
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        with theirs, ExitStack() as where_it_fails:
            where_it_fails.enter_context(ours)
            program = _RUN.format(path=sys.path, control=theirs.fileno(), without=sorted(self._without))
            self._process = subprocess.Popen(
                [sys.executable, "-c", program],
                env=environment(os.environ),
                pass_fds=[theirs.fileno()],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
            )
            where_it_fails.pop_all()
        self._control, self._ready = ours, False
        from service.jobs.children.confinement.privileges import hide_memory  # while the other loads what it needs

        hide_memory()
        atexit.register(self.close)

    def close(self) -> None:
        """End it and its children, and wait until it is gone."""
        with self._starting:
            if self._owner == os.getpid():
                self._let_go()

    def _let_go(self) -> None:
        atexit.unregister(self.close)
        if self._process is not None:
            if not self.is_ready():  # nobody waits for what it still loads, and it has no children
                self._process.kill()
            if self._control is not None:
                self._control.close()
            try:
                self._process.wait(_PATIENCE_SECONDS)
            except subprocess.TimeoutExpired:
                self._process.kill()
                self._process.wait(_PATIENCE_SECONDS)
        self._control = self._process = None

    def is_ready(self) -> bool:
        """Whether it has begun to fork; where it has not, there is no child yet."""
        if not self._ready and self._control is not None:
            with suppress(OSError):
                self._ready = self._control.recv(len(READY), socket.MSG_DONTWAIT) == READY
        return self._ready

    @contextmanager
    def child(self, main: str, task: object, limits: Limits, *, hears: bool = False) -> Iterator[Child]:
        """A child that runs `main` ('module:function') with (task, limits, its end of a pipe); it is gone afterwards.

        `hears`: with the end of another pipe as well, through which more is told to it.

        Raises OSError where it cannot be started.
        """
        control = self._running()
        with ExitStack() as open_here, ExitStack() as theirs:
            told = os.memfd_create("task")
            theirs.callback(os.close, told)
            with os.fdopen(told, "wb", closefd=False) as file:
                pickle.dump((main, task, limits), file)
            out, into = os.pipe()
            open_here.callback(os.close, out)
            theirs.callback(os.close, into)
            heard, ear = os.pipe() if hears else (None, None)
            if heard is not None and ear is not None:
                theirs.callback(os.close, heard)
                open_here.callback(os.close, ear)
            line, their_end = socket.socketpair()
            open_here.enter_context(line)
            theirs.enter_context(their_end)
            descriptors = [told, into, their_end.fileno(), *(() if heard is None else (heard,))]
            socket.send_fds(control, [main.encode()[:LONGEST_NAME]], descriptors)
            theirs.close()
            child = Child(out, line, self, ear)
            try:
                yield child
            finally:
                child.end()


class Child:
    def __init__(self, pipe: int, line: socket.socket, server: ForkServer, ear: int | None = None) -> None:
        self.pipe = pipe
        """Where it says what it has found."""
        self.ear = ear
        """Where it hears what follows its task; None where nothing does."""
        self._line, self._server = line, server
        self._exit_code: int | None = None

    def exit_code(self, seconds: float) -> int | None:
        """As of a `subprocess`; None where it has not ended in that time, or the fork server is gone."""
        if self._exit_code is None:
            self._line.settimeout(seconds)
            with suppress(TimeoutError, ConnectionError):
                told = self._line.recv(calcsize(EXIT_CODE))
                self._exit_code = unpack(EXIT_CODE, told)[0] if told else None
        return self._exit_code

    def hang_up(self) -> None:
        """It is ended, which nobody waits for yet."""
        with suppress(OSError):
            self._line.shutdown(socket.SHUT_WR)

    def end(self) -> None:
        self.hang_up()
        if self._server.is_ready():
            self.exit_code(_PATIENCE_SECONDS)


def environment(ours: Mapping[str, str]) -> dict[str, str]:
    return {name: value for name, value in ours.items() if name.startswith(_KEPT)} | _OURS
