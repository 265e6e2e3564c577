"""`print-spec sheets read`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml

from service.__main__ import main
from service.sheets.format.validation import read_sheet, read_sheet_text
from tests.build import page


def test_a_published_text_becomes_a_draft_file_that_is_a_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = tmp_path / "instructions.txt"
    text.write_text("Size: 85 x 55 mm\n3 mm bleed on all sides\n", encoding="utf-8")
    assert main(["sheets", "read", str(text)]) == 0
    draft = read_sheet_text(capsys.readouterr().out)
    assert draft.bleed is not None
    assert draft.bleed.minimum_mm == 3
    assert main(["sheets", "read", str(text), "--json"]) == 0
    assert read_sheet(json.loads(capsys.readouterr().out)["draft"]) == draft


def test_a_text_of_several_products_gives_the_draft_of_the_one_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = tmp_path / "instructions.txt"
    text.write_text("Bleed 3 mm.\nPictures 300 dpi, posters 150 dpi.\n", encoding="utf-8")
    assert main(["sheets", "read", str(text)]) == 0
    common = capsys.readouterr().out
    assert yaml.safe_load(common)["images"] == {"contone_ppi": {"minimum": 300}}
    assert "--product 'posters'" in common
    assert main(["sheets", "read", str(text), "--product", "Posters"]) == 0
    assert yaml.safe_load(capsys.readouterr().out)["images"] == {"contone_ppi": {"minimum": 150}}
    assert main(["sheets", "read", str(text), "--product", "flags"]) == 2
    assert "posters" in capsys.readouterr().err


def test_a_text_that_asks_nothing_ends_with_1_and_no_text_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = tmp_path / "instructions.txt"
    text.write_text("We love good paper.\n", encoding="utf-8")
    assert main(["sheets", "read", str(text)]) == 1
    text.write_bytes(b"\xff\xfe\xfd")
    assert main(["sheets", "read", str(text)]) == 2
    page(210, 297, bleed=0).fill(cyan=1).save(tmp_path / "pictures.pdf")
    assert main(["sheets", "read", str(tmp_path / "pictures.pdf")]) == 2
    assert "pictures.pdf" in capsys.readouterr().err
