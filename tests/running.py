"""The real service in a process of its own, for the few tests that need HTTP: `python -m tests.running PORT MEASURE`.

It is forked from a process that has loaded it (`tests.loaded`), unless a test wants it begun anew, as an operator begins it.
"""

from __future__ import annotations

import atexit
import gc
import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any, Protocol, TypeVar

import requests

from tests.databases import database_url
from tests.loaded import OWN_FORK_SERVER, SERVICE, Loaded
from tests.patience import PATIENCE_SECONDS, until


class Process(Protocol):
    """What `subprocess` has."""

    pid: int

    def poll(self) -> int | None: ...
    def wait(self, timeout: float) -> int: ...
    def send_signal(self, number: int) -> None: ...
    def terminate(self) -> None: ...


Some = TypeVar("Some", bound=Process)

LOADED = Loaded(SERVICE)


class Running:
    def __init__(self, process: Process, address: str, log: Path) -> None:
        self.process, self.address, self._log = process, address, log

    def stop(self, number: int = signal.SIGTERM) -> int:
        """Ends the service and gives its exit code."""
        self.process.send_signal(number)
        return self.process.wait(PATIENCE_SECONDS)

    @property
    def log(self) -> str:
        return self._log.read_text()


def worker_memory_bytes(service: Running) -> int:
    """The most that the process that answers has had in memory."""
    (worker, *_) = Path(f"/proc/{service.process.pid}/task/{service.process.pid}/children").read_text().split()
    status = Path(f"/proc/{worker}/status").read_text()
    return 1024 * next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM"))


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
        return port


@contextmanager
def running(
    data: Path, measure: str | None = None, *, anew: bool = False, own_fork_server: bool = False, **settings: str
) -> Iterator[Running]:
    """A service on a free port; settings by their environment name without PRINT_SPEC_."""
    port = free_port()
    environment = {
        **os.environ,
        "PRINT_SPEC_DATA": str(data),
        "PRINT_SPEC_DATABASE_URL": database_url(data),
        **({OWN_FORK_SERVER: "yes"} if own_fork_server else {}),
        **{f"PRINT_SPEC_{name}": value for name, value in settings.items()},
    }
    log = data.parent / f"{data.name}-{port}.log"
    arguments = [str(port), *([measure] if measure else [])]
    with log.open("wb") as output, ExitStack() as ends:
        process: Process
        if anew:
            command = [sys.executable, "-m", "tests.running", *arguments]
            process = ends.enter_context(child(command, env=environment, stdout=output, stderr=output))
        else:
            process = ends.enter_context(ended(LOADED.begin(environment, arguments, output.fileno())))
        service = Running(process, f"http://127.0.0.1:{port}", log)
        until(lambda: process.poll() is not None or _answers(service, port), "the service ready")
        if process.poll() is not None:
            raise RuntimeError(f"the service did not start:\n{service.log}")
        yield service


@contextmanager
def child(command: Sequence[str], **options: Any) -> Iterator[subprocess.Popen[Any]]:
    """A process in a session of its own, which is ended with the block, and all that it has started with it."""
    with subprocess.Popen(command, start_new_session=True, **options) as process, ended(process):
        yield process


@contextmanager
def ended(process: Some) -> Iterator[Some]:
    """With the block, and all of its session."""
    try:
        yield process
    finally:
        process.terminate()
        try:
            process.wait(PATIENCE_SECONDS)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait(PATIENCE_SECONDS)


def _answers(service: Running, port: int) -> bool:
    with socket.socket() as one:
        if one.connect_ex(("127.0.0.1", port)):
            return False  # `requests` would ask as often, and take a part of the processor that the service begins on
    try:
        return requests.get(f"{service.address}/readyz", timeout=PATIENCE_SECONDS).ok
    except requests.ConnectionError:
        return False


def serve(arguments: Sequence[str]) -> None:
    """As `print-spec serve` does, with another measuring step where a test wants one."""
    from service import wiring
    from service.serving import serve
    from service.settings import read_settings

    port, *measure = arguments
    wiring.make_parts.__defaults__ = (measure[0] if measure else None,)
    serve("127.0.0.1", int(port), read_settings())


if __name__ == "__main__":
    atexit.register(gc.freeze)  # as `print-spec` does
    serve(sys.argv[1:])
