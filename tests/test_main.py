"""The command line as a whole."""

from __future__ import annotations

import subprocess
import sys
import time

import pytest

from service.__main__ import main


def test_help_is_there_before_anybody_waits() -> None:
    """Nothing heavy is imported for it: well under 0.3 s here; the limit leaves room for a busy machine."""
    started = time.monotonic()
    shown = subprocess.run([sys.executable, "-m", "service", "--help"], check=True, capture_output=True, text=True).stdout
    assert time.monotonic() - started < 1.5
    assert all(command in shown for command in ("serve", "demo", "check", "sheets", "rules"))


def test_help_imports_neither_flask_nor_pdf_libraries() -> None:
    script = "import sys, service.__main__; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", script], check=True, capture_output=True, text=True).stdout.split()
    assert not {"flask", "pikepdf", "sqlalchemy", "reportlab", "rich"} & set(loaded)


@pytest.mark.parametrize("arguments", [[], ["chek"], ["serve", "--port", "0"], ["serve", "--port", "x"], ["check", "card.pdf"]])
def test_a_command_line_that_is_not_understood_exits_with_2(arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(arguments)
    assert stopped.value.code == 2
