"""`print-spec dummy`: a PDF to print, or a sentence that says why not."""

from __future__ import annotations

import re
from pathlib import Path

import pikepdf
import pytest

from service.__main__ import main
from tests.build import document, page


def test_a_booklet_is_written_and_what_was_changed_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(*(page(148, 210).fill(cyan=0.2) for _ in range(6))).save(tmp_path / "booklet.pdf")
    asked = ["--spec", "booklet-a5-stapled", "--paper", "A3", "--flip", "long", "--blanks", "before-last", "--caliper-mm", "0.1"]
    assert main(["dummy", str(file), "-o", str(tmp_path / "dummy.pdf"), *asked]) == 0
    with pikepdf.open(tmp_path / "dummy.pdf") as pdf:
        assert len(pdf.pages) == 4
        assert pdf.Root.ViewerPreferences.Duplex == "/DuplexFlipLongEdge"
    told = capsys.readouterr().out
    assert "2 blank pages were added before the last page, to make the count a multiple of 4: pages 6 and 7." in told
    assert "In its real size on A3." in told


def test_the_sheet_tells_where_a_leaflet_is_folded_and_where_its_trim_is(tmp_path: Path) -> None:
    """Without boxes the trim is found by the sheet's size: 3 mm of bleed around 297 x 210 mm."""
    pages = [page(297, 210).fill(cyan=0.2).without_trim_box().without_bleed_box() for _ in range(2)]
    file = document(*pages).save(tmp_path / "leaflet.pdf")
    assert main(["dummy", str(file), "-o", str(tmp_path / "dummy.pdf"), "--spec", "leaflet-dl-roll-6", "--paper", "A3"]) == 0
    with pikepdf.open(tmp_path / "dummy.pdf") as pdf:
        assert "leaflet" in str(pdf.docinfo["/Title"])
        seen = re.match(rb"q q (\S+) (\S+) (\S+) (\S+) re W n", pdf.pages[0].Contents[0].read_bytes())
        assert seen is not None
        assert [float(one) / 72 * 25.4 for one in seen.groups()[2:]] == [pytest.approx(297, abs=0.1), pytest.approx(210, abs=0.1)]


@pytest.mark.parametrize("more", [["--spec", "booklet-a55"], []])
def test_a_sheet_or_file_that_is_not_there_exits_with_2(
    more: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "missing.pdf"
    assert main(["dummy", str(file), "-o", str(tmp_path / "dummy.pdf"), *more]) == 2
    assert ("booklet-a5" if more else "missing.pdf") in capsys.readouterr().err
    assert not (tmp_path / "dummy.pdf").exists()


def test_a_locked_file_exits_with_2_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(85, 55).fill(cyan=1)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    assert main(["dummy", str(file), "-o", str(tmp_path / "dummy.pdf")]) == 2
    assert "password" in capsys.readouterr().err


@pytest.mark.parametrize(
    "more", [["--paper", "A5"], ["--flip", "left"], ["--blanks", "middle"], ["--caliper-mm", "2"], ["--caliper-mm", "nan"]]
)
def test_a_question_that_is_wrong_exits_with_2(more: list[str], tmp_path: Path) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["dummy", "card.pdf", "-o", str(tmp_path / "dummy.pdf"), *more])
    assert stopped.value.code == 2
