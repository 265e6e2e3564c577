"""Guide copy left in."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.text import TextRun
from service.rules.type.guide_copy import says_guide_copy
from service.sheets.model import KeepClearArea, SpecSheet
from tests.patience import processor_seconds
from tests.rules.measured import content, document, judged, only_finding, outcome, page, run, without_content

LETTERHEAD = SpecSheet(keep_clear=(KeepClearArea(name="writing area", box_mm=Box(20, 45, 190, 277), level="should"),))


def saying(*lines: str) -> Measurements:
    return document(page(210, 297, content=content(text=[run(words, y=10 + 6 * at) for at, words in enumerate(lines)])))


def lower(*runs: TextRun) -> Measurements:
    return document(page(210, 297, content=content(text=runs)))


@pytest.mark.parametrize(
    "words",
    [
        "Your name here",
        "YOUR LOGO HERE",
        "Your name here | Your job title here",
        "Insert text here",
        "Insert text here.",
        "Type your text",
        "Add your own headline here",
        "Headline goes here",
        "Placeholder",
        "‘Placeholder text’",
        "Dummy copy",
        "xxxx xxxx",
        "Tel. xxxx xxxxxx",
        "xxxxxxxxxx",
        "xxxxxxx",
        "[Name]",
        "Dear [First name],",
        "<<Company>>",
        "Dear {{ first_name }}",
        "«Nom»",
        "Phone 01234 567890",
        "+44 1234 567890",
        "T 000 000",
        "(000) 000-0000",
        "123-456-7890",
        "No. 0123456",
        "example@example.com",
        "www.yourwebsite.com",
        "name@company.com",
        "Firstname Lastname",
        "John Doe",
        "Das ist ein Blindtext.",
        "Max Mustermann",
        "Musterstraße 12",
        "Platzhalter",
        "Hier steht Ihr Text",
        "Ihr Logo hier",
        "Votre texte ici",
        "Insérez votre logo",
        "Texto: tu texto aquí",
        "Lorem ipsum",
        "Joyce A. N. Other",
        "{surname}",
        "Look at example.org.",
        "www.website.com",
        "Hier könnte deine Überschrift stehen",
    ],
)
def test_guide_copy_is_found(words: str) -> None:
    found = only_finding("copy.placeholder", saying("Halyard Lane Bakery", words), SpecSheet())
    assert found.level == "should"
    assert found.finding.measured == {"texts": [words], "lines": 1}
    assert found.finding.places[0].box_mm.y0 == 16


@pytest.mark.parametrize(
    "words",
    [
        "Lorem Meyer, master baker",
        "Sizes S to XXL",
        "XXXL",
        "Louis XXXIII",
        "With kisses xxx",
        "With kisses xxxxxx",
        "With kisses xxx xxx",
        "Sign your name here and keep the copy",
        "Please write your address here: we deliver",
        "Your name is safe with us",
        "Your company, our bread",
        "Here comes your headline act",
        "Text us on a Sunday",
        "as they said [sic]",
        "see note [1] and [Fig. 2]",
        "«Guten Morgen»",
        "Phone 01865 248613",
        "+49 30 901820",
        "1 000 000 loaves since 1983",
        "Price 0.000000 or 100 000",
        "Colour 000000",
        "Lot 00 000",
        "Lot 012345",
        "4 006381 333931",
        "hello@halyardlane.test",
        "Dear Sir or Madam",
        "Herr Muster",
        "A place to hold on to",
        "Carpe diem, dum loquimur fugerit invida aetas",
        "Dolores Amet Velez",
        "2 < 3 and 5 > 4",
        "0 1 2 3 4 5 6 7 8 9",
        "0 0 0 0 0 0",
        "<< /Root 1 0 R >>",
        "<title>Introduction</title>",
    ],
)
def test_real_copy_is_left_alone(words: str) -> None:
    assert outcome("copy.placeholder", saying(words), SpecSheet()) == "met"


def test_a_long_line_of_filler_is_told_with_the_others_and_not_apart() -> None:
    """Five of its eleven words are in every filler text; the small ones between them are in real Latin too."""
    long_line = "pariatur. Excepteur sint occaecat cupidatat non proident, sunt in culpa qui"
    lines = ("Lorem ipsum dolor sit amet,", "consectetur adipiscing elit", long_line)
    assert only_finding("copy.placeholder", saying(*lines), SpecSheet()).finding.measured == {"texts": list(lines), "lines": 3}
    assert outcome("copy.placeholder", saying(long_line), SpecSheet()) == "met"


@pytest.mark.parametrize(
    ("line", "lines"),
    [("aliqua erat et in sed ut veniam quis dolore magna", 3), ("erat et in sed ut veniam quis dolore magna", 2)],
    ids=["three words of it", "two"],
)
def test_a_line_goes_on_with_the_filler_by_three_words_of_it(line: str, lines: int) -> None:
    said = saying("Lorem ipsum dolor sit amet,", "consectetur adipiscing elit", line)
    assert only_finding("copy.placeholder", said, SpecSheet()).finding.measured["lines"] == lines


def test_filler_latin_is_told_by_several_words() -> None:
    filler = ("dolor sit amet, consectetur", "adipiscing elit, sed do", "eiusmod tempor")
    found = only_finding("copy.placeholder", saying("Our story", *filler), SpecSheet())
    assert found.finding.measured == {"texts": list(filler), "lines": 3}
    assert outcome("copy.placeholder", saying("amet consectetur", "tempor"), SpecSheet()) == "met"  # three words
    assert outcome("copy.placeholder", saying("amet consectetur", "tempor elit"), SpecSheet()) == "not_met"
    assert outcome("copy.placeholder", saying("Lorem ipsum"), SpecSheet()) == "not_met"


def test_guide_copy_in_an_area_that_must_stay_clear_is_a_must() -> None:
    text = (run("Your name here", x=20, y=20), run("Your text here", x=30, y=100))
    _, findings = judged("copy.placeholder", lower(*text), LETTERHEAD)
    assert {(one.level, one.finding.required["keep_clear"]) for one in findings} == {("should", None), ("must", "writing area")}


@pytest.mark.parametrize(
    "words", ["Dear Sir or Madam,", "Yours faithfully", "Sehr geehrte Damen und Herren,", "Mit freundlichen Grüßen"]
)
def test_a_specimen_letter_counts_only_where_others_will_write(words: str) -> None:
    assert only_finding("copy.placeholder", lower(run(words, x=25, y=100)), LETTERHEAD).level == "must"
    assert outcome("copy.placeholder", lower(run(words, x=25, y=20)), LETTERHEAD) == "met"


@pytest.mark.parametrize(
    ("right_mm", "level"), [(60, "should"), (60.1, "must")], ids=["it only touches", "two tenths of a square millimetre"]
)
def test_a_line_stands_in_an_area_that_its_ink_enters(right_mm: float, level: str) -> None:
    sheet = SpecSheet(keep_clear=(KeepClearArea(name="stamp", box_mm=Box(60, 50, 90, 80), pages=(1, 2)),))
    line = replace(run("Your text here", x=20, y=60), ink_mm=Box(20, 60, right_mm, 62))
    assert only_finding("copy.placeholder", lower(line), sheet).level == level


def test_twenty_lines_are_quoted_and_all_counted() -> None:
    lines = [f"Your name here | {at}" for at in range(22)]
    measured = only_finding("copy.placeholder", saying(*lines), SpecSheet()).finding.measured
    assert measured == {"texts": lines[:20], "lines": 22}


def test_an_area_of_another_page_is_another_matter() -> None:
    sheet = SpecSheet(keep_clear=(KeepClearArea(name="stamp", box_mm=Box(0, 0, 210, 297), pages=(2,)),))
    assert only_finding("copy.placeholder", lower(run("Your text here")), sheet).level == "should"


def test_the_sheet_can_turn_it_off() -> None:
    assert outcome("copy.placeholder", saying("Lorem ipsum"), SpecSheet(levels={"copy.placeholder": "off"})) == "not_applicable"


def test_text_that_was_not_read_is_not_free_of_guide_copy() -> None:
    assert outcome("copy.placeholder", document(without_content(page())), SpecSheet()) == "not_measured"


def test_text_that_nobody_sees_is_not_copy() -> None:
    assert outcome("copy.placeholder", lower(run("Your name here", visible=False)), SpecSheet()) == "met"


@pytest.mark.parametrize(
    "hostile",
    ["x" * 2000, "xxx-" * 500 + "y", "xxx " * 500 + "y", "0 " * 1000, "[your " * 400, "{{" * 1000, "a@" * 1000, "your " * 400],
)
def test_hostile_text_costs_little(hostile: str) -> None:
    with processor_seconds(at_most=1):
        says_guide_copy(hostile)


def test_the_printers_words_on_an_area_come_with_the_guide_copy_in_it() -> None:
    area = KeepClearArea(name="writing area", box_mm=Box(20, 45, 190, 277), note="The letters are printed here later.")
    specimen = page(210, 297, content=content(text=(run("Dear Sir or Madam,", x=25, y=60), run("Your name here", x=25, y=20))))
    _, findings = judged("copy.placeholder", document(specimen), SpecSheet(keep_clear=(area,)))
    assert {one.finding.required["keep_clear"]: one.note for one in findings} == {"writing area": area.note, None: None}


def test_the_slug_may_say_what_it_likes() -> None:
    """It is cut off: 3 mm of bleed, and 3 mm beyond it."""
    for y, expected in ((-9.0, "met"), (-1.0, "not_met")):
        said = document(page(210, 297, content=content(text=[run("Your name here", y=y)])))
        assert outcome("copy.placeholder", said, SpecSheet()) == expected


@pytest.mark.parametrize("words", ['<x xmlns:d="http://example.com/ns">', "open('https://example.com/a.pdf')"])
def test_a_host_in_a_listing_is_no_guide_copy(words: str) -> None:
    assert not says_guide_copy(words)
    assert says_guide_copy("Find us at https://www.example.com")


def test_what_guide_copy_looks_like_is_worked_out_once_in_a_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """`re` forgets what it compiled long ago, and each child of the fork server worked it out again."""
    says_guide_copy("Rye loaf")
    with monkeypatch.context() as watched:
        watched.setattr(re, "_compile", lambda pattern, *_: pytest.fail(f"{pattern[:40]} anew"))
        found = says_guide_copy("Rye loaf, your logo here"), says_guide_copy("Rye rolls")
    assert found == (True, False)
