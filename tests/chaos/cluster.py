"""The parts of a service on several machines, here as processes; each can be killed, paused and started again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import requests

from tests.loaded import COMMAND
from tests.patience import PATIENCE_SECONDS, until
from tests.postgres import Postgres
from tests.running import LOADED, Process, free_port
from tests.s3 import environment, new_bucket, serve


class Part:
    """One process with all that it starts."""

    def __init__(self, name: str, arguments: list[str], environment: dict[str, str], log: Path, *, loaded: bool) -> None:
        self.name, self._arguments, self._environment, self._log, self._loaded = name, arguments, environment, log, loaded
        self.process: Process | None = None

    def start(self) -> None:
        with self._log.open("ab") as log:
            if self._loaded:
                self.process = LOADED.begin(self._environment, [COMMAND, *self._arguments], log.fileno())
                return
            self.process = subprocess.Popen(
                [sys.executable, "-m", "service", *self._arguments],
                env=self._environment,
                stdout=log,
                stderr=log,
                stdin=subprocess.DEVNULL,
                start_new_session=True,
            )

    @property
    def runs(self) -> bool:
        return self.process is not None and self.process.poll() is None

    def signal(self, number: int) -> None:
        if self.process:
            with suppress(ProcessLookupError):
                os.killpg(self.process.pid, number)

    def kill(self) -> None:
        self.signal(signal.SIGKILL)
        if self.process:
            self.process.wait(PATIENCE_SECONDS)

    def stop(self) -> None:
        if self.process and self.runs:
            self.process.terminate()
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(PATIENCE_SECONDS)
        self.kill()


class Cluster:
    def __init__(
        self, folder: Path, *, apis: int = 2, workers: int = 2, places: int = 2, loaded: bool = False, **settings: str
    ) -> None:
        """`places`: of each worker; `loaded`: whether APIs and workers are forked from a process that has loaded them;
        `settings`: by their environment names without PRINT_SPEC_, for all parts alike.
        """
        self.folder, self._loaded = folder, loaded
        self.postgres = Postgres.make()
        self.postgres.settings["synchronous_commit"] = "on"  # what is told as kept stays when the server is killed
        self.postgres.start()
        self._s3_port = free_port()
        self.s3 = serve(self._s3_port)
        address = f"http://127.0.0.1:{self._s3_port}"
        shared = {
            **os.environ, **environment(address), "PYTHONPATH": str(Path(__file__).parents[2]),
            "PRINT_SPEC_DATABASE_URL": self.postgres.url(), "PRINT_SPEC_FILES": new_bucket(address, "chaos"),
            "PRINT_SPEC_TOKEN_SECRET": "chaos " * 8,
            **{f"PRINT_SPEC_{name}": value for name, value in settings.items()},
        }  # fmt: skip
        self.ports = [free_port() for _ in range(apis)]
        self.apis = [
            self._part(f"api-{number}", shared, ["serve", "--port", str(port)], WORKERS="0")
            for number, port in enumerate(self.ports)
        ]
        self.workers = [self._part(f"worker-{number}", shared, ["work"], WORKERS=str(places)) for number in range(workers)]

    def _part(self, name: str, shared: dict[str, str], arguments: list[str], **own: str) -> Part:
        data = {"PRINT_SPEC_DATA": str(self.folder / name)}
        settings = {**shared, **data, **{f"PRINT_SPEC_{key}": value for key, value in own.items()}}
        return Part(name, arguments, settings, self.folder / f"{name}.log", loaded=self._loaded)

    def start(self, *, working: bool = True) -> None:
        """`working`: the workers too."""
        self.apis[0].start()  # alone: it makes the tables, and tests say who fails
        until(lambda: self._ready(0), "the first API ready")
        for part in (*self.apis[1:], *(self.workers if working else ())):
            part.start()
        for number in range(len(self.apis)):
            until(lambda number=number: self._ready(number), f"api-{number} ready")  # type: ignore[misc]

    def signal_s3(self, number: int) -> None:
        os.killpg(self.s3.pid, number)

    def address(self, number: int) -> str:
        return f"http://127.0.0.1:{self.ports[number]}"

    def _ready(self, number: int) -> bool:
        assert self.apis[number].runs, (self.folder / f"api-{number}.log").read_text()
        with suppress(requests.RequestException):
            return requests.get(f"{self.address(number)}/readyz", timeout=PATIENCE_SECONDS).ok
        return False

    def __enter__(self) -> Cluster:
        return self

    def __exit__(self, *_: object) -> None:
        for part in (*self.apis, *self.workers):
            part.stop()
        self.s3.kill()
        self.s3.wait(PATIENCE_SECONDS)
        self.postgres.remove()
