"""What the fork server does: fork a child for each message, and end each when its line is hung up.

What the child needs is loaded first, and the rest while nobody asks: a command that checks one file, or draws one sheet,
waits for no more than that, and is gone before the rest is begun.

While nobody asks it keeps one child ready, a spare: forked like any other, it waits for its one file, and puts up its walls
when it gets that. So who comes alone does not wait for the fork. While others run there is none: forking costs the same.

It is the last to adopt what a child has started and left behind (`PR_SET_CHILD_SUBREAPER`, prctl(2)), and ends that too.
"""

from __future__ import annotations

import gc
import os
import pickle
import select
import signal
import socket
import struct
import sys
import traceback
from collections.abc import Callable, Iterable
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import NamedTuple, NoReturn

from service.jobs.children.confinement.namespaces import world_of_processes
from service.jobs.children.confinement.walls import confine_fork_server
from service.jobs.children.entry import begin
from service.jobs.children.fork_server import EXIT_CODE, LONGEST_NAME, READY
from service.jobs.children.tasks import DRAWING, JUDGING, MEASURING

NEEDED = {
    MEASURING: ("service.jobs.children.child", "service.jobs.children.preloaded"),
    JUDGING: ("service.jobs.children.child", "service.jobs.children.preloaded"),
    DRAWING: ("service.jobs.children.drawing_child",),
}
"""By what is to run in a child; what it draws it loads itself, where that is not loaded yet."""
PRELOADED = (
    *NEEDED[MEASURING],
    "service.jobs.children.practised",
    *NEEDED[DRAWING],
    "service.proofs.picture.practised",
    "service.proofs.plates.drawn",
    "service.proofs.dummy.drawn",
    "service.answers.reading_child",
    "service.sheets.prose.reading",
)
_IDLE_MS = 1000
"""Once somebody has asked: whoever wants one thing only is gone by then."""
_DESCRIPTORS = 4
_MOST_SWEEPS = 100
"""Rounds of ending orphans that start others meanwhile."""


def main(control: int, without: Iterable[str]) -> None:
    for number in (signal.SIGINT, signal.SIGTERM):  # a terminal's and a supervisor's: whoever asks us ends us, by hanging up
        signal.signal(number, signal.SIG_IGN)
    world = confine_fork_server(frozenset(without))
    with socket.socket(fileno=control) as asked:
        _Forking(asked, world).serve()


class _Spare(NamedTuple):
    """A child that waits for what it is to do, and has seen nothing yet."""

    pid: int
    line: socket.socket
    """Through which it gets that; it ends where this is closed, as it is when we end."""


class _Forking:
    def __init__(self, asked: socket.socket, world: int | None) -> None:
        self._asked, self._world = asked, world
        self._spare: _Spare | None = None
        self._spare_is_due = True
        """Once for each that asks: one that ends by itself, or has no room, is not begun again and again."""
        self._lines: dict[int, socket.socket] = {}
        """By the child's process id."""
        self._hung_up: set[int] = set()
        """Children whose line says so, and who have been ended; they may not be gone yet."""
        self._to_load, self._was_asked = list(PRELOADED), False
        self._died, wakes = os.pipe2(os.O_NONBLOCK | os.O_CLOEXEC)
        signal.signal(signal.SIGCHLD, lambda *_: None)
        signal.set_wakeup_fd(wakes, warn_on_full_buffer=False)

    def serve(self) -> None:
        """Until whoever asks is gone."""
        while True:
            ready = self._ready()
            if self._died in ready:
                with suppress(BlockingIOError):
                    os.read(self._died, 2**12)
                self._bury()
            for pid in [pid for pid, line in self._lines.items() if line.fileno() in ready]:
                self._hung_up.add(pid)
                _kill(pid)
            if self._asked.fileno() in ready and not self._answer():
                break
            if not ready and self._to_load:
                self._load(self._to_load[:1])
            elif not ready:
                self._spare = self._new_spare()
        for pid in self._lines:
            _kill(pid)
        self._lines.clear()
        self._let_go_of_spare()
        self._end_orphans()

    def _ready(self) -> set[int]:
        poll = select.poll()
        lines = [line.fileno() for pid, line in self._lines.items() if pid not in self._hung_up]
        for descriptor in (self._died, self._asked.fileno(), *lines):
            poll.register(descriptor, select.POLLIN)
        wait_ms = None
        if not self._lines and self._to_load:
            wait_ms = _IDLE_MS if self._was_asked else 0
        elif not self._lines and self._spare_is_due:
            wait_ms = 0
        return {descriptor for descriptor, _ in poll.poll(wait_ms)}

    def _load(self, names: Iterable[str]) -> None:
        for name in [one for one in names if one in self._to_load]:
            self._to_load.remove(name)
            import_module(name)
            gc.freeze()  # collecting would copy pages that all children share

    def _answer(self) -> bool:
        message, descriptors, _, _ = socket.recv_fds(self._asked, LONGEST_NAME, _DESCRIPTORS)
        if not message:
            return False
        self._load(NEEDED.get(message.decode(), ()))
        if not self._was_asked:
            self._was_asked = True
            with suppress(OSError):  # nobody is there any longer
                self._asked.send(READY)
        task, out, line, *heard = descriptors
        self._spare_is_due = True
        with socket.socket(fileno=line) as told:
            try:
                pid = self._given_to_spare(task, out, *heard) or self._fork(lambda: _run(task, out, *heard))
            except OSError:  # no room: the line is hung up, and our owner sees a child that did not begin
                traceback.print_exc()
                pid = -1
            for one in (task, out, *heard):
                os.close(one)
            if pid > 0:
                self._lines[pid] = told.dup()
        return True

    def _fork(self, act: Callable[[], None]) -> int:
        """The process id of a child that does this and ends."""
        with world_of_processes(self._world):
            pid = os.fork()
            if pid == 0:
                _become_child(act)
        return pid

    def _new_spare(self) -> _Spare | None:
        """While nobody asks: whoever comes next, with whatever file, need not wait until a child is forked."""
        self._spare_is_due = False
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        with theirs:
            try:
                return _Spare(self._fork(lambda: _wait_for_task(theirs)), ours)
            except OSError:  # no room now; whoever asks next is told so
                ours.close()
                return None

    def _given_to_spare(self, *descriptors: int) -> int | None:
        """Its process id; None where there is none that would take it."""
        spare, self._spare = self._spare, None
        if spare is None:
            return None
        with spare.line, suppress(OSError):
            socket.send_fds(spare.line, [b"t"], descriptors)
            return spare.pid
        _kill(spare.pid)
        return None

    def _let_go_of_spare(self) -> None:
        if self._spare is not None:
            self._spare.line.close()
            self._spare = None

    def _bury(self) -> None:
        """Those that have ended, and what each of them started, before its number can be another's."""
        while (ended := _ended()) is not None:
            line = self._lines.pop(ended, None)
            self._hung_up.discard(ended)
            if self._spare is not None and self._spare.pid == ended:
                self._let_go_of_spare()
            if line is not None:
                _kill(ended)
            _, status = os.waitpid(ended, 0)
            self._end_orphans()
            if line is not None:
                with line, suppress(OSError):
                    line.sendall(struct.pack(EXIT_CODE, os.waitstatus_to_exitcode(status)))

    def _end_orphans(self) -> None:
        """What was adopted: the kernel lists it (proc(5), task/…/children), where it is built to."""
        if self._world is not None:  # nothing outlives the first process of its world, and /proc numbers by another
            return
        for _ in range(_MOST_SWEEPS):
            try:
                listed = Path("/proc/thread-self/children").read_text(encoding="ascii")
            except OSError:
                return
            orphans = {int(one) for one in listed.split()} - self._lines.keys() - {self._spare.pid if self._spare else 0}
            if not orphans:
                return
            for pid in orphans:
                _kill(pid)
                with suppress(ChildProcessError):
                    os.waitpid(pid, 0)


def _become_child(act: Callable[[], None]) -> NoReturn:
    status = 1
    try:
        signal.set_wakeup_fd(-1)
        for number in (signal.SIGCHLD, signal.SIGTERM):
            signal.signal(number, signal.SIG_DFL)
        act()
        status = 0
    finally:
        if status:
            traceback.print_exc()
            sys.stderr.flush()
        os._exit(status)


def _wait_for_task(line: socket.socket) -> None:
    """Of a spare. Nothing else of what was inherited stays open: or it would not see that the fork server has ended."""
    os.closerange(3, line.fileno())
    os.closerange(line.fileno() + 1, os.sysconf("SC_OPEN_MAX"))
    _, descriptors, _, _ = socket.recv_fds(line, 1, 3)
    if descriptors:
        _run(*descriptors)


def _run(told: int, out: int, *heard: int) -> None:
    with os.fdopen(told, "rb") as file:
        file.seek(0)
        main, task, limits = pickle.load(file)  # our owner's own: nobody else can write there
    begin(main, task, limits, out, *heard)


def _ended() -> int | None:
    """A child that has ended and is still to be waited for."""
    try:
        found = os.waitid(os.P_ALL, 0, os.WEXITED | os.WNOHANG | os.WNOWAIT)
    except ChildProcessError:
        return None
    return found.si_pid if found else None


def _kill(pid: int) -> None:
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(pid, signal.SIGKILL)
    with suppress(ProcessLookupError, PermissionError):  # before it has a group of its own
        os.kill(pid, signal.SIGKILL)
