"""Processor time of commands until they answer, or begin to measure: `python -m tests.bench.startup`.

As a ratio to a Python that does nothing, on the same machine in the same run; the least of some runs, because what others do on
the machine only adds. Look at the ratios; the seconds are this machine's.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.build import page

TIMES = 9
MOST_TIMES_NOTHING = 24
"""A quarter of a second on the machine where a Python that does nothing takes 0.0105 s."""
_UNTIL_THE_CHILD = (
    "import os, socket, sys; socket.socketpair = lambda *_: os._exit(0); "
    "from service.__main__ import main; sys.exit(main(sys.argv[1:]))"
)
COMMANDS = (
    ("--help",),
    ("rules",),
    ("rules", "--json"),
    ("sheets", "list"),
    ("sheets", "show", "business-card-85x55"),
    ("check", "card.pdf", "--spec", "business-card-85x55"),
)


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        page(85, 55).fill(cyan=0.5).save(Path(folder, "card.pdf"))
        nothing = _seconds(["-c", "pass"], folder)
        print(f"{'python -c pass':60} {nothing:.3f} s")
        slow = 0
        for command in COMMANDS:
            seconds = _seconds(["-c", _UNTIL_THE_CHILD, *command], folder)
            slow += seconds > MOST_TIMES_NOTHING * nothing
            print(f"{'print-spec ' + ' '.join(command):60} {seconds:.3f} s {seconds / nothing:5.1f} times nothing")
    return 1 if slow else 0


def _seconds(arguments: list[str], folder: str) -> float:
    return min(_once(arguments, folder) for _ in range(TIMES))


def _once(arguments: list[str], folder: str) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], cwd=folder, check=True, stdout=subprocess.DEVNULL, timeout=60)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


if __name__ == "__main__":
    sys.exit(main())
