"""`print-spec report`: a page or a PDF, or a sentence that says why not."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from service.__main__ import main
from tests.build import document, page
from tests.proofs.made_report import Page


@pytest.fixture
def card(tmp_path: Path) -> Path:
    return page(85, 55, bleed=0).fill(cyan=1).save(tmp_path / "card.pdf")


def test_a_check_becomes_a_page_with_a_picture_or_a_pdf(card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["report", str(card), "--spec", "business-card-85x55", "-o"]
    assert main([*asked, str(tmp_path / "report.html")]) == 0
    shown = Page((tmp_path / "report.html").read_text(encoding="utf-8"))
    assert "Not ready" in shown.words
    assert "Neither the file nor this result is kept" in shown.words
    assert len(shown.all("img")) >= 1
    assert "Not ready" in capsys.readouterr().out
    assert main([*asked, str(tmp_path / "report.pdf"), "--lang", "de"]) == 0
    with pikepdf.open(tmp_path / "report.pdf") as pdf:
        assert str(pdf.Root.Lang).startswith("de")


@pytest.mark.parametrize(
    ("file", "spec", "out", "said"),
    [
        ("card.pdf", "business-card-85x55", "report.docx", ".pdf or .html"),
        ("card.pdf", "business-card-85x56", "report.pdf", "business-card-85x5"),
        ("missing.pdf", "business-card-85x55", "report.pdf", "missing.pdf"),
        ("card.pdf", "business-card-85x55", "no/such/report.pdf", "cannot be read or written"),
    ],
)
def test_what_cannot_be_made_exits_with_2(
    card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], file: str, spec: str, out: str, said: str
) -> None:
    assert main(["report", str(card.with_name(file)), "--spec", spec, "-o", str(tmp_path / out)]) == 2
    assert said in capsys.readouterr().err


def test_a_locked_file_is_reported_as_well(tmp_path: Path) -> None:
    file = document(page(85, 55)).encrypted(user="secret").save(tmp_path / "card.pdf")
    assert main(["report", str(file), "--spec", "business-card-85x55", "-o", str(tmp_path / "report.html")]) == 0
    assert "password" in Page((tmp_path / "report.html").read_text(encoding="utf-8")).words
