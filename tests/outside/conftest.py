"""Tools outside the project: their absence fails the test in continuous integration (CI=true) and skips it elsewhere."""

from __future__ import annotations

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
