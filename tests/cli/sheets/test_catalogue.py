"""A printer's catalogue as a file at the terminal, as the service takes it."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.__main__ import main
from tests.build import page

PRESS = """
id: copperbeck-press
title: Copperbeck Press
defaults: {bleed: {minimum: 5 mm}}
sheets:
  - business-card-85x55
  - {id: halyard-flyer, extends: flyer-a6, title: Halyard Lane's flyer}
"""


@pytest.fixture
def press(tmp_path: Path) -> Path:
    file = tmp_path / "press.yaml"
    file.write_text(PRESS, encoding="utf-8")
    return file


def test_its_sheets_are_listed_by_size(press: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "catalogue", str(press), "--trim", "148 x 105"]) == 0
    shown = capsys.readouterr().out
    assert "copperbeck-press/halyard-flyer" in shown
    assert "business-card" not in shown


def test_every_mistake_has_its_place(press: Path, capsys: pytest.CaptureFixture[str]) -> None:
    press.write_text(PRESS.replace("5 mm", "5 apples").replace("flyer-a6", "flyer-a66"), encoding="utf-8")
    assert main(["sheets", "catalogue", str(press)]) == 1
    told = capsys.readouterr().err
    assert "/sheets/0/bleed/minimum" in told
    assert "/sheets/1/extends" in told


def test_a_file_is_matched_and_checked_by_it(press: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    card = page(105, 148, bleed=3).fill(cyan=1).save(tmp_path / "flyer.pdf")
    assert main(["sheets", "match", str(card), "--catalogue", str(press), "--json"]) == 0
    assert "copperbeck-press/halyard-flyer" in capsys.readouterr().out
    assert main(["check", str(card), "--spec", "flyer-a6"]) == 0
    assert main(["check", str(card), "--spec", f"{press}/halyard-flyer"]) == 1
    assert main(["check", str(card), "--spec", f"{press}/no-flyer"]) == 2


def test_stored_sheets_are_listed_by_size(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "list", "--trim", "3.5x2in"]) == 0
    shown = capsys.readouterr().out
    assert "business-card-us" in shown
    assert "business-card-85x55" not in shown
    assert main(["sheets", "list", "--trim", "large"]) == 2
