"""Run a task in a child process and read its answer as that of a stranger.

The child comes from a fork server with the measuring modules loaded (10–14 ms a child, measured; see DEVELOPERS.md). What it
sends is bytes, bounded in size and read as JSON, never unpickled. A child that crashes, hangs, asks for too much or lies
leaves the file unmeasured, which is a result. What fails on our own side of the pipe is raised.
Checks (`service.jobs.children.measuring.check`) and what is drawn from a file (`service.jobs.children.drawing`) run here.
"""

from __future__ import annotations

import logging
import multiprocessing
import os
import select
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from multiprocessing import forkserver
from multiprocessing.connection import Connection, wait
from multiprocessing.context import ForkServerProcess

from service.jobs.children.entry import begin
from service.jobs.children.failures import NOT_TRUSTED, SAID_TOO_MUCH, TOOK_TOO_LONG, crash, failure_of
from service.jobs.children.lines import Heard, TooMuchSaid
from service.jobs.children.tasks import Limits
from service.pdf.facts.unknown import Failure

log = logging.getLogger(__name__)

LOOK_EVERY_SECONDS = 0.2

_PROCESSES = threading.Lock()
"""Starting a process looks at all others' exit codes, which two threads must not read at once."""

class Interrupted(Exception):
    """The check was stopped from outside: the service stops, or nobody wants the result any longer."""


class SandboxBroken(RuntimeError):
    """The child did not even begin: a fault of the service, not of the file."""


def warm() -> None:
    """Start the fork server now, so that the first check need not wait for it."""
    # '__main__' is not preloaded: what started the service is not needed for measuring.
    multiprocessing.get_context("forkserver").set_forkserver_preload(
        [
            "service.jobs.children.child",
            "service.jobs.children.drawing_child",
            "service.jobs.children.preloaded",
            "service.proofs.plates.drawn",
            "service.proofs.dummy.drawn",
        ]
    )
    forkserver.ensure_running()


def listen_to(
    main: str,
    task: object,
    limits: Limits,
    heard: Heard,
    stopped: Callable[[], bool],
) -> Failure | None:
    """Run `main` ('module:function') with (task, limits, pipe) in a child until it has said all; why it has not, where not.

    Raises as `run`.
    """
    with child(main, task, limits) as (process, pipe):
        why = _listen(pipe, heard, time.monotonic() + limits.seconds, stopped)
        if why:
            return why
        return None if heard.complete and not heard.error else why_ended(process, heard, limits)


def why_ended(process: ForkServerProcess, heard: Heard, limits: Limits) -> Failure:
    """Of a child that has nothing more to say and did not say all. Raises `SandboxBroken`."""
    if heard.error:
        return failure_of(heard.error)
    exit_code = _exit_code(process)
    if not heard.ready:
        raise SandboxBroken(f"the measuring process ended with {exit_code} before it began")
    return crash(exit_code, limits)


@contextmanager
def child(main: str, task: object, limits: Limits) -> Iterator[tuple[ForkServerProcess, Connection]]:
    """A running child and the end of its pipe; whatever happens, it is gone afterwards."""
    warm()
    context = multiprocessing.get_context("forkserver")
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=begin, args=(main, task, limits, theirs), name="check", daemon=True)
    try:
        with _PROCESSES:
            process.start()
        theirs.close()
        yield process, ours
    finally:
        ours.close()
        theirs.close()
        if process.pid is not None:
            _end(process, process.pid)


def _exit_code(process: ForkServerProcess) -> int | None:
    wait([process.sentinel], 0.5)
    with _PROCESSES:
        return process.exitcode


def _end(process: ForkServerProcess, pid: int) -> None:
    with _PROCESSES:
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(pid, signal.SIGKILL)  # and whatever it has started itself
        if process.exitcode is None:
            process.kill()
        process.join()
        process.close()


def _listen(pipe: Connection, heard: Heard, deadline: float, stopped: Callable[[], bool]) -> Failure | None:
    """Take in what the child says until it is done; why it had to be stopped, where it had to."""
    poll = select.poll()
    poll.register(pipe.fileno(), select.POLLIN)
    while not heard.complete:
        if stopped():
            raise Interrupted
        left = deadline - time.monotonic()
        if left <= 0:
            return TOOK_TOO_LONG
        if poll.poll(min(left, LOOK_EVERY_SECONDS) * 1000):
            ended, why = listen_once(pipe, heard)
            if ended:
                return why
    return None


def listen_once(pipe: Connection, heard: Heard) -> tuple[bool, Failure | None]:
    """Take in what has come. Whether nothing more will, or may, and why it may not."""
    chunk = os.read(pipe.fileno(), 2**18)
    if not chunk:
        return True, None
    try:
        heard.hear(chunk)
    except TooMuchSaid:
        return True, SAID_TOO_MUCH
    except (ValueError, RecursionError) as error:
        log.warning("a measuring process said what cannot be read: %.300s", error)
        return True, NOT_TRUSTED
    return False, None
