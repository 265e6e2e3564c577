"""The real service in a process of its own, for the few tests that need HTTP: `python -m tests.running PORT MEASURE`."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import requests


class Running:
    def __init__(self, process: subprocess.Popen[bytes], address: str, log: Path) -> None:
        self.process, self.address, self._log = process, address, log

    def stop(self, number: int = signal.SIGTERM) -> int:
        """Ends the service and gives its exit code."""
        self.process.send_signal(number)
        return self.process.wait(30)

    @property
    def log(self) -> str:
        return self._log.read_text()


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
        return port


@contextmanager
def running(data: Path, measure: str = "service.pdf.measure:measure", **settings: str) -> Iterator[Running]:
    """A service on a free port; settings by their environment name without PRINT_SPEC_."""
    port = free_port()
    environment = {
        **os.environ,
        "PRINT_SPEC_DATA": str(data),
        **{f"PRINT_SPEC_{name}": value for name, value in settings.items()},
    }
    log = data.parent / f"{data.name}-{port}.log"
    with log.open("wb") as output:
        command = [sys.executable, "-m", "tests.running", str(port), measure]
        process = subprocess.Popen(command, env=environment, stdout=output, stderr=output, start_new_session=True)
    service = Running(process, f"http://127.0.0.1:{port}", log)
    try:
        _wait_for(service)
        yield service
    finally:
        if process.poll() is None:
            service.stop()


def _wait_for(service: Running) -> None:
    until = time.monotonic() + 20
    while True:
        try:
            if requests.get(f"{service.address}/readyz", timeout=2).ok:
                return
        except requests.ConnectionError:
            pass
        if service.process.poll() is not None or time.monotonic() > until:
            raise RuntimeError(f"the service did not start:\n{service.log}")
        time.sleep(0.05)


def main() -> None:
    """Serve as `print-spec serve` does, with another measuring step where a test wants one."""
    from service import wiring
    from service.serving import serve
    from service.settings import read_settings

    wiring.make_parts.__defaults__ = (sys.argv[2],)
    serve("127.0.0.1", int(sys.argv[1]), read_settings())


if __name__ == "__main__":
    main()
