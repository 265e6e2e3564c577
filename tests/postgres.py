"""A PostgreSQL server for tests, one for a whole run: `python -m tests.postgres FOLDER PID` serves until that process has ended.

It listens at a socket in its folder and nowhere else, keeps nothing safe (no fsync), and never runs as root.
"""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from sqlalchemy import URL, create_engine, text
from sqlalchemy.exc import SQLAlchemyError

from tests.outside_tools import postgres_program
from tests.patience import PATIENCE_SECONDS, until

USER = "tests"
SETTINGS = {
    "listen_addresses": "", "fsync": "off", "synchronous_commit": "off", "full_page_writes": "off", "shared_buffers": "16MB",
    "max_connections": "200", "autovacuum": "off", "max_wal_senders": "0", "wal_level": "minimal",
}  # fmt: skip


class Postgres:
    """One server: its folder is its own, and of the user that it runs as."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.settings = dict(SETTINGS)
        self.process: subprocess.Popen[bytes] | None = None

    @classmethod
    def make(cls) -> Postgres:
        """A new one, that has still to be started. The folder is short: so are the addresses of sockets."""
        folder = Path(tempfile.mkdtemp(prefix="pg-"))
        if os.geteuid() == 0:
            shutil.chown(folder, *_own())
        made = cls(folder)
        made._run("initdb", "-D", str(folder / "data"), "-U", USER, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync")
        return made

    def start(self) -> None:
        settings = [part for name, value in self.settings.items() for part in ("-c", f"{name}={value}")]
        command = [postgres_program("postgres"), "-D", str(self._folder / "data"), "-k", str(self._folder), *settings]
        with (self._folder / "log").open("ab") as log:
            self.process = subprocess.Popen(
                command, stdout=log, stderr=log, cwd=self._folder, start_new_session=True, **_as_other()
            )
        until(self.answers, "an answer of PostgreSQL")

    def send(self, number: int) -> None:
        """To the server and all its processes."""
        if self.process:
            os.killpg(self.process.pid, number)

    def stop(self, number: int = signal.SIGINT) -> None:
        """SIGINT: at once, in order. SIGKILL: as a machine dies."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(number)
            self.process.wait(PATIENCE_SECONDS)

    def remove(self) -> None:
        self.stop()
        shutil.rmtree(self._folder, ignore_errors=True)

    def url(self, database: str = "postgres") -> str:
        return address(self._folder, database)

    def answers(self) -> bool:
        engine = create_engine(self.url())
        try:
            with engine.connect() as connection:
                return bool(connection.scalar(text("SELECT 1")) == 1)
        except SQLAlchemyError:
            return False
        finally:
            engine.dispose()

    def _run(self, name: str, *arguments: str) -> None:
        command = [postgres_program(name), *arguments]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, timeout=PATIENCE_SECONDS, cwd=self._folder, **_as_other())


def address(folder: Path, database: str) -> str:
    socket = str(folder / ".s.PGSQL.5432")
    url = URL.create("postgresql+pg8000", USER, database=database, query={"unix_sock": socket})
    return url.render_as_string(hide_password=False)


def new_database(url: str, name: str, like: str = "template1") -> str:
    """An empty database on the server of that address, or one that is like another."""
    engine = create_engine(url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(f'CREATE DATABASE "{name}" TEMPLATE "{like}" STRATEGY FILE_COPY'))
    engine.dispose()
    return engine.url.set(database=name).render_as_string(hide_password=False)


def _own() -> tuple[int, int]:
    user = pwd.getpwnam("postgres")  # Debian's package makes it
    return user.pw_uid, user.pw_gid


def _as_other() -> dict[str, Any]:
    if os.geteuid() != 0:
        return {}
    user, group = _own()
    return {"user": user, "group": group, "extra_groups": []}


def serve_for(process: int, told: Path) -> None:
    """Serve as long as that process lives; the address is written to a file when it can be used."""
    server = Postgres.make()
    try:
        server.start()
        unfinished = told.with_suffix(".unfinished")
        unfinished.write_text(server.url())
        unfinished.rename(told)
        while lives(process):
            time.sleep(0.3)
    finally:
        server.remove()


def lives(process: int) -> bool:
    try:
        return Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def begin_for_run(folder: Path) -> None:
    postgres_program("postgres")
    started_for_run("tests.postgres", folder)


def started_for_run(module: str, folder: Path) -> None:
    """Start a server for this run of the tests, in a process of its own, which ends it with the run."""
    run = os.getppid() if "PYTEST_XDIST_WORKER" in os.environ else os.getpid()
    command = [sys.executable, "-m", module, str(folder / "address"), str(run)]
    with (folder / "log").open("wb") as log:
        guard = subprocess.Popen(command, stdout=log, stderr=log, stdin=subprocess.DEVNULL, start_new_session=True)
    guard.returncode = 0  # it ends after this process, and nothing need say that it was forgotten
    until((folder / "address").exists, "the server of this run")


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit())
    serve_for(int(sys.argv[2]), Path(sys.argv[1]))
