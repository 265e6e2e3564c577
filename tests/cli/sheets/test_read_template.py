"""`print-spec sheets read-template`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from service.__main__ import main
from service.cli.sheets import read_template
from service.proofs.template.pages import template_pages
from service.proofs.template.pdf import template_pdf
from service.sheets import catalogue
from service.sheets.format.validation import read_sheet_text


def test_an_empty_document_becomes_a_sheet_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = catalogue.find("flyer-a5")
    assert sheet is not None
    pages = template_pages(sheet)
    assert isinstance(pages, tuple)
    (tmp_path / "empty.pdf").write_bytes(template_pdf(pages, "flyer"))
    assert main(["sheets", "read-template", str(tmp_path / "empty.pdf")]) == 0
    told = capsys.readouterr().out
    assert "# trim.width: the TrimBox of page 1" in told
    read = read_sheet_text(told)
    assert (read.trim and read.trim.width_mm, read.bleed and read.bleed.minimum_mm) == (148, 3)
    assert main(["sheets", "read-template", str(tmp_path / "empty.pdf"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["draft"]["margin"] == {"minimum": "3 mm"}


def test_what_is_no_pdf_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "text.pdf").write_text("no PDF")
    assert main(["sheets", "read-template", str(tmp_path / "text.pdf")]) == 2
    assert "is not a PDF" in capsys.readouterr().err
    assert read_template.NOTHING_READ == 1
