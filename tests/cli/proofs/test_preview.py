"""`print-spec preview`: a light PDF beside the file, or a sentence that says why not."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from service.__main__ import main
from service.proofs.preview.wishes import PPI, QUALITY
from tests.build import document, page


@pytest.fixture
def booklet(tmp_path: Path) -> Path:
    return document(*(page(148, 210).fill(cyan=0.1) for _ in range(8))).save(tmp_path / "booklet.pdf")


def widths(path: Path) -> list[int]:
    with pikepdf.open(path) as pdf:
        return [round(float(one.MediaBox[2]) * 25.4 / 72) for one in pdf.pages]


def test_a_booklet_becomes_spreads_by_its_sheet(booklet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = booklet.with_name("light.pdf")
    assert main(["preview", str(booklet), "-o", str(out), "--spec", "booklet-a5-stapled", "--maximum-size", "600kB"]) == 0
    assert widths(out) == [148, 296, 296, 296, 148]
    assert "not for printing" in capsys.readouterr().out


def test_without_a_sheet_pages_stand_alone_unless_asked(booklet: Path) -> None:
    out = booklet.with_name("light.pdf")
    assert main(["preview", str(booklet), "-o", str(out), "--pages", "1-3"]) == 0
    assert widths(out) == [148, 148, 148]
    assert main(["preview", str(booklet), "-o", str(out), "--pages", "1-3", "--arrangement", "spreads"]) == 0
    assert widths(out) == [148, 296]


@pytest.mark.parametrize(
    "wrong", [["--pages", "9"], ["--maximum-size", "much"], ["--watermark", "x" * 99], ["--spec", "no-such-sheet"]]
)
def test_what_cannot_be_made_exits_with_2_and_writes_nothing(
    booklet: Path, wrong: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    out = booklet.with_name("light.pdf")
    assert main(["preview", str(booklet), "-o", str(out), *wrong]) == 2
    assert capsys.readouterr().err
    assert not out.exists()


def test_help_and_http_have_the_same_defaults(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["preview", "--help"])
    shown = " ".join(capsys.readouterr().out.split())
    for numbers in (PPI, QUALITY):
        assert f"{numbers.least} to {numbers.most} (default: {numbers.usual})" in shown
