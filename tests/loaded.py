"""Processes that have loaded what tests start again and again, and are forked for each: `python -m tests.loaded KIND DESCRIPTOR`.

One has loaded the service, which takes two seconds of processor time, and the stored sheets, one more. What is forked is then
what `print-spec serve` is: in a session of its own, with the environment that it was given, and gunicorn's processes.

The other has loaded what a fork server loads, which takes one second. What is forked has the environment that a fork server
gets, runs the same program and puts up its walls; only that it stands beside its service and not below it, and that its
libraries were there before the walls. `tests.jobs.children` and the hostile files have a fork server as it is begun.
"""

from __future__ import annotations

import atexit
import gc
import json
import os
import select
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from struct import calcsize, pack, unpack
from types import SimpleNamespace
from typing import Any, NamedTuple

from tests.patience import PATIENCE_SECONDS

SERVICE, FORK_SERVER = "service", "fork-server"
COMMAND = "print-spec"
"""The first argument of what is begun as from the command line: the others are those of the command."""
OWN_FORK_SERVER = "TESTS_OWN_FORK_SERVER"
"""In the environment of a service: it begins a fork server as it does for an operator."""
_NUMBER = "i"
"""How the process id and the exit code are told, for `struct`."""
_LONGEST = 2**17
_MOST_DESCRIPTORS = 3


# --- Whoever asks -----------------------------------------------------------------------------------------------------


class Loaded:
    """One of a kind for a whole test process, and what is forked from it; begun when it is first asked."""

    def __init__(self, kind: str) -> None:
        self._kind = kind
        self._asked: socket.socket | None = None

    def begin(self, environment: Mapping[str, str], arguments: Sequence[str], *descriptors: int) -> Forked:
        """A service, with what `COMMAND` says or its arguments as `tests.running` has them, and where it writes; a fork server,
        with its program, where it writes its errors and its line.
        """
        asked = self.start()
        line, theirs = socket.socketpair()
        with theirs:
            message = json.dumps([dict(environment), str(Path.cwd()), list(arguments)]).encode()
            assert len(message) < _LONGEST, "it is read at once"
            socket.send_fds(asked, [message], [theirs.fileno(), *descriptors])
        return Forked(line)

    def start(self) -> socket.socket:
        self._asked = self._asked or self._started()
        return self._asked

    def _started(self) -> socket.socket:
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        for one in (ours, theirs):
            one.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, 2 * _LONGEST)
        with theirs:
            command = [sys.executable, "-m", "tests.loaded", self._kind, str(theirs.fileno())]
            process = subprocess.Popen(
                command,
                cwd=Path(__file__).parents[1],
                pass_fds=[theirs.fileno()],
                stdin=subprocess.DEVNULL,
                start_new_session=True,
            )

        def end() -> None:
            ours.close()
            process.wait(PATIENCE_SECONDS)

        atexit.register(end)
        return ours


class Forked:
    """A process that was forked, as `subprocess` has one."""

    def __init__(self, line: socket.socket) -> None:
        self._line = line
        self._exit_code: int | None = None
        self.pid = self._told(PATIENCE_SECONDS)

    def poll(self) -> int | None:
        try:
            return self.wait(0)
        except subprocess.TimeoutExpired:
            return None

    def wait(self, timeout: float) -> int:
        if self._exit_code is None:
            self._exit_code = self._told(timeout)
            self._line.close()
        return self._exit_code

    def _told(self, seconds: float) -> int:
        self._line.settimeout(seconds)
        try:
            told = self._line.recv(calcsize(_NUMBER))
        except (TimeoutError, BlockingIOError):
            raise subprocess.TimeoutExpired("what was forked", seconds) from None
        assert told, "whoever watches it is gone"
        return int(unpack(_NUMBER, told)[0])

    def send_signal(self, number: int) -> None:
        if self.poll() is None:
            os.kill(self.pid, number)

    def terminate(self) -> None:
        self.send_signal(signal.SIGTERM)

    def kill(self) -> None:
        self.send_signal(signal.SIGKILL)


# --- The processes that are forked --------------------------------------------------------------------------------------


class Request(NamedTuple):
    environment: dict[str, str]
    folder: str
    arguments: list[str]
    descriptors: list[int]


def main(kind: str, asked: int) -> None:
    begun = {SERVICE: _service, FORK_SERVER: _fork_server}[kind]
    begun(asked)


def _service(asked: int) -> None:
    """Load what a service that has answered for a while has loaded, and be one."""
    from service.api.specs.kept_sheets import read_stored_sheets
    from service.jobs.children import fork_server

    service = Path(__file__).parents[1] / "service"
    for room in ("api", "door", "web"):
        for path in sorted((service / room).rglob("*.py")):
            import_module(".".join(path.relative_to(service.parent).with_suffix("").parts).removesuffix(".__init__"))
    import_module("service.serving")
    read_stored_sheets()
    children = Loaded(FORK_SERVER)
    children.start()
    gc.freeze()
    atexit.register(gc.freeze)  # as `print-spec` does
    found = _asked_for(asked)
    if found is not None:
        (output,) = found.descriptors
        os.dup2(output, 1)
        _become(found, output)
        os.setsid()
        if OWN_FORK_SERVER not in found.environment:
            vars(fork_server)["subprocess"] = _from(children)
        if found.arguments[0] == COMMAND:
            from service.__main__ import main

            sys.exit(main(found.arguments[1:]))
        from tests.running import serve

        serve(found.arguments)


def _from(children: Loaded) -> SimpleNamespace:
    """What a `ForkServer` uses of `subprocess`."""

    def begun(command: Sequence[str], *, env: Mapping[str, str], pass_fds: Sequence[int], **_: Any) -> Forked:
        (control,) = pass_fds
        return children.begin(env, [str(control), command[-1]], sys.stderr.fileno(), control)

    return SimpleNamespace(Popen=begun, DEVNULL=subprocess.DEVNULL, TimeoutExpired=subprocess.TimeoutExpired)


def _fork_server(asked: int) -> None:
    """Load what a fork server that nobody has asked for a while has loaded, and be one."""
    from service.jobs.children.forking import PRELOADED

    for name in PRELOADED:
        import_module(name)
    gc.freeze()
    found = _asked_for(asked)
    if found is not None:
        errors, control = found.descriptors
        number, program = found.arguments
        _become(found, errors)
        if control != int(number):
            os.dup2(control, int(number))
            os.close(control)
        exec(program, {})  # which ends once its owner has hung up
        os._exit(0)


def _become(found: Request, errors: int) -> None:
    os.dup2(errors, 2)
    os.close(errors)
    os.environ.clear()
    os.environ.update(found.environment)
    os.chdir(found.folder)


def _asked_for(descriptor: int) -> Request | None:
    """What is to be, in the process that is to be it; None once nobody asks any longer."""
    with socket.socket(fileno=descriptor) as asked:
        while True:
            message, descriptors, _, _ = socket.recv_fds(asked, _LONGEST, _MOST_DESCRIPTORS)
            if not message:
                return None
            with suppress(ChildProcessError):
                while os.waitpid(-1, os.WNOHANG)[0]:  # those who have watched to the end
                    pass
            if os.fork() == 0:
                asked.close()
                told, *given = descriptors
                environment, folder, arguments = json.loads(message)
                return _watched(Request(environment, folder, arguments, given), told)
            for one in descriptors:
                os.close(one)


def _watched(request: Request, told: int) -> Request:
    """Return in a process of its own; stay here and tell of its end."""
    pid = os.fork()
    if pid:
        for one in request.descriptors:
            os.close(one)
        with socket.socket(fileno=told) as line:
            line.sendall(pack(_NUMBER, pid))
            _, status = os.waitpid(pid, 0) if _ends_while_wanted(pid, line) else _ended(pid)
            with suppress(OSError):  # nobody wants to know
                line.sendall(pack(_NUMBER, os.waitstatus_to_exitcode(status)))
        os._exit(0)
    os.close(told)
    return request


def _ends_while_wanted(pid: int, line: socket.socket) -> bool:
    """Wait for its end; False where whoever asked for it is gone before that: a test run that was killed leaves nothing."""
    watched = os.pidfd_open(pid)
    poll = select.poll()
    poll.register(watched, select.POLLIN)
    poll.register(line, select.POLLHUP)
    while True:
        told = dict(poll.poll())
        if watched in told:
            return True
        if told:
            return False


def _ended(pid: int) -> tuple[int, int]:
    os.kill(pid, signal.SIGTERM)
    for _ in range(int(PATIENCE_SECONDS * 10)):
        ended = os.waitpid(pid, os.WNOHANG)
        if ended[0]:
            return ended
        time.sleep(0.1)
    os.kill(pid, signal.SIGKILL)
    return os.waitpid(pid, 0)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
