"""The desk itself, on two tiny files with one finding each."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path

import pytest

from tests.build import page
from tests.outside.desk.__main__ import main
from tests.outside.desk.judgements import read_judged
from tests.outside_tools import absent

SHEET = "business-card-85x55"
SMALL_TYPE = "small.pdf | text.size | pages 1; printed plain"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A card with type of 4 pt, and one with a yellow picture of 149 ppi."""
    if shutil.which("gs") is None:
        absent("the program gs (Ghostscript)")
    files = tmp_path / "files"
    files.mkdir()
    page(85, 55).text("Halyard Lane Bakery", 4, (10, 20)).save(files / "small.pdf")
    page(85, 55).picture((10, 10, 40, 30), ppi=149, color="gray").save(files / "coarse.pdf")
    return files


def rows(out: Path) -> list[dict[str, str]]:
    with (out / "findings.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_each_finding_is_a_row_and_stands_beside_two_renderings_on_one_page(folder: Path, tmp_path: Path) -> None:
    assert main([str(folder), "-o", str(tmp_path / "out"), "--spec", SHEET]) == 0
    found = {row["id"]: row for row in rows(tmp_path / "out")}
    assert sorted(found) == ["coarse.pdf | image.resolution | pages 1", SMALL_TYPE]
    assert json.loads(found[SMALL_TYPE]["measured"])["size_pt"] == pytest.approx(4, abs=0.01)
    told = (tmp_path / "out" / "desk.html").read_text("utf-8")
    assert told.count("<article") == 2
    assert "dark ink in the place, mm from the trim: left 10." in told
    assert told.count("<figcaption>Ghostscript") == told.count("<figcaption>MuPDF") == 2
    assert told.count("data:image/webp;base64,") == 6
    assert "http" not in told


def test_judgements_of_an_earlier_run_give_the_precision(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "judged.csv"
    kept.write_text(f'id,verdict,why,measured\n"{SMALL_TYPE}",false,not so,\n', "utf-8")
    main([str(folder), "-o", str(tmp_path / "out"), "--spec", SHEET, "--judged", str(kept), "--crops-of", "none"])
    told = {line.split()[0]: line for line in capsys.readouterr().out.splitlines()}
    assert "precision 0.0" in told["text.size"]
    assert "not judged 1 precision None" in told["image.resolution"]
    assert {row["id"]: row["verdict"] for row in rows(tmp_path / "out")}[SMALL_TYPE] == "false"


def test_a_word_that_is_no_verdict_is_told(tmp_path: Path) -> None:
    kept = tmp_path / "judged.csv"
    kept.write_text("id,verdict\na,perhaps\n", "utf-8")
    with pytest.raises(ValueError, match="perhaps"):
        read_judged(kept)
