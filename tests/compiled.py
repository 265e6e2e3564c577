"""The tests compiled once, before several processes begin, each of which would compile all of them at the same time.

pytest compiles a test file itself, with its asserts made to tell what they compare, and keeps that as Python keeps what it
compiles. In a fresh clone it is half of what each process does before its first test.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path

ROOT = Path(__file__).parents[1]
FEW = 40
"""The processes compile so many as quickly."""
MOST_SECONDS = 300


def compile_tests(asked: Sequence[str]) -> None:
    """`asked`: files and folders, as on pytest's command line. What cannot be imported is told by those who run it."""
    stale = [one for one in _files(asked) if not _is_compiled(one)]
    if len(stale) < FEW:
        return
    processes = os.cpu_count() or 1
    started = [_forked(stale[number::processes]) for number in range(processes)]
    for pid in started:
        os.waitpid(pid, 0)


def _files(asked: Sequence[str]) -> Iterator[Path]:
    for one in asked:
        path = Path(one.partition("::")[0]).absolute()
        yield from sorted(path.rglob("test_*.py")) if path.is_dir() else [path]


def _is_compiled(path: Path) -> bool:
    kept = (path.parent / "__pycache__").glob(f"{path.stem}.*-pytest-*.pyc")
    return any(one.stat().st_mtime >= path.stat().st_mtime for one in kept)


def _forked(files: Sequence[Path]) -> int:
    """Of a process that imports them, as pytest does, and ends."""
    pid = os.fork()
    if pid == 0:
        signal.alarm(MOST_SECONDS)
        for path in files:
            with suppress(BaseException):  # a test file may skip itself
                import_module(".".join(path.relative_to(ROOT).with_suffix("").parts))
        os._exit(0)
    return pid
