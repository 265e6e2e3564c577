"""`print-spec picture`: one picture a page in a folder, or a sentence that says why not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from service.__main__ import main
from tests.build import document, page


def test_every_page_becomes_a_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(85, 55).fill(cyan=1), page(85, 55)).save(tmp_path / "card.pdf")
    asked = ["picture", str(file), "--spec", "business-card-85x55", "-o", str(tmp_path / "made"), "--ppi", "50"]
    assert main([*asked, "--show", "none"]) == 0
    assert capsys.readouterr().out.count(".png") == 2
    with Image.open(tmp_path / "made" / "page-1.png") as bare:
        bare_size = bare.size
        assert bare_size == (round(101 / 25.4 * 50), round(71 / 25.4 * 50))
    assert main(asked) == 0
    with Image.open(tmp_path / "made" / "page-2.png") as marked:
        assert marked.height > bare_size[1]


@pytest.mark.parametrize(
    ("change", "word"),
    [({"--spec": "business-cart"}, "business-car"), ({"--show": "marks"}, "boxes,findings"), ({"FILE": "gone.pdf"}, "gone")],
)
def test_what_cannot_be_had_exits_with_2(
    change: dict[str, str], word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = page(85, 55).fill(cyan=1).save(tmp_path / "card.pdf")
    options = {"--spec": "business-card-85x55", "-o": str(tmp_path / "made"), **change}
    asked = str(tmp_path / options.pop("FILE")) if "FILE" in options else str(file)
    assert main(["picture", asked, *(one for pair in options.items() for one in pair)]) == 2
    assert word in capsys.readouterr().err


def test_a_locked_file_exits_with_2_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = document(page(85, 55).fill(cyan=1)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    assert main(["picture", str(file), "--spec", "business-card-85x55", "-o", str(tmp_path / "made")]) == 2
    assert "password" in capsys.readouterr().err
