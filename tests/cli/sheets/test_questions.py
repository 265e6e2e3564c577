"""`print-spec sheets match`, `read` and `schema`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from service.__main__ import main
from service.sheets.format.validation import read_sheet, read_sheet_text
from tests.build import page


def test_a_dl_flyer_is_recognised(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page(99, 210, bleed=0).fill(cyan=1).save(tmp_path / "flyer.pdf")
    assert main(["sheets", "match", str(tmp_path / "flyer.pdf"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["matches"][0]["spec"]["id"] == "leaflet-dl"
    assert main(["sheets", "match", str(tmp_path / "flyer.pdf")]) == 0
    assert "leaflet-dl" in capsys.readouterr().out


def test_an_odd_size_is_told_the_nearest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page(87, 56.5, bleed=3).fill(cyan=1).save(tmp_path / "odd.pdf")
    assert main(["sheets", "match", str(tmp_path / "odd.pdf"), "--region", "GB"]) == 1
    assert "business-card" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["missing.pdf", "text.pdf", "broken.pdf"])
def test_what_cannot_be_measured_ends_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    (tmp_path / "text.pdf").write_text("no PDF")
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.4\n")
    assert main(["sheets", "match", str(tmp_path / name)]) == 2
    assert name in capsys.readouterr().err


def test_a_published_text_becomes_a_draft_file_that_is_a_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = tmp_path / "instructions.txt"
    text.write_text("Size: 85 x 55 mm\n3 mm bleed on all sides\n", encoding="utf-8")
    assert main(["sheets", "read", str(text)]) == 0
    draft = read_sheet_text(capsys.readouterr().out)
    assert draft.bleed is not None
    assert draft.bleed.minimum_mm == 3
    assert main(["sheets", "read", str(text), "--json"]) == 0
    assert read_sheet(json.loads(capsys.readouterr().out)["draft"]) == draft


def test_a_text_that_asks_nothing_ends_with_1_and_no_text_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = tmp_path / "instructions.txt"
    text.write_text("We love good paper.\n", encoding="utf-8")
    assert main(["sheets", "read", str(text)]) == 1
    text.write_bytes(b"\xff\xfe\xfd")
    assert main(["sheets", "read", str(text)]) == 2
    page(210, 297, bleed=0).fill(cyan=1).save(tmp_path / "pictures.pdf")
    assert main(["sheets", "read", str(tmp_path / "pictures.pdf")]) == 2
    assert "pictures.pdf" in capsys.readouterr().err


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(schema)
    assert Draft202012Validator(schema).is_valid({"bleed": {"minimum": "3 mm"}})
    assert main(["sheets", "schema", "--stored"]) == 0
    assert not Draft202012Validator(json.loads(capsys.readouterr().out)).is_valid({"bleed": {"minimum": "3 mm"}})


def test_a_sheet_file_may_extend_a_stored_sheet(tmp_path: Path) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("extends: business-card-85x55\nbleed: {minimum: 5 mm}\n")
    assert main(["sheets", "check-file", str(sheet)]) == 0
    sheet.write_text("extends: business-card-85x56\n")
    assert main(["sheets", "check-file", str(sheet)]) == 1
