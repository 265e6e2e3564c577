"""Run a task in a child process and read its answer as that of a stranger.

The child comes from a fork server with the measuring modules loaded (10–14 ms a child, measured; see DEVELOPERS.md). What it
sends is bytes, bounded in size and read as JSON, never unpickled. A child that crashes, hangs, asks for too much or lies
leaves the file unmeasured, which is a result. What fails on our own side of the pipe is raised.
Checks (`service.jobs.children.measuring.check`) and what is drawn from a file (`service.jobs.children.drawing`) run here.
"""

from __future__ import annotations

import logging
import os
import select
import time
from collections.abc import Callable

from service.jobs.children.failures import NOT_TRUSTED, SAID_TOO_MUCH, TOOK_TOO_LONG, crash, failure_of
from service.jobs.children.fork_server import Child, ForkServer
from service.jobs.children.lines import Heard, TooMuchSaid
from service.jobs.children.tasks import Limits
from service.pdf.facts.unknown import Failure
from service.settings import SettingsRefused

log = logging.getLogger(__name__)

LOOK_EVERY_SECONDS = 0.2

SERVER = ForkServer()


class Interrupted(Exception):
    """The check was stopped from outside: the service stops, others wait, or nobody wants the result any longer."""

    def __init__(self, unfinished: object = None) -> None:
        """`unfinished`: what was measured until then, for whoever goes on with it."""
        super().__init__("interrupted")
        self.unfinished = unfinished


class SandboxBroken(RuntimeError):
    """The child did not even begin: a fault of the service, not of the file."""


def warm() -> None:
    """Start the fork server now, so that the first check need not wait for it."""
    SERVER.begin()


def demand(sandbox: str) -> None:
    """`sandbox`: as the setting says. Raises `SettingsRefused` where all walls are required and this kernel lacks one."""
    if sandbox != "required":
        return
    from service.jobs.children.confinement.walls import offered, told

    if said := told(offered().lacks):
        raise SettingsRefused([f"PRINT_SPEC_SANDBOX is 'required', and cannot be had here. {said}"])


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
    with SERVER.child(main, task, limits) as child:
        why = _listen(child.pipe, heard, time.monotonic() + limits.seconds, stopped)
        if why:
            return why
        return None if heard.complete and not heard.error else why_ended(child, heard, limits)


def why_ended(child: Child, heard: Heard, limits: Limits) -> Failure:
    """Of a child that has nothing more to say and did not say all. Raises `SandboxBroken`."""
    if heard.error:
        return failure_of(heard.error)
    exit_code = child.exit_code(0.5)
    if not heard.ready:
        raise SandboxBroken(f"the measuring process ended with {exit_code} before it began")
    return crash(exit_code, limits)


def _listen(pipe: int, heard: Heard, deadline: float, stopped: Callable[[], bool]) -> Failure | None:
    """Take in what the child says until it is done; why it had to be stopped, where it had to."""
    poll = select.poll()
    poll.register(pipe, select.POLLIN)
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


def listen_once(pipe: int, heard: Heard) -> tuple[bool, Failure | None]:
    """Take in what has come. Whether nothing more will, or may, and why it may not."""
    chunk = os.read(pipe, 2**18)
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
