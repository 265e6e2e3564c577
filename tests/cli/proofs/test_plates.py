"""`print-spec plates`: pictures in a folder, or a sentence that says why not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from service.__main__ import main
from service.proofs.wishes import PAGE_PPI
from tests.build import document, page


def test_a_page_becomes_one_picture_for_each_ink_and_one_for_all(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    built = document(page(85, 55), page(85, 55).fill(cyan=1).fill(at=(10, 10, 40, 30), spot=("Copper Foil", 0.7)))
    file = built.save(tmp_path / "card.pdf")
    assert main(["plates", str(file), "--page", "2", "-o", str(tmp_path / "plates"), "--ppi", "50", "--area", "trim"]) == 0
    assert {one.name for one in (tmp_path / "plates").iterdir()} == {
        "page-2-Cyan.png", "page-2-Copper-Foil.png", "page-2-total-ink.png",
    }
    with Image.open(tmp_path / "plates" / "page-2-Cyan.png") as plate:
        assert plate.size == (pytest.approx(85 / 25.4 * 50, abs=2), pytest.approx(55 / 25.4 * 50, abs=2))
        assert plate.getextrema() == (0, 255)
    shown = capsys.readouterr().out
    assert "Copper Foil" in shown
    assert "spot" in shown


def test_process_inks_have_their_names_in_the_readers_language(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = page(85, 55).raw(b"0 0 1 0 k 9 9 9 9 re f").save(tmp_path / "card.pdf")
    assert main(["plates", str(file), "-o", str(tmp_path / "plates"), "--lang", "de"]) == 0
    assert "Gelb" in capsys.readouterr().out


def test_inks_whose_names_are_no_file_names_get_files_of_their_own(tmp_path: Path) -> None:
    built = page(85, 55).resource("ColorSpace", "A", _space("../Foil")).resource("ColorSpace", "B", _space(".. Foil"))
    built.resource("ColorSpace", "C", _space("total-ink")).raw(b"/A cs 1 scn 9 9 9 9 re f /B cs 1 scn 29 9 9 9 re f")
    file = built.raw(b"/C cs 1 scn 9 29 9 9 re f").save(tmp_path / "card.pdf")
    assert main(["plates", str(file), "-o", str(tmp_path / "plates")]) == 0
    assert {one.name for one in (tmp_path / "plates").iterdir()} == {
        "page-1-..-Foil.png", "page-1-..-Foil-2.png", "page-1-total-ink.png", "page-1-total-ink-2.png",
    }


def _space(name: str) -> object:
    from tests.build_objects import separation

    return separation(name)


def test_a_page_or_file_that_is_not_there_exits_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = page(85, 55).fill(cyan=1).save(tmp_path / "card.pdf")
    assert main(["plates", str(file), "--page", "3", "-o", str(tmp_path / "plates")]) == 2
    assert "no page 3" in capsys.readouterr().err
    assert main(["plates", str(tmp_path / "missing.pdf"), "-o", str(tmp_path / "plates")]) == 2
    assert "missing.pdf" in capsys.readouterr().err
    assert not (tmp_path / "plates").exists()


def test_a_locked_file_exits_with_2_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(85, 55).fill(cyan=1)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    assert main(["plates", str(file), "-o", str(tmp_path / "plates")]) == 2
    assert "password" in capsys.readouterr().err


def test_a_folder_that_cannot_be_written_exits_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = page(85, 55).fill(cyan=1).save(tmp_path / "card.pdf")
    assert main(["plates", str(file), "-o", str(file)]) == 2
    assert "card.pdf" in capsys.readouterr().err


@pytest.mark.parametrize(
    "more", [["--ppi", str(PAGE_PPI.least - 1)], ["--ppi", str(PAGE_PPI.most + 1)], ["--page", "0"], ["--area", "slug"]]
)
def test_a_question_that_is_wrong_exits_with_2(more: list[str], tmp_path: Path) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["plates", "card.pdf", "-o", str(tmp_path), *more])
    assert stopped.value.code == 2
