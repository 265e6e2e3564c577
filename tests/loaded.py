"""A process that has loaded the service and is forked for each one that a test starts: `python -m tests.loaded DESCRIPTOR`.

Loading takes two seconds of processor time, and reading the stored sheets one more. What is forked is then what
`print-spec serve` is: in a session of its own, with the environment that it was given, and gunicorn's processes and a fork
server of its own.
"""

from __future__ import annotations

import atexit
import gc
import json
import os
import signal
import socket
import subprocess
import sys
from collections.abc import Mapping
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from struct import calcsize, pack, unpack
from typing import BinaryIO

from tests.patience import PATIENCE_SECONDS

_NUMBER = "i"
"""How the process id and the exit code are told, for `struct`."""
_LONGEST = 2**17


# --- Whoever asks -----------------------------------------------------------------------------------------------------


class Loaded:
    """One for a whole test process; begun when it is first asked."""

    def __init__(self) -> None:
        self._asked: socket.socket | None = None

    def begin(self, environment: Mapping[str, str], arguments: list[str], output: BinaryIO) -> Forked:
        """A service; as `tests.running` has it from the command line."""
        asked = self._asked or self._start()
        line, theirs = socket.socketpair()
        with theirs:
            message = json.dumps([dict(environment), str(Path.cwd()), arguments]).encode()
            assert len(message) < _LONGEST, "it is read at once"
            socket.send_fds(asked, [message], [output.fileno(), theirs.fileno()])
        return Forked(line)

    def _start(self) -> socket.socket:
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        for one in (ours, theirs):
            one.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, 2 * _LONGEST)
        with theirs:
            command = [sys.executable, "-m", "tests.loaded", str(theirs.fileno())]
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
        self._asked = ours
        return ours


class Forked:
    """A service that was forked, as `subprocess` has a process."""

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
            raise subprocess.TimeoutExpired("a service", seconds) from None
        assert told, "whoever watches the service is gone"
        return int(unpack(_NUMBER, told)[0])

    def send_signal(self, number: int) -> None:
        if self.poll() is None:
            os.kill(self.pid, number)

    def terminate(self) -> None:
        self.send_signal(signal.SIGTERM)


# --- The process that is forked -----------------------------------------------------------------------------------------


def main(asked: int) -> None:
    _load()
    found = _asked_for(asked)
    if found is not None:
        from tests.running import serve

        serve(found)


def _load() -> None:
    """What a service that has answered for a while has loaded."""
    from service.api.specs.kept_sheets import read_stored_sheets

    service = Path(__file__).parents[1] / "service"
    for room in ("api", "door", "web"):
        for path in sorted((service / room).rglob("*.py")):
            import_module(".".join(path.relative_to(service.parent).with_suffix("").parts).removesuffix(".__init__"))
    import_module("service.serving")
    read_stored_sheets()
    gc.freeze()
    atexit.register(gc.freeze)  # as `print-spec` does


def _asked_for(descriptor: int) -> list[str] | None:
    """The arguments of a service, in the process that is to be it; None once nobody asks any longer."""
    with socket.socket(fileno=descriptor) as asked:
        while True:
            message, descriptors, _, _ = socket.recv_fds(asked, _LONGEST, 2)
            if not message:
                return None
            with suppress(ChildProcessError):
                while os.waitpid(-1, os.WNOHANG)[0]:  # those who have watched to the end
                    pass
            if os.fork() == 0:
                asked.close()
                return _watched(json.loads(message), *descriptors)
            for one in descriptors:
                os.close(one)


def _watched(request: tuple[dict[str, str], str, list[str]], output: int, told: int) -> list[str]:
    """Return in a process of its own; stay here and tell of its end."""
    environment, folder, arguments = request
    pid = os.fork()
    if pid:
        os.close(output)
        with socket.socket(fileno=told) as line:
            line.sendall(pack(_NUMBER, pid))
            _, status = os.waitpid(pid, 0)
            with suppress(OSError):  # nobody wants to know
                line.sendall(pack(_NUMBER, os.waitstatus_to_exitcode(status)))
        os._exit(0)
    os.close(told)
    os.setsid()
    for stream in (1, 2):
        os.dup2(output, stream)
    os.close(output)
    os.environ.clear()
    os.environ.update(environment)
    os.chdir(folder)
    return arguments


if __name__ == "__main__":
    main(int(sys.argv[1]))
