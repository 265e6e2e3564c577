"""`print-spec single-pages`: a PDF written, or a sentence that says why not."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from service.__main__ import main
from tests.build import document, page


def count(path: Path) -> int:
    with pikepdf.open(path) as pdf:
        return len(pdf.pages)


def test_spreads_are_found_by_size_and_what_was_done_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(100, 80).fill(cyan=1), page(200, 80).fill(cyan=1)).save(tmp_path / "brochure.pdf")
    out = tmp_path / "single.pdf"
    assert main(["single-pages", str(file), "-o", str(out)]) == 0
    assert count(out) == 3
    assert "Page 2 was cut" in capsys.readouterr().out


def test_a_sheet_says_how_large_a_single_page_is(tmp_path: Path) -> None:
    file = page(200, 80).without_trim_box().without_bleed_box().fill(cyan=1).save(tmp_path / "spread.pdf")
    sheet = tmp_path / "sheet.yaml"
    sheet.write_text("trim: {width: 100 mm, height: 80 mm}\nbleed: {minimum: 3 mm}\n")
    out = tmp_path / "single.pdf"
    assert main(["single-pages", str(file), "-o", str(out)]) == 0
    assert count(out) == 1
    assert main(["single-pages", str(file), "-o", str(out), "--spec", str(sheet)]) == 0
    with pikepdf.open(out) as pdf:
        widths = [float(one.obj.TrimBox[2] - one.obj.TrimBox[0]) / 72 * 25.4 for one in pdf.pages]
    assert widths == pytest.approx([100, 100], abs=0.001)


def test_a_person_may_name_the_spreads_and_choose_the_language(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(200, 80), page(200, 80)).info(GTS_PDFXVersion="PDF/X-4").save(tmp_path / "spreads.pdf")
    out = tmp_path / "single.pdf"
    assert main(["single-pages", str(file), "-o", str(out), "--spreads", "2", "--lang", "es"]) == 0
    assert count(out) == 3
    with pikepdf.open(out) as pdf:
        changes = str(pdf.docinfo["/Changes"])
    assert changes.startswith("Página 2 cortada")
    assert "declaración PDF/X-4" in changes, "what the drawing process says is in the reader's language, too"
    assert "Página 2 cortada" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("more", "said"),
    [(["--spreads", "7"], "page"), (["--spreads", "some"], "numbers"), (["--spec", "no-such-sheet"], "no-such-sheet")],
)
def test_what_cannot_be_is_said_and_nothing_is_written(
    more: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = page(200, 80).save(tmp_path / "spread.pdf")
    assert main(["single-pages", str(file), "-o", str(tmp_path / "single.pdf"), *more]) == 2
    assert said in capsys.readouterr().err
    assert not (tmp_path / "single.pdf").exists()


def test_a_locked_file_exits_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(200, 80)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    assert main(["single-pages", str(file), "-o", str(tmp_path / "single.pdf")]) == 2
    assert "password" in capsys.readouterr().err
