"""Run the tests of one module against it with one mistake in it, in a child whose import of the module finds the mistake.

The child is forked from a process that has imported all that no mistake touches. It may use so much processor time; what never
ends has been noticed too.
"""

from __future__ import annotations

import ast
import contextlib
import importlib.abc
import importlib.util
import os
import resource
import signal
import sys
from collections.abc import Iterable, Sequence
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
MOST_CPU_SECONDS = 60
MOST_SECONDS = 600
"""On a machine that is busy with other things."""

_BEFORE = ("cattrs", "hypothesis", "babel", "service.language.wording", "service.pdf.measure", "tests.facts")
_OPTIONS = (
    *("-x", "-q", "--noconftest", "-c", os.devnull, "--rootdir", str(ROOT)),
    *("-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:faulthandler"),
)
_UNTOUCHED = ("service.rules", "service.product")


def warm_up() -> None:
    """Import what the children have in common."""
    for name in _BEFORE:
        importlib.import_module(name)
    early = sorted(name for name in sys.modules if name.startswith(_UNTOUCHED))
    assert not early, f"imported before any mistake was made: {early}"


def notices(module: str, tree: ast.Module | None, tests: Iterable[Path]) -> bool:
    """Whether a test fails; `tree` None: the module as it is."""
    child = os.fork()
    if child == 0:
        _run(module, tree, tests)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status) != 0


def _run(module: str, tree: ast.Module | None, tests: Iterable[Path]) -> None:
    """Never returns."""
    code = 3
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_CPU_SECONDS, MOST_CPU_SECONDS + 5))
        signal.alarm(MOST_SECONDS)
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        if tree is not None:
            sys.meta_path.insert(0, _Finder(module, tree))
        code = int(pytest.main([*_OPTIONS, *map(str, tests)], plugins=[_Spoken()]))
    finally:
        os._exit(code)


class _Spoken:
    """What is said in other languages is judged elsewhere, and takes as long as all the rest."""

    def pytest_collection_finish(self, session: pytest.Session) -> None:
        del session
        from service.rules.judge import judge
        from tests.rules import measured

        measured.assert_all_is_said = judge


class _Finder(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    def __init__(self, module: str, tree: ast.Module) -> None:
        self.module, self.tree = module, tree

    def find_spec(self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None) -> ModuleSpec | None:
        del path, target
        return importlib.util.spec_from_loader(fullname, self) if fullname == self.module else None

    def exec_module(self, module: ModuleType) -> None:
        file = ROOT / f"{self.module.replace('.', '/')}.py"
        module.__file__ = str(file)
        exec(compile(self.tree, str(file), "exec"), module.__dict__)


def each(work: Sequence[tuple[str, ast.Module, Sequence[Path]]], workers: int) -> list[bool]:
    """Whether each mistake was noticed, `workers` of them at a time."""
    pipes = []
    for first in range(workers):
        reading, writing = os.pipe()
        if os.fork() == 0:
            os.close(reading)
            with contextlib.suppress(BrokenPipeError):
                for at in range(first, len(work), workers):
                    os.write(writing, b"\x01" if notices(*work[at]) else b"\x00")
            os._exit(0)
        os.close(writing)
        pipes.append(os.fdopen(reading, "rb"))
    noticed = [pipes[at % workers].read(1) == b"\x01" for at in range(len(work))]
    for pipe in pipes:
        pipe.close()
    for _ in pipes:
        os.wait()
    return noticed
