"""`python -m tests.deploy.image [FOLDER]`: the Dockerfile's steps, then what it starts, as it is meant to run.

Every RUN, COPY, USER and ENV of every stage is carried out in a root made by debootstrap. The image's command then runs as its
user, with a root file system that is read-only, in namespaces of its own; its health check is called, alone and while checks run.
Needs root, debootstrap, ip, unshare, nsenter, a machine of the image's Debian, and its network. Exit code 1 where something is
wrong.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from pathlib import Path

from tests.build import page
from tests.deploy.image.building import ROOT, USUAL, Building, base_system
from tests.deploy.image.dockerfile import Stage, stages_of
from tests.patience import PATIENCE_SECONDS, until

NEEDED = ("debootstrap", "chroot", "unshare", "nsenter", "ip", "ldd", "dpkg")
CHECKS = 6
_INSIDE = """
set -e
mount --make-rprivate /
mount --bind "$1" "$1"
mount --bind "$2" "$1/data"
mount -o remount,bind,ro "$1"
mount -t proc proc "$1/proc"
mount -t tmpfs -o mode=1777 tmp "$1/tmp"
mount --rbind /dev "$1/dev"
ip link set lo up
root=$1; user=$3; shift 3
exec chroot --userspec="$user" "$root" "$@"
"""


def main(folder: Path) -> int:
    absent = [name for name in NEEDED if shutil.which(name) is None]
    if absent or os.geteuid() != 0:
        print(f"not run: it needs root and {', '.join(absent) or 'nothing else'}")
        return 1
    stages = stages_of((ROOT / "Dockerfile").read_text())
    base = folder / "base"
    if not base.exists():
        unfinished = folder / "base-unfinished"
        base_system(unfinished, stages[-1].base)
        unfinished.rename(base)
    building = Building(folder)
    for stage in stages:
        assert stage.base == stages[-1].base, "one base for all"
        root, environment, user = building.build(stage, base)
    return Running(root, environment, user, stages[-1], folder).hold()


class Running:
    """What the last stage starts, and what is asked of it."""

    def __init__(self, root: Path, environment: dict[str, str], user: str, stage: Stage, folder: Path) -> None:
        self._root, self._user, self._stage = root, user, stage
        self._environment = {**USUAL, **environment}
        self._data, self._log = folder / "data", folder / "log"
        shutil.rmtree(self._data, ignore_errors=True)
        shutil.copytree(root / "data", self._data)
        owner = (root / "data").stat()
        os.chown(self._data, owner.st_uid, owner.st_gid)

    def hold(self) -> int:
        alone = ["unshare", "--mount", "--net", "--pid", "--fork"]
        given = [str(self._root), str(self._data), self._user, *self._stage.last("CMD").command]
        with self._log.open("wb") as log:
            process = subprocess.Popen(
                [*alone, "sh", "-c", _INSIDE, "inside", *given], env=self._environment, stdout=log, stderr=log
            )
        try:
            return self._hold(process)
        finally:
            with suppress(ProcessLookupError, FileNotFoundError, ValueError):
                os.kill(self._first(process), signal.SIGKILL)  # with the first of a PID namespace all in it end
            process.wait(PATIENCE_SECONDS)

    def _first(self, process: subprocess.Popen[bytes]) -> int:
        """Of the processes inside. Raises ValueError where there is none yet."""
        (first,) = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()
        return int(first)

    def _hold(self, process: subprocess.Popen[bytes]) -> int:
        until(lambda: process.poll() is not None or self._is_healthy(process), "healthy")
        assert process.poll() is None, self._log.read_text()
        page(85, 55, bleed=3).fill(cyan=1).save(self._data / "card.pdf").chmod(0o644)
        key = self._inside(process, ["print-spec", "keys", "make", "bakery"]).stdout.strip()
        told = {
            "user": self._inside(process, ["id", "-u"]).stdout.strip(),
            "writes into its root": self._writes(process, "/usr/local/x"),
            "writes into its data": self._writes(process, "/data/x"),
            "health check": self._is_healthy(process),
            "a check": self._check(process, key).wait(PATIENCE_SECONDS),
        }
        checks = [self._check(process, key) for _ in range(CHECKS)]
        healthy = [self._is_healthy(process) for _ in range(5) if not time.sleep(0.2)]
        told["health check under load"] = all(healthy)
        told[f"{CHECKS} checks at once"] = {check.wait(PATIENCE_SECONDS) for check in checks} == {0}
        os.kill(self._first(process), signal.SIGTERM)
        told["ends when told to"] = process.wait(PATIENCE_SECONDS)
        wished = {
            "user": "10001", "writes into its root": False, "writes into its data": True, "health check": True, "a check": 0,
            "health check under load": True, f"{CHECKS} checks at once": True, "ends when told to": 0,
        }  # fmt: skip
        for name, value in told.items():
            print(f"{name}: {value}" + ("" if value == wished[name] else f", not {wished[name]}"))
        if told != wished:
            print(self._log.read_text())
        return int(told != wished)

    def _command(self, process: subprocess.Popen[bytes], command: list[str]) -> list[str]:
        into = ["nsenter", "--target", str(self._first(process)), "--mount", "--net", "--pid"]
        return [*into, "chroot", f"--userspec={self._user}", str(self._root), *command]

    def _inside(self, process: subprocess.Popen[bytes], command: list[str]) -> subprocess.CompletedProcess[str]:
        whole = self._command(process, command)
        return subprocess.run(
            whole, env=self._environment, capture_output=True, text=True, check=False, timeout=PATIENCE_SECONDS
        )

    def _is_healthy(self, process: subprocess.Popen[bytes]) -> bool:
        health = self._stage.last("HEALTHCHECK")
        try:
            return self._inside(process, ["timeout", health.flags["timeout"], *health.command]).returncode == 0
        except ValueError:  # it has not begun
            return False

    def _writes(self, process: subprocess.Popen[bytes], path: str) -> bool:
        return self._inside(process, ["touch", path]).returncode == 0

    def _check(self, process: subprocess.Popen[bytes], key: str) -> subprocess.Popen[bytes]:
        words = ["print-spec", "check", "/data/card.pdf", "--spec", "business-card-85x55", "--service", "http://127.0.0.1:8000"]
        environment = {**self._environment, "PRINT_SPEC_KEY": key}
        return subprocess.Popen(
            self._command(process, words), env=environment, stdout=subprocess.DEVNULL, stderr=sys.stderr
        )


if __name__ == "__main__":
    if len(sys.argv) > 1:
        sys.exit(main(Path(sys.argv[1]).resolve()))
    with tempfile.TemporaryDirectory(prefix="image-") as name:
        sys.exit(main(Path(name)))
