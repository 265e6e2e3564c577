"""The command line as a whole."""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from service.__main__ import main
from service.cli.commands import COMMANDS, parser_for
from tests.build import page
from tests.patience import PATIENCE_SECONDS

CARD = "business-card-85x55"


def test_help_is_there_before_anybody_waits() -> None:
    """Nothing heavy is imported for it: about 0.1 s of processor time here."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-m", "service", "--help"]
    shown = subprocess.run(command, check=True, capture_output=True, text=True, timeout=PATIENCE_SECONDS).stdout
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime < 1
    assert all(command in shown for command in ("serve", "demo", "check", "sheets", "rules"))


# --- What is loaded for a command -----------------------------------------------------------------------------------------

_LISTS_WHAT_IS_LOADED = """
import atexit, socket, sys

def begins(*_: object) -> None:  # here the child would begin to measure
    raise SystemExit(0)

socket.socketpair = begins
atexit.register(lambda: print(*sys.modules, file=sys.stderr))
from service.__main__ import main
main(sys.argv[1:])
"""


def loaded_for(*arguments: str) -> set[str]:
    """Every module that the command's own process has loaded by its end, or when its child is about to begin."""
    command = [sys.executable, "-c", _LISTS_WHAT_IS_LOADED, *arguments]
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=PATIENCE_SECONDS)
    return set(done.stderr.split())


def test_help_loads_no_command_and_no_library() -> None:
    loaded = loaded_for("--help")
    assert {one for one in loaded if one.startswith("service.")} <= {
        *("service.__main__", "service.cli", "service.cli.command_line", "service.cli.commands", "service.cli.refused"),
    }
    assert not {"rich", "yaml", "marshmallow", "dataclasses"} & loaded


def test_a_check_begins_to_measure_before_rules_facts_and_their_forms_are_loaded(tmp_path: Path) -> None:
    card = page(85, 55).fill(cyan=0.5).save(tmp_path / "card.pdf")
    loaded = loaded_for("check", str(card), "--spec", CARD)
    assert "service.jobs.children.sandbox" in loaded
    assert not {"cattrs", "rich", "babel", "pikepdf", "numpy"} & loaded
    assert not {"service.rules.base", "service.pdf.facts.page", "service.pdf.codec", "service.answers"} & loaded


def test_a_list_of_sheets_is_made_without_reading_their_demands() -> None:
    assert not {"marshmallow", "service.sheets.model", "service.jobs"} & loaded_for("sheets", "list")


def test_a_sheet_is_shown_without_rules_and_sandbox() -> None:
    assert not {"service.rules.base", "service.pdf.facts.page", "service.jobs", "rich"} & loaded_for("sheets", "show", CARD)


def test_rules_as_json_are_written_without_what_draws_tables() -> None:
    assert "rich" not in loaded_for("rules", "--json")


# --- What is understood -----------------------------------------------------------------------------------------------------


def names_in(parser: argparse.ArgumentParser) -> list[str]:
    """Of its commands and of those below them."""
    found = []
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, command in action.choices.items():
                found += [name, *(f"{name} {below}" for below in names_in(command))]
    return found


def test_every_command_says_what_it_takes(capsys: pytest.CaptureFixture[str]) -> None:
    assert names_in(parser_for([])) == list(COMMANDS)
    for name in COMMANDS:
        with pytest.raises(SystemExit) as stopped:
            main([*name.split(), "--help"])
        assert stopped.value.code == 0
        assert f"usage: print-spec {name} [-h]" in capsys.readouterr().out


@pytest.mark.parametrize("arguments", [[], ["chek"], ["serve", "--port", "0"], ["serve", "--port", "x"], ["check", "card.pdf"]])
def test_a_command_line_that_is_not_understood_exits_with_2(arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(arguments)
    assert stopped.value.code == 2


def test_settings_that_cannot_be_end_a_command_with_2_and_are_all_named(tmp_path: Path) -> None:
    card = page(85, 55).save(tmp_path / "card.pdf")
    command = [sys.executable, "-m", "service", "check", str(card), "--spec", CARD]
    wrong = {"PRINT_SPEC_CHECK_SECONDS": "soon", "PRINT_SPEC_WORKERS": "-1"}
    done = subprocess.run(
        command, capture_output=True, text=True, timeout=PATIENCE_SECONDS, env={**os.environ, **wrong}, check=False
    )
    assert done.returncode == 2
    assert all(name in done.stderr for name in wrong)
