"""The command line as a whole."""

from __future__ import annotations

import resource
import subprocess
import sys

import pytest

from service.__main__ import main
from tests.patience import PATIENCE_SECONDS


def test_help_is_there_before_anybody_waits() -> None:
    """Nothing heavy is imported for it: about 0.1 s of processor time here."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-m", "service", "--help"]
    shown = subprocess.run(command, check=True, capture_output=True, text=True, timeout=PATIENCE_SECONDS).stdout
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime < 1
    assert all(command in shown for command in ("serve", "demo", "check", "sheets", "rules"))


def test_help_imports_neither_flask_nor_pdf_libraries() -> None:
    script = "import sys, service.__main__; print(*sys.modules)"
    command = [sys.executable, "-c", script]
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=PATIENCE_SECONDS)
    loaded = done.stdout.split()
    assert not {"flask", "pikepdf", "sqlalchemy", "reportlab", "rich"} & set(loaded)


@pytest.mark.parametrize("arguments", [[], ["chek"], ["serve", "--port", "0"], ["serve", "--port", "x"], ["check", "card.pdf"]])
def test_a_command_line_that_is_not_understood_exits_with_2(arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(arguments)
    assert stopped.value.code == 2
