"""`print-spec sheets` and `print-spec rules`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from service.__main__ import main
from service.rules.catalogue import RULES
from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import read_sheet_text


def test_every_stored_sheet_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "list"]) == 0
    shown = capsys.readouterr().out
    assert all(sheet_id in shown for sheet_id in stored_sheets())


def test_the_list_can_be_narrowed_to_a_product(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "list", "--product", "letterhead"]) == 0
    shown = capsys.readouterr().out
    assert "letterhead-a4" in shown
    assert "business-card" not in shown


def test_a_shown_sheet_is_a_sheet_again(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "show", "letterhead-a4"]) == 0
    assert read_sheet_text(capsys.readouterr().out, stored=True, known_rules=RULES) == stored_sheets()["letterhead-a4"]


def test_showing_a_sheet_that_does_not_exist_fails(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "show", "letterhaed-a4"]) == 1
    assert "letterhead-a4" in capsys.readouterr().err


def test_a_sheet_file_is_valid_or_not(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("bleed: {minimum: 3 mm}\n")
    assert main(["sheets", "check-file", str(sheet)]) == 0
    sheet.write_text("bleed: {minimun: 3 mm}\n")
    assert main(["sheets", "check-file", str(sheet)]) == 1
    assert "/bleed/minimun" in capsys.readouterr().err
    assert main(["sheets", "check-file", str(tmp_path / "missing.yaml")]) == 1


def test_every_rule_is_in_the_reference(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "--json"]) == 0
    assert [one["id"] for one in json.loads(capsys.readouterr().out)] == list(RULES)
    assert main(["rules"]) == 0
    assert "bleed.declared" in capsys.readouterr().out
