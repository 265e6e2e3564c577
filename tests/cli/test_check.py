"""`print-spec check`: exit codes, JSON, and what it says about what it could not check."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from service.__main__ import main
from tests.build import document, page

CARD = "business-card-85x55"


@pytest.fixture
def right(tmp_path: Path) -> str:
    return str(page(85, 55).fill(cyan=0.5).text("Open", size=8, at=(10, 20), cyan=1).save(tmp_path / "right.pdf"))


@pytest.fixture
def without_bleed(tmp_path: Path) -> str:
    return str(page(85, 55, bleed=0).fill(cyan=0.5).save(tmp_path / "no-bleed.pdf"))


def test_a_conforming_file_exits_with_0(right: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", right, "--spec", CARD]) == 0
    assert "conforming" in capsys.readouterr().out


def test_a_nonconforming_file_exits_with_1_and_says_what_to_do(without_bleed: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", without_bleed, "--spec", CARD]) == 1
    assert "bleed.declared" in capsys.readouterr().out


def test_a_book_cover_is_judged_with_what_the_order_knows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By arithmetic: 48 leaves of 0.11 mm between two boards of 0.3 mm are 5.88 mm thick."""
    cover = str(page(2 * 148 + 5.88, 210).fill(cyan=0.5).save(tmp_path / "cover.pdf"))
    spine = {}
    for order in ("{}", '{"inner_pages": 96, "caliper_mm": 0.11}', '{"inner_pages": 400, "caliper_mm": 0.11}'):
        main(["check", cover, "--spec", "book-a5-cover", "--json", "--order", order])
        answer = json.loads(capsys.readouterr().out)
        spine[order] = next(one["outcome"] for one in answer["rules"] if one["rule"] == "spine.width")
    assert list(spine.values()) == ["not_measured", "met", "not_met"]


@pytest.mark.parametrize("order", ["{", '{"pages": 96}', '{"inner_pages": 0}', "[]"])
def test_an_order_that_cannot_be_meant_is_refused(order: str, right: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", right, "--spec", CARD, "--order", order]) == 2
    assert capsys.readouterr().err.startswith("--order /")


def test_json_is_one_object_a_line_as_the_service_answers(
    right: str, without_bleed: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", right, without_bleed, "--spec", CARD, "--json"]) == 1
    first, second = (json.loads(line) for line in capsys.readouterr().out.splitlines())
    assert first["verdict"] == "conforming"
    assert first["measurements"]["pages"][0]["trim_width_mm"] == pytest.approx(85, abs=0.01)
    assert second["summary"]["nonconformities"] == 1
    assert [one["rule"] for one in second["findings"]] == ["bleed.declared"]


def test_the_highest_exit_code_of_several_files_counts(right: str, without_bleed: str, tmp_path: Path) -> None:
    assert main(["check", str(tmp_path / "missing.pdf"), right, without_bleed, "--spec", CARD]) == 2


def test_what_is_no_pdf_is_not_checked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "card.png"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(2000))
    assert main(["check", str(picture), "--spec", CARD]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "card.png is not a PDF" in said.err


def test_a_locked_pdf_is_a_result_and_no_failure(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    locked = document(page(85, 55)).encrypted(user="brioche").save(tmp_path / "locked.pdf")
    assert main(["check", str(locked), "--spec", CARD, "--json"]) == 1
    assert [one["rule"] for one in json.loads(capsys.readouterr().out)["findings"]] == ["file.locked"]


def test_a_file_beyond_our_limits_is_not_decided_and_says_why_once(
    right: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PRINT_SPEC_CHECK_SECONDS", "0.001")
    assert main(["check", right, "--spec", CARD]) == 2
    said = " ".join(capsys.readouterr().out.split())
    assert "inconclusive" in said
    assert said.count("not measured. The measuring took longer than a check may take") == 1
    assert main(["check", right, "--spec", CARD, "--json"]) == 2
    answer = json.loads(capsys.readouterr().out)
    assert (answer["verdict"], answer["findings"]) == ("inconclusive", [])
    assert answer["summary"]["headline"].startswith("Not decided: the measuring took longer")


def test_a_sheet_of_ones_own_is_taken_from_a_file(without_bleed: str, tmp_path: Path) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("trim: {width: 85 mm, height: 55 mm}\n")
    assert main(["check", without_bleed, "--spec", str(sheet)]) == 0


def test_an_unknown_sheet_names_the_nearest(right: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", right, "--spec", "busines-card-85x55"]) == 2
    assert CARD in capsys.readouterr().err


def test_a_bad_sheet_is_refused_with_the_place_of_each_mistake(
    right: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("trim: {width: 85 mm, hight: 55 mm}\nbleed: {minimum: -3 mm}\n")
    assert main(["check", right, "--spec", str(sheet)]) == 2
    said = capsys.readouterr().err
    assert "/trim/hight" in said
    assert "/bleed/minimum" in said


def test_settings_that_cannot_be_are_named(
    right: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PRINT_SPEC_CHECK_SECONDS", "soon")
    assert main(["check", right, "--spec", CARD]) == 2
    assert "PRINT_SPEC_CHECK_SECONDS" in capsys.readouterr().err


def test_the_result_is_told_in_another_language(without_bleed: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Only the words differ; a number in them has that language's decimal mark."""
    narrow = str(page(85, 55, bleed=1.2).fill(cyan=0.5).save(Path(without_bleed).with_name("narrow.pdf")))
    assert main(["check", narrow, "--spec", CARD, "--json"]) == 1
    english = json.loads(capsys.readouterr().out)
    assert main(["check", narrow, "--spec", CARD, "--json", "--lang", "de"]) == 1
    german = json.loads(capsys.readouterr().out)
    assert [one["rule"] for one in german["findings"]] == [one["rule"] for one in english["findings"]]
    assert german["measurements"]["pages"] == english["measurements"]["pages"]
    assert "1.2 mm" in english["findings"][0]["message"]
    assert "1,2\u00a0mm" in german["findings"][0]["message"]
