"""The service as anybody runs it, `python -m service serve`, with a calendar that stands still."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import requests

from tests.databases import database_url

ROOT = Path(__file__).parents[2]
NOON = "2026-11-27T12:00:00+00:00"
"""When everything happens, unless said otherwise."""
_START_SECONDS = 60


def environment(now: str = NOON, **settings: str) -> dict[str, str]:
    """Nothing of the caller's own settings; `settings` by their name without PRINT_SPEC_."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "TMPDIR", "LD_LIBRARY_PATH") if name in os.environ}
    paths = os.pathsep.join((str(Path(__file__).parent / "clock"), str(ROOT)))
    return {
        **kept,
        "PYTHONPATH": paths,
        "PYTHONUTF8": "1",
        "LANG": "C.UTF-8",
        "COLUMNS": "100",
        "TZ": "UTC",
        "RECORDED_NOW": now,
        **{f"PRINT_SPEC_{name}": value for name, value in settings.items()},
    }


@dataclass(frozen=True)
class Served:
    address: str
    process: subprocess.Popen[bytes]


@contextmanager
def served(data: Path, now: str = NOON, **settings: str) -> Iterator[Served]:
    own = {"DATA": str(data), "TOKEN_SECRET": "r" * 40, "STOP_SECONDS": "0", "DATABASE_URL": database_url(data)}
    patient = {"WAIT_SECONDS": "600", "CHECK_SECONDS": "600", "FIRST_PASS_SECONDS": "600"}
    settings = own | patient | settings  # so that no answer depends on how busy the machine is
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
    log = data.parent / f"{data.name}-{port}.log"
    with log.open("wb") as lines:
        process = subprocess.Popen(
            [sys.executable, "-m", "service", "serve", "--port", str(port)],
            env=environment(now, **settings), cwd=data.parent, stdout=lines, stderr=lines, start_new_session=True,
        )
    try:
        address = f"http://127.0.0.1:{port}"
        _wait_for(address, process, log)
        yield Served(address, process)
    finally:
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(30)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait(30)


def _wait_for(address: str, process: subprocess.Popen[bytes], log: Path) -> None:
    until = time.monotonic() + _START_SECONDS
    while process.poll() is None and time.monotonic() < until:
        try:
            if requests.get(f"{address}/healthz", timeout=10).ok:
                return
        except (requests.ConnectionError, requests.Timeout):
            time.sleep(0.05)
    raise RuntimeError(f"the service did not start:\n{log.read_text(errors='replace')[-4000:]}")
