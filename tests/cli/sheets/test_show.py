"""`print-spec sheets show`."""

from __future__ import annotations

import pytest

from service.__main__ import main
from service.rules.catalogue import RULES
from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import read_sheet_text


def test_a_shown_sheet_is_a_sheet_again(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "show", "letterhead-a4"]) == 0
    assert read_sheet_text(capsys.readouterr().out, stored=True, known_rules=RULES) == stored_sheets()["letterhead-a4"]


def test_showing_a_sheet_that_does_not_exist_fails(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "show", "letterhaed-a4"]) == 1
    assert "letterhead-a4" in capsys.readouterr().err
