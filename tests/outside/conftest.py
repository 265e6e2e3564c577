"""Tools outside the project: their absence fails the test in continuous integration (CI=true) and skips it elsewhere."""

from __future__ import annotations

import importlib
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

Tool = Callable[..., str]
"""Runs the tool with these arguments and gives what it prints."""


def absent(what: str) -> None:
    """Fail or skip, with the reason."""
    if os.environ.get("CI", "").lower() in ("1", "true"):
        pytest.fail(f"{what} is needed in continuous integration")
    pytest.skip(f"{what} is not there")


def _lacking() -> str:
    """Why WeasyPrint or cairocffi cannot draw on this machine: they need Pango and cairo. '' where they can."""
    try:
        importlib.import_module("weasyprint")
        importlib.import_module("cairocffi")
    except OSError as error:
        return str(error).splitlines()[0]
    return ""


def _needing() -> list[str]:
    """The modules here that import them, or one that does."""
    texts = {one.stem: one.read_text() for one in Path(__file__).parent.glob("*.py") if one.name != "conftest.py"}
    found = {name for name, text in texts.items() if "import weasyprint" in text or "import cairocffi" in text}
    while more := {name for name, text in texts.items() if name not in found and any(one in text for one in _imports(found))}:
        found |= more
    return sorted(f"{name}.py" for name in found)


def _imports(names: set[str]) -> list[str]:
    return [f"from tests.outside.{one} import" for one in names] + [f"from tests.outside import {one}" for one in names]


LACKING = _lacking()
collect_ignore: list[str] = []
if LACKING:
    if os.environ.get("CI", "").lower() in ("1", "true"):
        raise RuntimeError(f"Pango and cairo are needed in continuous integration: {LACKING}")
    collect_ignore = _needing()


def pytest_report_header() -> str | None:
    """Nothing is left out in silence."""
    return (
        f"left out, since this machine lacks Pango or cairo ({LACKING}): {', '.join(collect_ignore)}" if LACKING else None
    )


@pytest.fixture
def tool() -> Callable[[str], Tool]:
    """`tool("pdfinfo")` is a function that runs it: `pdfinfo("-box", path)`."""

    def find(name: str) -> Tool:
        program = shutil.which(name)
        if program is None:
            absent(f"the program {name}")
        assert program

        def run(*arguments: str | Path) -> str:
            command = [program, *(str(one) for one in arguments)]
            done = subprocess.run(command, capture_output=True, timeout=60, check=True)
            return done.stdout.decode("utf-8", "replace")

        return run

    return find
