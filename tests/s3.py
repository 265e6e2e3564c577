"""An S3-compatible store for tests (moto's), one for a whole run: `python -m tests.s3 FILE PID` serves as long as it runs."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import requests

from tests.patience import PATIENCE_SECONDS, until
from tests.postgres import lives, started_for_run
from tests.running import free_port

KEYS = {"AWS_ACCESS_KEY_ID": "tests", "AWS_SECRET_ACCESS_KEY": "tests", "AWS_REGION": "us-east-1", "AWS_ALLOW_HTTP": "true"}


def environment(address: str) -> dict[str, str]:
    """What a client of the store at that address has to know."""
    return {**KEYS, "AWS_ENDPOINT_URL": address}


def new_bucket(address: str, name: str) -> str:
    """An empty one; its address for the settings."""
    requests.put(f"{address}/{name}", timeout=PATIENCE_SECONDS).raise_for_status()
    return f"s3://{name}/files"


def serve(port: int) -> subprocess.Popen[bytes]:
    """Not in this process: what a test kills is a process."""
    command = [sys.executable, "-m", "moto.server", "-H", "127.0.0.1", "-p", str(port)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
    until(lambda: _answers(port), "an answer of the store")
    return process


def _answers(port: int) -> bool:
    with suppress(requests.RequestException):
        return requests.get(f"http://127.0.0.1:{port}/", timeout=PATIENCE_SECONDS).ok
    return False


def serve_for(process: int, told: Path) -> None:
    port = free_port()
    server = serve(port)
    try:
        unfinished = told.with_suffix(".unfinished")
        unfinished.write_text(f"http://127.0.0.1:{port}")
        unfinished.rename(told)
        while lives(process):
            time.sleep(0.3)
    finally:
        server.kill()
        server.wait(PATIENCE_SECONDS)


def begin_for_run(folder: Path) -> None:
    started_for_run("tests.s3", folder)


if __name__ == "__main__":
    os.environ.pop("AWS_ENDPOINT_URL", None)
    serve_for(int(sys.argv[2]), Path(sys.argv[1]))
