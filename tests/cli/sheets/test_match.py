"""`print-spec sheets match`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from service.__main__ import main
from tests.build import page


def test_a_dl_flyer_is_recognised(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page(99, 210, bleed=0).fill(cyan=1).save(tmp_path / "flyer.pdf")
    assert main(["sheets", "match", str(tmp_path / "flyer.pdf"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["matches"][0]["spec"]["id"] == "leaflet-dl"
    assert main(["sheets", "match", str(tmp_path / "flyer.pdf")]) == 0
    assert "leaflet-dl" in capsys.readouterr().out


def test_an_odd_size_is_told_the_nearest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page(87, 56.5, bleed=3).fill(cyan=1).save(tmp_path / "odd.pdf")
    assert main(["sheets", "match", str(tmp_path / "odd.pdf"), "--region", "GB"]) == 1
    assert "business-card" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["missing.pdf", "text.pdf", "broken.pdf"])
def test_what_cannot_be_measured_ends_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    (tmp_path / "text.pdf").write_text("no PDF")
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.4\n")
    assert main(["sheets", "match", str(tmp_path / name)]) == 2
    assert name in capsys.readouterr().err
