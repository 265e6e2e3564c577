"""Sends mutated PDFs to a service and says what became of them: `python -m tests.hostile.nightly [COUNT] [FIRST]`.

20,000 take a night; the same numbers are the same files. Exit code 0 where nothing is wrong: no answer that is the service's own
fault, no check lost or over its limit, no child left. What is wrong is printed with its number.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import requests

from tests.hostile.mutants import mutant, originals
from tests.patience import PATIENCE_SECONDS, until
from tests.running import Running, running

AT_ONCE = 3
CHECK_SECONDS = 10.0
SPEC = {"spec": "business-card-85x55"}


class Sent(NamedTuple):
    number: int
    status: int
    outcome: str
    """The verdict, or why there is none."""


def send(service: Running, number: int, pdf: bytes) -> Sent:
    """Until its result is there."""
    files = {"file": (f"{number}.pdf", pdf)}
    answer = requests.post(f"{service.address}/v1/checks", files=files, data=SPEC, timeout=PATIENCE_SECONDS)
    until_seconds = time.monotonic() + 4 * CHECK_SECONDS + PATIENCE_SECONDS
    while answer.status_code in (200, 202) and answer.json()["state"] in ("queued", "running"):
        if time.monotonic() > until_seconds:
            return Sent(number, answer.status_code, "over the limit")
        time.sleep(0.1)
        answer = requests.get(f"{service.address}/v1/checks/{answer.json()['id']}", timeout=PATIENCE_SECONDS)
    if answer.status_code not in (200, 201):
        return Sent(number, answer.status_code, answer.json()["type"])
    found = answer.json()
    requests.delete(f"{service.address}/v1/checks/{found['id']}", timeout=PATIENCE_SECONDS)
    return Sent(number, answer.status_code, found["verdict"] or found["problem"]["type"])


def is_wrong(one: Sent) -> bool:
    """A verdict is right whatever it says; so is a refusal of what does not begin as a PDF."""
    if one.status in (200, 201):
        return one.outcome == "over the limit" or one.outcome.startswith("/problems/")
    return one.status != 415


@contextmanager
def hostile_service(folder: Path) -> Iterator[Running]:
    """With the limits of a check low, so that a thousand files take minutes."""
    settings = {"CHECK_SECONDS": f"{CHECK_SECONDS:g}", "WAIT_SECONDS": "5", "CHECK_MEMORY": "1 GiB"}
    with running(folder / "data", own_fork_server=True, **settings) as service:
        yield service


def sent(service: Running, files: Sequence[bytes], numbers: Sequence[int]) -> list[Sent]:
    with ThreadPoolExecutor(AT_ONCE) as pool:
        return list(pool.map(lambda number: send(service, number, mutant(files, number)), numbers))


def nothing_is_left(service: Running, folder: Path) -> None:
    """No file of a check, and no child that still measures."""
    until(lambda: not list((folder / "data" / "files").glob("*.pdf")), "the folder of files empty")
    until(lambda: not measuring(service), "no child left")


def measuring(service: Running) -> list[int]:
    """Processes of the service's session that are children of its fork server."""
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = status.read_text().rpartition(")")[2].split()
            command = (status.parent / "cmdline").read_bytes()
        except OSError:
            continue
        process, parent, session = int(status.parent.name), int(fields[1]), int(fields[3])
        if b"jobs.children.forking" in command and session == process and parent != service.process.pid:
            found.append(process)
    return [one for one in found if _is_of(one, service)]


def _is_of(process: int, service: Running) -> bool:
    """Whether the service is among its parents."""
    while process > 1:
        if process == service.process.pid:
            return True
        try:
            process = int(Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[1])
        except OSError:
            return False
    return False


def main(arguments: Sequence[str]) -> int:
    count = int(arguments[0]) if arguments else 20_000
    first = int(arguments[1]) if arguments[1:] else 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        files = originals(folder)
        with hostile_service(folder) as service:
            outcomes: Counter[str] = Counter()
            wrong: list[Sent] = []
            for start in range(first, first + count, 100):
                for one in sent(service, files, range(start, min(start + 100, first + count))):
                    outcomes[f"{one.status} {one.outcome}"] += 1
                    wrong += [one] if is_wrong(one) else []
            nothing_is_left(service, folder)
    for outcome, times in outcomes.most_common():
        print(f"{times:7} {outcome}")
    for one in wrong:
        print(f"wrong: number {one.number}: {one.status} {one.outcome}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
