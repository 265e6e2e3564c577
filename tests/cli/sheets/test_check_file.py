"""`print-spec sheets check-file`."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.__main__ import main


def test_a_sheet_file_may_extend_a_stored_sheet(tmp_path: Path) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("extends: business-card-85x55\nbleed: {minimum: 5 mm}\n")
    assert main(["sheets", "check-file", str(sheet)]) == 0
    sheet.write_text("extends: business-card-85x56\n")
    assert main(["sheets", "check-file", str(sheet)]) == 1


def test_a_sheet_file_is_valid_or_not(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("bleed: {minimum: 3 mm}\n")
    assert main(["sheets", "check-file", str(sheet)]) == 0
    sheet.write_text("bleed: {minimun: 3 mm}\n")
    assert main(["sheets", "check-file", str(sheet)]) == 1
    assert "/bleed/minimun" in capsys.readouterr().err
    assert main(["sheets", "check-file", str(tmp_path / "missing.yaml")]) == 1
