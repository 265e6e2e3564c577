"""What a sentence says besides its value: plain sentences are drafted, others are asked about."""

from __future__ import annotations

import pytest

from service.sheets.prose.reading import read_prose as read_with_care
from tests.sheets.prose.grammar import read_prose
from tests.sheets.readings_score import leaves


@pytest.mark.parametrize(
    ("path", "plain", "doubtful"),
    [
        ("color.allowed", "All colours must be in CMYK.", "Set small type in one ink rather than in CMYK."),
        ("fonts.embedded", "Schriften einbetten.", "Schriften einbetten genügt nicht."),
        ("fonts.outlines", "Fonts must be converted to outlines.", "Fonts must be converted to outlines or embedded."),
        ("margin.minimum", "Keep text 1/4 in away from the trim.", 'Keep text 1/8" (3 mm) to 1/4" (6 mm) away from the trim.'),
        ("images.contone_ppi.minimum", "Images must be 400 dpi.", "Images with fine lines must be 400 dpi."),
        ("marks.crop_marks", "Do not include crop marks.", "Do not include crop marks on pages other than the first."),
        ("fonts.outlines", "Fonts must be converted to outlines.", "Fonts must be converted to outlines in EPS files."),
        ("margin.minimum", "Keep a 2 inch safe zone on all sides.", "If you want eyelets, keep a 2 inch safe zone on all sides."),
        ("margin.minimum", "Posters need a 10 mm margin on each side.", "Posters so long will have a 10 mm margin on each side."),
        ("color.allowed", "All colours must be in CMYK.", "Please indicate whether the artwork is in CMYK."),
        ("color.allowed", "Convert all colours to CMYK.", "Please note that house colours in CMYK lose their brilliance."),
        ("lines.minimum_width", "Lines must be at least 0.5 pt.", "Include a 0.5 pt stroke around the panel to keep it crisp."),
        ("text.minimum_size", "Minimum font size 6 pt.", "Minimum font size of 6 pt on serial numbers."),
        ("text.minimum_size", "Minimum font size 6 pt.", "Bar codes\n\nMinimum font size 6 pt."),
        ("text.black_alone", "Black text must be 100% black.", "For black text use either 100% black, or rich black."),
        ("file.layers", "No layers.", "Pictures must not be flattened into layers."),
        ("trim.width", "Trim size: 148 x 210 mm", "Artwork can be as large as 297 x 420 mm."),
        ("fonts.embedded", "Fonts must be embedded.", "Native files with all links and fonts included."),
        ("bleed.minimum", "Bleed: 3 mm", "The bleed is made by adding 6 mm to the width and the height."),
        ("bleed.minimum", "Bleed: 30 mm", "Bleed: 75 mm"),
        ("margin.minimum", "Safe zone: 60 mm", "Safe zone: 61 mm"),
        ("images.contone_ppi.minimum", "Pictures: at least 500 dpi", "Pictures: at least 600 dpi"),
        ("color.ink_limit", "Total ink: 380 %", "Total ink: 400 %"),
        ("margin.minimum", "Sicherheitsabstand: 5 mm", "Sicherheitsabstand an Laschen: 5 mm"),
        ("color.allowed", "Alle Farben in CMYK anlegen.", "CMYK nimmt unser Lehrling gern vor."),
        ("margin.minimum", "Marge de s\u00e9curit\u00e9 : 5 mm", "Marge de s\u00e9curit\u00e9 pour les oeillets : 5 mm"),
    ],
)
def test_a_sentence_that_is_not_plain_is_asked_about(path: str, plain: str, doubtful: str) -> None:
    assert path in dict(leaves(read_prose(plain).draft))
    reading = read_prose(doubtful)
    assert path not in dict(leaves(reading.draft))
    said = [one.quote for one in reading.questions if one.about == path and one.quote]
    said += [one.quote for one in reading.not_understood]
    assert any(quote.strip() in doubtful for quote in said), reading


def test_a_question_that_yes_answers_says_what_the_sheet_would_hold() -> None:
    asked = {one.about: one.value for one in read_prose("Resolution 300 ppi. Keep a 10 mm margin for flags.").questions}
    assert asked["margin.minimum"] == "10 mm"
    assert asked["trim"] is None, "nothing was read"


def test_a_question_shows_the_whole_sentence_and_the_value_that_was_read() -> None:
    reading = read_prose("Minimum font size of 6 pt on serial numbers.")
    [question] = [one for one in reading.questions if one.about == "text.minimum_size"]
    assert question.quote == "Minimum font size of 6 pt on serial numbers."
    assert "6 pt" in question.question


def test_a_value_that_a_doubtful_sentence_contradicts_is_asked_about() -> None:
    sure = "Images must be at least 300 dpi."
    assert dict(leaves(read_prose(sure).draft))["images.contone_ppi.minimum"] == 300
    doubtful = read_prose(f"{sure}\n\nBar codes\n\nImages must be at least 600 dpi.")
    assert "images.contone_ppi.minimum" not in dict(leaves(doubtful.draft))


def test_a_value_said_plainly_elsewhere_too_is_drafted() -> None:
    reading = read_prose("Minimum font size 6 pt.\n\nThe minimum font size of 6 pt on serial numbers is for better reading.")
    assert "text.minimum_size" in dict(leaves(reading.draft))


@pytest.mark.parametrize(
    ("path", "plain", "buried"),
    [
        ("trim.width", "Trim size: 85 x 55 mm", "Cards that come out of our machine measure 85 x 55 mm after trimming."),
        ("marks.crop_marks", "No crop marks", "We ask all of our customers to send artwork without crop marks."),
        ("color.spots.maximum", "No spot colours", "Please supply artwork in CMYK and with no spot colours."),
        ("text.black_alone", "Black text in 100% K only.", "Black text in all of your files must be 100% K only."),
    ],
)
def test_a_key_that_is_often_read_wrongly_is_drafted_from_a_line_of_its_own_alone(path: str, plain: str, buried: str) -> None:
    assert path in dict(leaves(read_with_care(plain).draft))
    careful = read_with_care(buried)
    assert path not in dict(leaves(careful.draft))
    assert path in {one.about for one in careful.questions}
    assert path in dict(leaves(read_prose(buried).draft)), "the grammar reads it"


@pytest.mark.parametrize(
    "sentence",
    [
        "Halftone screens and transfer curves are to be removed by you.",
        "Comments and form fields are to be removed, whoever made them.",
        "Les calques sont accept\u00e9s \u00e0 condition d'\u00eatre peu nombreux.",
        "Die Schriften m\u00fcssen unserer Hausschrift gleichen.",
    ],
)
def test_a_demand_on_what_a_sheet_knows_is_evidence_or_open_and_never_passed_over(sentence: str) -> None:
    reading = read_prose(f"Bleed: 3 mm\n\n{sentence}")
    assert sentence not in [one.quote.strip() for one in reading.asks_nothing]


def test_what_is_said_of_prices_and_delivery_asks_nothing() -> None:
    sentence = "Our prices include delivery of your books."
    assert sentence in [one.quote.strip() for one in read_prose(f"Bleed: 3 mm\n\n{sentence}").asks_nothing]


def test_a_resolution_that_is_no_whole_number_is_asked_about() -> None:
    """120 dots to the centimetre."""
    reading = read_prose("Bilder 304,8 dpi (120 dpc)")
    assert reading.draft == {}
    assert "images.contone_ppi.minimum" in [one.about for one in reading.questions if one.quote]
