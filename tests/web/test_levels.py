"""Pages, reports and the command line call a level by its words, and by no others."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from service.__main__ import main
from service.language.levels import ASKED, FOUND, HEADED, NUMBERED
from service.language.spoken import LANGUAGES, Language, say, speaking
from service.proofs.report.sheet import sheet_part
from service.rules.catalogue import RULES
from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import read_sheet
from tests.api.contract import Caller
from tests.build import page

CARD = "business-card-85x55"


@pytest.fixture(scope="module")
def scaled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Breaks a must and a should of the card: it was exported at 94 %."""
    path = tmp_path_factory.mktemp("pdf") / "scaled.pdf"
    page(80.2, 51.9, bleed=3).fill(cyan=0.5).save(path)
    return path


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_page_of_a_result_and_the_report_say_it_beside_each_finding(
    language: Language, caller: Caller, scaled: Path
) -> None:
    check = caller.check(scaled.read_bytes(), spec=CARD).get_json()
    levels = [one["level"] for one in check["findings"]]
    assert set(levels) == {"must", "should"}
    shown = caller.get(f"/checks/{check['id']}?lang={language}").get_data(as_text=True)
    report = caller.get(f"/v1/checks/{check['id']}/report?lang={language}").get_data(as_text=True)
    with speaking(language):
        said = [unescape(one) for one in re.findall(r'<span class="level">([^<]+)</span>', shown)]
        assert said == [say(FOUND[one]) for one in levels]
        marks = [unescape(one) for one in re.findall(r'<svg class="marker[^>]*aria-label="([^"]+)"', report)]
        assert marks == [say(NUMBERED[level], number=number) for number, level in enumerate(levels, 1)]
        titles = [unescape(one) for one in re.findall(r"<h2[^>]*>([^<]+)</h2>", report)]
        headings = [say(words) for words in HEADED.values()]
        assert [one for one in titles if one in headings] == headings


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_command_line_says_it(
    language: Language, scaled: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    assert main(["check", str(scaled), "--spec", CARD, "--lang", language]) == 1
    told = capsys.readouterr().out
    assert main(["rules", "--lang", language]) == 0
    rules = capsys.readouterr().out
    with speaking(language):
        heading = told.splitlines()[0]
        assert all(say(one) in heading for one in HEADED.values())
        assert all(re.search(rf"^ *{say(one)}\b", told, re.MULTILINE) for one in FOUND.values())
        first_lines = [say(ASKED[level]).partition(",")[0] for level in ("must", "should")]  # a narrow column breaks at the comma
        assert all(re.search(rf" {one}\b", rules) for one in first_lines)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_page_of_a_sheet_says_what_is_a_wish(language: Language) -> None:
    wish: dict[str, Any] = {"margin": {"minimum": "3 mm", "level": "should"}, "levels": {"file.size": "should"}}
    sheet = read_sheet(wish | {"file": {"maximum_size": "100 MB"}}, known_rules=RULES)
    with speaking(language):
        told = " ".join(f"{one.name} {one.value}" for one in sheet_part(sheet).asks)
        assert told.count(say(ASKED["should"])) == 2


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_form_of_a_sheet_offers_them_and_says_which_checks_are_wishes(language: Language, caller: Caller) -> None:
    sheet = next(one for one in stored_sheets().values() if one.margin and one.margin.level == "should")
    form = caller.get(f"/specs/new?from={sheet.id}&lang={language}").get_data(as_text=True)
    offered = {(level, unescape(said)) for level, said in re.findall(r'<option value="(must|should|off)"[^>]*>([^<]+)', form)}
    hints = {unescape(one) for one in re.findall(r'</?li>[^<]*<span class="hint">([^<]+)</span>', form)}
    with speaking(language):
        assert offered == {(level, say(words)) for level, words in ASKED.items()}
        assert hints == {say(ASKED["should"])}
