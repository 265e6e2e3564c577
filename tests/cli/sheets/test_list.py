"""`print-spec sheets list`."""

from __future__ import annotations

import pytest

from service.__main__ import main
from service.sheets.catalogue import stored_sheets


def test_every_stored_sheet_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "list"]) == 0
    shown = capsys.readouterr().out
    assert all(sheet_id in shown for sheet_id in stored_sheets())


def test_the_list_can_be_narrowed_to_a_product(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "list", "--product", "letterhead"]) == 0
    shown = capsys.readouterr().out
    assert "letterhead-a4" in shown
    assert "business-card" not in shown
