"""`print-spec check --service URL`: a running service checks instead of this machine."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.__main__ import main
from tests.build import page
from tests.running import free_port, running


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with running(tmp_path_factory.mktemp("service") / "data") as service:
        yield service.address


@pytest.fixture
def card(tmp_path: Path) -> str:
    path = tmp_path / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return str(path)


def at(address: str, *arguments: str) -> int:
    return main(["check", "--service", address, *arguments])


def test_the_answer_is_that_of_this_machine(address: str, card: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert at(address, card, "--spec", "business-card-85x55", "--json") == 0
    there = json.loads(capsys.readouterr().out)
    assert main(["check", card, "--spec", "business-card-85x55", "--json"]) == 0
    here = json.loads(capsys.readouterr().out)
    assert {name: there[name] for name in here} == here


def test_a_person_reads_it_in_the_same_words(address: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "no-bleed.pdf"
    page(85, 55, bleed=0).fill(cyan=1).save(path)
    said = []
    for elsewhere in ([], ["--service", address]):
        assert main(["check", str(path), "--spec", "business-card-85x55", "--lang", "de", *elsewhere]) == 1
        said.append(capsys.readouterr().out)
    assert said[0] == said[1]


def test_a_sheet_file_goes_along(address: str, card: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = tmp_path / "own.yaml"
    sheet.write_text("trim: {width: 90 mm, height: 50 mm}\n", encoding="utf-8")
    assert at(address, card, "--spec", str(sheet), "--json") == 1
    assert [one["rule"] for one in json.loads(capsys.readouterr().out)["findings"]] == ["trim.size"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--spec", "business-card-85x54"], "business-card-85x55"),
        (["--spec", "business-card-85x55", "--order", "{"], "--order is no JSON"),
    ],
)
def test_a_wrong_wish_is_refused(
    address: str, card: str, arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert at(address, card, *arguments) == 2
    assert said in capsys.readouterr().err


def test_a_missing_file_is_told_and_the_others_are_checked(address: str, card: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert at(address, "nothing.pdf", card, "--spec", "business-card-85x55") == 2
    told = capsys.readouterr()
    assert "nothing.pdf" in told.err
    assert "card.pdf" in told.out


def test_no_service_at_the_address(card: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.client.connection._FIRST_PAUSE_SECONDS", 0.01)
    assert at(f"http://127.0.0.1:{free_port()}", card, "--spec", "business-card-85x55") == 2
    assert "does not answer" in capsys.readouterr().err
    assert at("somewhere", card, "--spec", "business-card-85x55") == 2
    assert "http://" in capsys.readouterr().err
