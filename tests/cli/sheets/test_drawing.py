"""`print-spec sheets drawing` and `print-spec sheets template`."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from service.__main__ import main

ORDER = '{"inner_pages": 96, "caliper_mm": 0.11}'


@pytest.mark.parametrize(("name", "begins"), [("cover.svg", b"<?xml"), ("cover.pdf", b"%PDF-")])
def test_a_cover_is_drawn_with_the_spine_of_its_order(name: str, begins: bytes, tmp_path: Path) -> None:
    out = tmp_path / name
    assert main(["sheets", "drawing", "book-a5-cover", "-o", str(out), "--order", ORDER, "--lang", "de"]) == 0
    assert out.read_bytes().startswith(begins)
    if name.endswith("svg"):
        assert "Sicherheitsabstand" in out.read_text(encoding="utf-8")


def test_a_sheet_of_ones_own_is_drawn_from_its_file(tmp_path: Path) -> None:
    sheet, out = tmp_path / "own.yaml", tmp_path / "own.svg"
    sheet.write_text("trim: {width: 3 in, height: 2 in}\n", encoding="utf-8")
    assert main(["sheets", "drawing", str(sheet), "--units", "in", "-o", str(out)]) == 0
    assert "3 in" in out.read_text(encoding="utf-8")


def test_an_empty_document_has_the_pages_that_were_wished(tmp_path: Path) -> None:
    out = tmp_path / "empty.pdf"
    assert main(["sheets", "template", "booklet-a5-stapled", "--pages", "12", "-o", str(out)]) == 0
    with pikepdf.open(out) as pdf:
        assert len(pdf.pages) == 12
    assert main(["sheets", "template", "booklet-a5-stapled", "-o", str(tmp_path / "empty.svg")]) == 0
    assert b"<svg" in (tmp_path / "empty.svg").read_bytes()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["drawing", "book-a5-cover"], "the order"),
        (["template", "booklet-a5-stapled", "--pages", "10"], "10 pages"),
        (["template", "client-preview"], "no trimmed size"),
        (["drawing", "no-such-sheet"], "no-such-sheet"),
    ],
)
def test_what_gives_nothing_to_draw_says_why(
    arguments: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheets", *arguments, "-o", str(tmp_path / "out.pdf")]) == 2
    assert said in capsys.readouterr().err
    assert not (tmp_path / "out.pdf").exists()


@pytest.mark.parametrize("command", ["drawing", "template"])
def test_a_file_of_another_kind_is_refused(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", command, "business-card-85x55", "-o", str(tmp_path / "out.png")]) == 2
    assert ".svg" in capsys.readouterr().err
