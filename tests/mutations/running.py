"""Run the tests of one module against it with one mistake in it, in a child whose import of the module finds the mistake.

The child is forked from a process that has imported all that does not stand on the module. It may use so much processor time;
what never ends has been noticed too.
"""

from __future__ import annotations

import ast
import contextlib
import gc
import importlib.abc
import importlib.util
import os
import resource
import signal
import sys
from collections.abc import Iterable, Iterator, Sequence
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
    *("-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:faulthandler", "--tb=no"),
    *("-p", "no:unraisableexception", "-p", "no:threadexception", "-p", "no:warnings"),
    *("--deselect", "tests/rules/test_catalogue.py::test_rules_come_in_one_order_whichever_module_is_imported_first"),
)
"""What is left out starts a process of its own, to which no mistake comes."""

_UNTOUCHED = ("service.rules", "service.product")


def warm_up() -> None:
    """Import what the children have in common."""
    for name in _BEFORE:
        importlib.import_module(name)
    early = sorted(name for name in sys.modules if name.startswith(_UNTOUCHED))
    assert not early, f"imported before any mistake was made: {early}"


def _stand_ready(module: str, modules: Iterable[str]) -> None:
    """Import those of the modules that do not stand on the mutated one."""
    with _without(module):
        for name in modules:
            with contextlib.suppress(_NotYetError):
                importlib.import_module(name)


@contextlib.contextmanager
def _without(module: str) -> Iterator[None]:
    finder = _Missing(module)
    sys.meta_path.insert(0, finder)
    yield
    sys.meta_path.remove(finder)


class _NotYetError(Exception):
    pass


class _Missing(importlib.abc.MetaPathFinder):
    def __init__(self, module: str) -> None:
        self.module = module

    def find_spec(self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None) -> ModuleSpec | None:
        del path, target
        if fullname == self.module:
            raise _NotYetError
        return None


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


def each(
    module: str, trees: Sequence[ast.Module | None], tests: Sequence[Path], modules: Iterable[str], workers: int
) -> list[bool]:
    """Whether each mistake was noticed, `workers` of them at a time; `modules` are all that mistakes are made in."""
    pipes = []
    for first in range(workers):
        reading, writing = os.pipe()
        if os.fork() == 0:
            os.close(reading)
            with contextlib.suppress(BrokenPipeError):
                _stand_ready(module, modules)
                gc.freeze()
                gc.disable()
                for at in range(first, len(trees), workers):
                    os.write(writing, b"\x01" if notices(module, trees[at], tests) else b"\x00")
            os._exit(0)
        os.close(writing)
        pipes.append(os.fdopen(reading, "rb"))
    noticed = [pipes[at % workers].read(1) == b"\x01" for at in range(len(trees))]
    for pipe in pipes:
        pipe.close()
    for _ in pipes:
        os.wait()
    return noticed
