"""Black, tints, printing conditions and papers: what a sentence claims in three languages, and what only sounds like it."""

from __future__ import annotations

from typing import Any

import pytest

from service.sheets.prose.drafts import Reading
from tests.sheets.prose.grammar import read_prose


def draft(text: str) -> Any:
    return read_prose(text).draft


def asked_about(reading: Reading) -> set[str]:
    return {one.about for one in reading.questions if one.quote}


@pytest.mark.parametrize(
    "text",
    [
        "Black text must be 100 % K only.",
        "All black type should be set in black ink only, not in four-colour black.",
        "Please set black text as C0 M0 Y0 K100.",
        "Never build black text from rich black.",
        "Black copy: single ink",
        "Schwarze Texte bitte nur in 100 % K anlegen.",
        "Schwarzer Text muss rein schwarz sein.",
        "Schwarze Schrift nicht in Tiefschwarz anlegen.",
        "Les textes noirs doivent être en noir seul.",
        "Texte noir : 100 % noir uniquement",
        "Les textes noirs ne doivent pas être en quadrichromie.",
    ],
)
def test_black_text_is_in_black_ink_alone(text: str) -> None:
    assert draft(text) == {"text": {"black_alone": True}}


def test_black_text_that_is_better_in_black_alone_is_an_observation() -> None:
    assert draft("We recommend 100 % K for black text.") == {"text": {"black_alone": True, "level": "should"}}
    assert draft("Wir empfehlen, schwarzen Text nur in 100 % K anzulegen.") == {"text": {"black_alone": True, "level": "should"}}


@pytest.mark.parametrize(
    "text",
    [
        "Small black text should be 100 % K only.",
        "Kleine schwarze Texte nur in 100 % K anlegen.",
        "Petits textes noirs en noir seul.",
        "Black text need not be in black ink only.",
        "We convert black text to black ink only.",
        "Black text is easy to read.",
        "Text in black looks crisp on white paper.",
        "Schwarzer Text auf gelbem Grund ist gut lesbar.",
        "Le texte noir se lit bien.",
        "Use rich black for large areas, not for text.",
    ],
)
def test_what_is_said_of_some_black_text_or_of_none_asks_nothing_of_all(text: str) -> None:
    assert "black_alone" not in draft(text).get("text", {})


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("Black text and black lines must overprint.", "must"),
        ("100 % black should be set to overprint.", "must"),
        ("Schwarze Texte und Linien müssen auf Überdrucken stehen.", "must"),
        ("Les textes et filets noirs doivent être en surimpression.", "must"),
        ("We recommend that black text and lines overprint.", "should"),
    ],
)
def test_black_that_overprints_is_a_level_of_its_rule(text: str, level: str) -> None:
    reading = read_prose(f"{text}\nBleed: 3 mm")
    assert reading.draft["levels"] == {"ink.overprint-black": level}
    assert [one.path for one in reading.values] == ["levels.ink.overprint-black", "bleed.minimum"]


@pytest.mark.parametrize(
    "text",
    [
        "Black text must overprint.",
        "White text must never overprint.",
        "We set black text and lines to overprint.",
        "Black text and lines must not overprint.",
        "Switch on the overprint preview to check black text and lines.",
        "Schwarze Texte überdrucken wir automatisch.",
        "Weiße Linien und schwarzer Text dürfen nicht überdrucken.",
        "Le texte blanc ne doit pas être en surimpression.",
    ],
)
def test_other_words_on_overprinting_set_no_level(text: str) -> None:
    assert "levels" not in draft(f"{text}\n3 mm bleed")


@pytest.mark.parametrize(
    "text",
    [
        "Rich black: C60 M40 Y40 K100",
        "For large areas use a rich black of 60/40/40/100.",
        "Our rich black is 60 % cyan, 40 % magenta, 40 % yellow and 100 % black.",
        "Tiefschwarz: C 60, M 40, Y 40, K 100",
        "Verwenden Sie für Tiefschwarz 60c 40m 40y 100k.",
        "Noir soutenu : C60 M40 J40 N100",
    ],
)
def test_the_recipe_of_a_rich_black(text: str) -> None:
    recipe = {"cyan": "60 %", "magenta": "40 %", "yellow": "40 %", "black": "100 %"}
    assert draft(text) == {"color": {"rich_black": recipe}}


def test_a_recipe_of_two_inks_says_nothing_of_the_others() -> None:
    assert draft("Rich black: 40 % cyan and 100 % black")["color"]["rich_black"] == {"cyan": "40 %", "black": "100 %"}


@pytest.mark.parametrize(
    "text",
    [
        "Never use C100 M100 Y100 K100 as rich black.",
        "Rich black looks deeper than black alone.",
        "Tiefschwarz aus C100 M100 Y100 K100 vermeiden.",
        "Évitez un noir soutenu C100 M100 J100 N100.",
        "Our brand colour is C60 M40 Y40 K20.",
        "A typical rich black, for example C60 M40 Y40 K100, dries slowly.",
    ],
)
def test_a_black_that_is_unwanted_or_an_example_is_no_recipe(text: str) -> None:
    assert "rich_black" not in draft(text).get("color", {})


def test_two_recipes_are_a_question() -> None:
    reading = read_prose("Rich black: C60 M40 Y40 K100.\n\nRich black: C40 M30 Y30 K100.")
    assert "cyan" not in reading.draft.get("color", {}).get("rich_black", {})
    assert "color.rich_black.cyan" in asked_about(reading)


@pytest.mark.parametrize(
    "text",
    [
        "Rich black must not exceed 280 % in total.",
        "Tiefschwarz: Summe maximal 280 %",
        "Noir soutenu : 280 % au total au maximum",
    ],
)
def test_the_most_ink_of_a_rich_black(text: str) -> None:
    assert draft(text) == {"color": {"rich_black": {"ink_limit": "280 %"}}}


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Output intent: FOGRA51", ["FOGRA51"]),
        ("The output intent must be ISO Coated v2 (ECI) or FOGRA 51.", ["ISO Coated v2", "FOGRA51"]),
        ("Printing condition: PSO Uncoated v3", ["PSO Uncoated v3"]),
        ("Output condition: GRACoL 2013", ["GRACoL 2013"]),
        ("Ausgabebedingung: FOGRA39", ["FOGRA39"]),
        ("Als Ausgabe-Intent bitte PSO Coated v3 verwenden.", ["PSO Coated v3"]),
        ("Profil de sortie : FOGRA52", ["FOGRA52"]),
        ("Condition d'impression : FOGRA39", ["FOGRA39"]),
    ],
)
def test_a_printing_condition_by_its_common_name(text: str, names: list[str]) -> None:
    assert draft(text) == {"file": {"output_conditions": names}}


@pytest.mark.parametrize(
    "text",
    [
        "Convert your pictures with the profile ISO Coated v2.",
        "Bitte wandeln Sie Ihre Bilder mit dem Profil PSO Coated v3 um.",
        "Utilisez le profil FOGRA51 pour convertir vos images.",
        "We print to FOGRA52.",
    ],
)
def test_a_profile_to_convert_with_is_a_question_and_no_output_intent(text: str) -> None:
    reading = read_prose(text)
    assert "output_conditions" not in reading.draft.get("file", {})
    assert "file.output_conditions" in asked_about(reading)


@pytest.mark.parametrize(
    "text",
    [
        "The output intent must not be FOGRA27.",
        "FOGRA39 is a characterisation data set.",
        "FOGRA27 ist veraltet.",
        "Les données FOGRA39 existent depuis longtemps.",
    ],
)
def test_a_condition_that_is_refused_or_explained_is_not_taken(text: str) -> None:
    assert draft(text) == {}


@pytest.mark.parametrize(
    "text",
    [
        "No embedded ICC profiles.",
        "Do not embed colour profiles.",
        "Keine eingebetteten ICC-Profile.",
        "Pas de profils ICC incorporés.",
    ],
)
def test_no_profiles_of_single_colours(text: str) -> None:
    assert draft(text) == {"color": {"icc_profiles": "forbidden"}}


@pytest.mark.parametrize(
    "text",
    [
        "Embed the ICC profile.",
        "No RGB profiles other than sRGB.",
        "Do not use the wrong ICC profile.",
        "Farbprofile müssen eingebettet sein.",
        "Le profil ICC doit être incorporé.",
        "ICC profiles are not needed.",
    ],
)
def test_profiles_that_are_wanted_or_not_needed(text: str) -> None:
    assert "icc_profiles" not in draft(text).get("color", {})


@pytest.mark.parametrize(
    ("text", "tint"),
    [
        ("Tints must be between 5 % and 95 %.", {"minimum": "5 %", "maximum": "95 %"}),
        ("Avoid tints below 3 %.", {"minimum": "3 %"}),
        ("Tonwerte unter 5 % drucken nicht.", {"minimum": "5 %"}),
        ("Tonwerte: mindestens 5 %, höchstens 90 %", {"minimum": "5 %", "maximum": "90 %"}),
        ("Trames : 5 % au minimum", {"minimum": "5 %"}),
    ],
)
def test_the_least_and_the_greatest_tint(text: str, tint: dict[str, str]) -> None:
    assert draft(text) == {"color": {"tint": tint}}


@pytest.mark.parametrize(
    "text",
    [
        "Dot gain is 15 % at 50 % tint.",
        "A tint of 20 % is often used behind text.",
        "Tonwertzunahme maximal 15 %",
        "Spot colours may be tinted between 5 and 95 %.",
        "Transparency below 5 % is lost in tints.",
    ],
)
def test_other_percentages_are_no_tint(text: str) -> None:
    assert "tint" not in draft(text).get("color", {})


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Total ink: 300 % on coated, 260 % on uncoated paper.", ("coated", "uncoated")),
        ("Farbauftrag: maximal 300 % auf gestrichenem, 260 % auf ungestrichenem Papier", ("gestrichenem", "ungestrichenem")),
        ("Taux d'encrage : 300 % sur papier couché, 260 % sur papier non couché", ("couché", "non couché")),
    ],
)
def test_the_ink_limit_of_each_paper(text: str, names: tuple[str, str]) -> None:
    papers = [{"name": names[0], "ink_limit": "300 %"}, {"name": names[1], "ink_limit": "260 %"}]
    assert draft(f"{text}\n3 mm bleed") == {"bleed": {"minimum": "3 mm"}, "papers": papers}


@pytest.mark.parametrize(
    "text",
    [
        "At most 64 pages on 135 gsm, at most 48 pages on 170 gsm.",
        "Maximal 64 Seiten auf 135 g/m², maximal 48 Seiten auf 170 g/m².",
    ],
)
def test_the_most_pages_of_each_paper(text: str) -> None:
    read = draft(f"{text}\n3 mm bleed")
    assert [one["maximum_pages"] for one in read["papers"]] == [64, 48]
    assert "pages" not in read


def test_ink_on_one_paper_and_a_limit_of_all_stand_beside_each_other() -> None:
    read = draft("Total ink: 320 %. On uncoated paper the total ink must not exceed 280 %.")
    assert read == {"color": {"ink_limit": "320 %"}, "papers": [{"name": "uncoated", "ink_limit": "280 %"}]}
