"""Our own lines of prose: what a sheet asks, told in a language, is read back; `tests.sheets.round_trip` takes all sheets."""

from __future__ import annotations

import pytest

from service.language.spoken import Language, speaking
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import sheet_to_document
from service.sheets.prose.ours.lines import demand_said, lines_of
from tests.sheets.complete import COMPLETE
from tests.sheets.prose.grammar import read_prose
from tests.sheets.round_trip import lost

CARD = {
    "trim": {"width": "85 mm", "height": "55 mm"},
    "bleed": {"minimum": "0.125 in"},
    "color": {"allowed": ["cmyk", "gray"], "ink_limit": "300 %"},
    "lines": {"minimum_width": "0.25 pt"},
    "keep_clear": [{"name": "a: hole", "box": ["1 mm", "2 mm", "3 mm", "4.5 mm"]}],
    "levels": {"image.compression": "off"},
}


def test_stored_sheets_come_back_word_for_word() -> None:
    assert list(lost(["roll-up-850x2000", "envelope-c5-window-ch-left", "ticket-us-5-5x2"], ("en", "fr"))) == []
    assert list(lost(["business-card-85x55"])) == []


@pytest.mark.parametrize("language", ["en", "de", "fr", "es"])
def test_every_key_of_the_format_comes_back(language: Language) -> None:
    whole = sheet_to_document(read_sheet_text(COMPLETE))
    back = read_prose("\n".join(lines_of(whole, language)))
    assert (back.not_understood, back.questions) == ((), ())
    assert back.draft == {key: value for key, value in whole.items() if key not in ("id", "revision", "aliases")}


@pytest.mark.parametrize(
    ("language", "lines"),
    [
        ("en", ["Bleed – At least, on each side: 3.175 mm", "Lines – Thinnest line: 0.25 pt"]),
        ("de", ["Beschnittzugabe – Mindestens, an jeder Kante: 3,175 mm"]),
        ("fr", ["Fond perdu – Au moins, à chaque bord: 3,175 mm"]),
    ],
)
def test_a_demand_is_a_line_in_the_language_of_its_reader(language: Language, lines: list[str]) -> None:
    told = lines_of(sheet_to_document(read_sheet(CARD)), language)
    assert set(lines) <= {line.replace("’", "'") for line in told}


def test_a_list_on_a_web_page_is_read_too() -> None:
    lines = lines_of(sheet_to_document(read_sheet(CARD)), "de")
    page = "<h1>So legen Sie an</h1><ul>" + "".join(f"<li>{line}</li>" for line in lines) + "</ul>"
    reading = read_prose(page, "text/html")
    assert read_sheet(reading.draft) == read_sheet(CARD)
    assert [one.quote for one in reading.not_understood] == ["# So legen Sie an"]


def test_each_value_stands_with_the_line_that_says_it() -> None:
    text = "\n".join(lines_of(sheet_to_document(read_sheet(CARD)), "en"))
    for value in read_prose(text).values:
        assert text[value.start : value.end] == value.quote
        assert ": " in value.quote


def test_a_line_that_was_spoilt_is_left_open_and_the_others_are_read() -> None:
    text = "\n".join(lines_of(sheet_to_document(read_sheet(CARD)), "en")).replace("3.175 mm", "three apples")
    reading = read_prose(text)
    assert "bleed" not in reading.draft or "minimum" not in reading.draft["bleed"]
    assert [one.about for one in reading.questions] == ["bleed.minimum"]
    assert reading.draft["trim"]["width"] == "85 mm"


def test_two_such_lines_do_not_make_a_text_ours() -> None:
    text = "Bleed – At least, on each side: 3 mm\nPictures – Photographs, pixels per inch – At least: 300\nNo crop marks."
    reading = read_prose(text)
    assert reading.draft.get("marks", {}).get("crop_marks") == "forbidden", "the grammar reads it, as it does others' texts"


def test_a_demand_in_a_question_is_set_as_its_reader_writes_and_a_line_of_ours_as_the_sheet_does() -> None:
    with speaking("fr"):
        assert demand_said("file.maximum_size", "500 MB").endswith("\u00a0: 500\u00a0Mo")
        assert demand_said("color.allowed", ["cmyk", "gray"]).endswith("\u00a0: CMJN\u202f; niveaux de gris")
    assert lines_of({"file": {"maximum_size": "500 MB"}}, "fr")[0].endswith(": 500 MB")
