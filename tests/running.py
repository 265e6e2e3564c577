"""The real service in a process of its own, for the few tests that need HTTP: `python -m tests.running PORT MEASURE`."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import requests

from tests.databases import database_url
from tests.patience import PATIENCE_SECONDS, until


class Running:
    def __init__(self, process: subprocess.Popen[bytes], address: str, log: Path) -> None:
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
def running(data: Path, measure: str | None = None, **settings: str) -> Iterator[Running]:
    """A service on a free port; settings by their environment name without PRINT_SPEC_."""
    port = free_port()
    environment = {
        **os.environ,
        "PRINT_SPEC_DATA": str(data),
        "PRINT_SPEC_DATABASE_URL": database_url(data),
        **{f"PRINT_SPEC_{name}": value for name, value in settings.items()},
    }
    log = data.parent / f"{data.name}-{port}.log"
    command = [sys.executable, "-m", "tests.running", str(port), *([measure] if measure else [])]
    with log.open("wb") as output, child(command, env=environment, stdout=output, stderr=output) as process:
        service = Running(process, f"http://127.0.0.1:{port}", log)
        until(lambda: process.poll() is not None or _answers(service), "the service ready")
        if process.poll() is not None:
            raise RuntimeError(f"the service did not start:\n{service.log}")
        yield service


@contextmanager
def child(command: Sequence[str], **options: Any) -> Iterator[subprocess.Popen[Any]]:
    """A process in a session of its own, which is ended with the block, and all that it has started with it."""
    with subprocess.Popen(command, start_new_session=True, **options) as process:
        try:
            yield process
        finally:
            process.terminate()
            try:
                process.wait(PATIENCE_SECONDS)
            except subprocess.TimeoutExpired:
                os.killpg(process.pid, signal.SIGKILL)


def _answers(service: Running) -> bool:
    try:
        return requests.get(f"{service.address}/readyz", timeout=PATIENCE_SECONDS).ok
    except requests.ConnectionError:
        return False


def main() -> None:
    """Serve as `print-spec serve` does, with another measuring step where a test wants one."""
    from service import wiring
    from service.serving import serve
    from service.settings import read_settings

    wiring.make_parts.__defaults__ = (sys.argv[2] if len(sys.argv) > 2 else None,)
    serve("127.0.0.1", int(sys.argv[1]), read_settings())


if __name__ == "__main__":
    main()
