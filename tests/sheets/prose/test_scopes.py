"""A value with its scope, in three languages: each class of sentence that once gave a false value, and its near miss.

The sentences are ours; they say what published texts said, in other words.
"""

from __future__ import annotations

from typing import Any

import pytest

from service.sheets.prose.drafts import Reading
from tests.sheets.prose.grammar import read_prose


def draft(text: str) -> Any:
    return read_prose(text).draft


def leaf(text: str, path: str) -> Any:
    node: Any = draft(text)
    for key in path.split("."):
        node = node.get(key) if isinstance(node, dict) else None
    return node


def opened(reading: Reading) -> str:
    """All that is quoted as open."""
    return " | ".join([*(one.quote for one in reading.not_understood), *(one.quote or "" for one in reading.questions)])


@pytest.mark.parametrize(
    ("text", "stance"),
    [
        ("Printer's marks\n\nPlease do not add any fold or register marks.", None),
        ("Leave the crop marks off unless your artwork bleeds.", None),
        ("Crop marks are not needed.", None),
        ("Schnittmarken sind nicht unbedingt erforderlich.", None),
        ("Les traits de coupe ne sont pas nécessaires.", None),
        ("Crop marks: please do not add any.", "forbidden"),
        ("Bitte keine Schnittmarken anlegen.", "forbidden"),
        ("Merci de ne pas ajouter de traits de coupe.", "forbidden"),
        ("Please leave out:\n- crop marks\n- colour bars", "forbidden"),
        ("The proof must show crop marks.", None),
        ("Please supply the file with crop marks.", "required"),
        ("Bitte liefern Sie das PDF mit Schnittmarken.", "required"),
        ("Fournissez le PDF avec traits de coupe.", "required"),
    ],
)
def test_marks_are_asked_for_only_where_the_sentence_asks(text: str, stance: str | None) -> None:
    assert leaf(text, "marks.crop_marks") == stance


@pytest.mark.parametrize(
    "text",
    [
        "Pictures 300 dpi; from A2 upwards 150 dpi are enough.",
        "Bilder 300 dpi, ab DIN A2 reichen 150 dpi.",
        "Images en 300 dpi (150 dpi au delà du format 40 x 60 cm).",
        "The type area is 180 x 260 mm.",
        "For example, a card of 85 x 55 mm is supplied at 91 x 61 mm.",
        "Zum Beispiel wird aus 148 x 210 mm ein Format von 154 x 216 mm.",
        "Par exemple, un format de 148 x 210 mm devient 154 x 216 mm.",
        "We cut our cards from sheets of 450 x 320 mm.",
    ],
)
def test_a_size_that_only_bounds_or_shows_something_is_no_trim(text: str) -> None:
    assert "trim" not in draft(text)


@pytest.mark.parametrize(
    ("text", "width"),
    [("Trim size: 85 x 55 mm", "85 mm"), ("Endformat 148 x 210 mm", "148 mm"), ("Format fini : 148 x 210 mm", "148 mm")],
)
def test_a_size_that_is_the_trim_is_read(text: str, width: str) -> None:
    assert leaf(text, "trim.width") == width


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Keep text 5 mm from the edge, not the bleed.", {"margin": {"minimum": "5 mm"}}),
        ("Bleed 3 mm. Text belongs 5 mm inside the trim.", {"bleed": {"minimum": "3 mm"}, "margin": {"minimum": "5 mm"}}),
        ("Texte mit 5 mm Abstand zum Rand, Beschnitt 3 mm", {"margin": {"minimum": "5 mm"}, "bleed": {"minimum": "3 mm"}}),
        ("Textes à 5 mm du bord, fonds perdus 3 mm", {"margin": {"minimum": "5 mm"}, "bleed": {"minimum": "3 mm"}}),
        ("Frames must stand 10 mm from the edge.", {}),
        ("Rahmen mindestens 10 mm vom Rand", {}),
        ("Un cadre doit être à 10 mm du bord.", {}),
        ("Lines of several inks must be at least 0.8 mm wide.", {}),
        ("In light cuts, type must not be smaller than 7 pt.", {}),
        ("Type of at least 7 pt", {"text": {"minimum_size": "7 pt"}}),
        ("Fold tolerance 1 mm; bleed 3 mm", {"bleed": {"minimum": "3 mm"}}),
    ],
)
def test_a_number_belongs_to_its_own_thing(text: str, expected: dict[str, Any]) -> None:
    assert draft(text) == expected


@pytest.mark.parametrize(
    ("text", "images"),
    [
        ("Bitmap pictures need 300 dpi.", {"contone_ppi": {"minimum": 300}}),
        ("Bitmaps (1 bit) need 1200 dpi.", {"bilevel_ppi": {"minimum": 1200}}),
        ("300 dpi at least. Very small type is better at 600 dpi.", {"contone_ppi": {"minimum": 300}}),
        ("Mindestens 300 dpi. Bei sehr kleinen Schriften besser 600 dpi.", {"contone_ppi": {"minimum": 300}}),
        ("Pictures 300 dpi, better 400 dpi", {"contone_ppi": {"minimum": 300, "preferred": 400}}),
    ],
)
def test_pictures_are_told_from_type_and_from_line_art(text: str, images: dict[str, Any]) -> None:
    assert draft(text)["images"] == images


@pytest.mark.parametrize(
    "text",
    [
        "Four pages stand on one press sheet.",
        "Spread ads are set up as two facing pages.",
        "Reader spreads and printer spreads are two ways of looking at a booklet.",
        "Auf einem Druckbogen stehen acht Seiten.",
        "Quatre pages tiennent sur une feuille.",
    ],
)
def test_spreads_that_are_only_spoken_of_arrange_nothing(text: str) -> None:
    assert "pages" not in draft(text)


@pytest.mark.parametrize(
    "text",
    [
        "Send pages, not spreads, as single pages.",
        "Export as 'single pages' rather than spreads.",
        "Bitte Einzelseiten statt Doppelseiten liefern.",
        "Envoyez des pages simples, pas de doubles pages.",
    ],
)
def test_pages_and_not_spreads_are_single_pages(text: str) -> None:
    assert leaf(text, "pages.arrangement") == "single-pages"


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Use PDF/X-1a, which like PDF/X-3 is based on PDF 1.3.", "file.standards", ["PDF/X-1a"]),
        ("Text 5 mm from the edge; borders 10 mm from the edge.", "margin.minimum", "5 mm"),
        ("Bleed 3 mm, for booklets 3 to 5 mm", "bleed.maximum", None),
        ("Beschnitt 3 mm, bei Broschüren 3 bis 5 mm", "bleed.maximum", None),
        ("Fond perdu de 3 mm, pour les brochures 3 à 5 mm", "bleed.maximum", None),
    ],
)
def test_the_special_case_does_not_displace_the_rule(text: str, path: str, value: Any) -> None:
    assert leaf(text, path) == value


@pytest.mark.parametrize(
    "text",
    [
        "Spot colours may be tinted between 5 and 95 %.",
        "For grey pictures use the profile that we send you.",
        "CMYK is the colour model of printing, RGB that of screens.",
        "CMYK ist das Farbmodell des Druckens.",
        "Le CMJN est le modèle de couleurs de l'imprimerie.",
    ],
)
def test_a_bare_mention_is_no_rule(text: str) -> None:
    assert draft(text) == {}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Lines at least 0.1 mm or 0.25 pt", {"lines": {"minimum_width": "0.1 mm"}}),
        ("Linien mindestens 0,1 mm bzw. 0,25 pt", {"lines": {"minimum_width": "0.1 mm"}}),
        (
            "Positive lines 0.25 pt, reversed lines 0.5 pt",
            {"lines": {"minimum_width": "0.25 pt", "reversed_minimum_width": "0.5 pt"}},
        ),
        ("Bleed 3 mm, crop marks offset by 5 mm", {"bleed": {"minimum": "3 mm"}, "marks": {"offset_minimum": "5 mm"}}),
    ],
)
def test_what_does_not_contradict_itself_is_no_conflict(text: str, expected: dict[str, Any]) -> None:
    read = draft(text)
    assert {key: {name: read.get(key, {}).get(name) for name in block} for key, block in expected.items()} == expected


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Alle Schriften sind einzubetten.", "fonts.embedded", "required"),
        ("Betten Sie alle Schriften ein.", "fonts.embedded", "required"),
        ("Add ⅛ of an inch of bleed on each side.", "bleed.minimum", "1/8 in"),
        ("Let it bleed three millimetres.", "bleed.minimum", "3 mm"),
        ("Drei Millimeter Beschnitt", "bleed.minimum", "3 mm"),
        ("Fond perdu de trois millimètres", "bleed.minimum", "3 mm"),
        ("Die Daten sind in CMYKProzessfarben anzulegen.", "color.allowed", ["cmyk", "gray"]),
        ("Total ink: maximum 260 %", "color.ink_limit", "260 %"),
        ("The sum of all inks must not exceed 300.", "color.ink_limit", "300 %"),
        ("We stitch booklets with a minimum of 8 and a maximum of 52 pages.", "pages.maximum", 52),
    ],
)
def test_what_is_stated_is_not_asked_about(text: str, path: str, value: Any) -> None:
    assert leaf(text, path) == value


@pytest.mark.parametrize(
    ("text", "block"),
    [
        ("We recommend a bleed of 3 mm.", {"bleed": {"minimum": "3 mm", "level": "should"}}),
        ("Wir empfehlen einen Beschnitt von 3 mm.", {"bleed": {"minimum": "3 mm", "level": "should"}}),
        ("Nous conseillons 3 mm de fonds perdus.", {"bleed": {"minimum": "3 mm", "level": "should"}}),
        ("CMYK is recommended.", {"color": {"allowed": ["cmyk", "gray"], "rgb_level": "should"}}),
        ("PDF/X-4 is preferred.", {"file": {"standards": ["PDF/X-4"], "standards_level": "should"}}),
    ],
)
def test_what_is_recommended_is_a_should(text: str, block: dict[str, Any]) -> None:
    assert draft(text) == block


@pytest.mark.parametrize(
    "text",
    [
        "If your cover has a window, bleed must be 6 mm.",
        "Wenn Ihr Umschlag ein Fenster hat, braucht er 6 mm Beschnitt.",
        "Si votre couverture a une fenêtre, prévoyez 6 mm de fonds perdus.",
        "For membrane keypads bleed is 6 mm.",
    ],
)
def test_a_value_on_a_condition_is_quoted_as_open(text: str) -> None:
    reading = read_prose(text)
    assert reading.draft == {}
    assert "6 mm" in opened(reading)


@pytest.mark.parametrize(
    "text",
    [
        "If pictures run off the edge, add 3 mm bleed.",
        "Wenn Bilder bis zum Rand gehen, 3 mm Beschnitt anlegen.",
        "Bleed 3 mm, unless otherwise stated.",
    ],
)
def test_a_condition_that_says_what_the_key_means_is_none(text: str) -> None:
    assert draft(text) == {"bleed": {"minimum": "3 mm"}}


def test_sections_by_product_give_a_draft_each_with_what_is_common() -> None:
    text = "# Files\n\n3 mm bleed\n\n## Posters\n\n- 150 dpi\n\n## Business cards\n\n- 300 dpi\n- 85 x 55 mm\n"
    reading = read_prose(text)
    drafts = {one.product: one.document for one in reading.drafts}
    assert drafts[None] == {"bleed": {"minimum": "3 mm"}}
    assert drafts["Posters"] == {"bleed": {"minimum": "3 mm"}, "images": {"contone_ppi": {"minimum": 150}}}
    assert drafts["Business cards"]["images"] == {"contone_ppi": {"minimum": 300}}
    assert drafts["Business cards"]["trim"] == {"width": "85 mm", "height": "55 mm"}


def test_rows_by_product_give_a_draft_each_and_share_what_they_say_alike() -> None:
    text = "Product | Trim | Bleed\nCard | 85 x 55 mm | 3 mm\nFlyer | 148 x 210 mm | 3 mm"
    common, *products = read_prose(text).drafts
    assert common.document == {"bleed": {"minimum": "3 mm"}}
    assert [(one.product, one.document["trim"]["width"]) for one in products] == [("Card", "85 mm"), ("Flyer", "148 mm")]


@pytest.mark.parametrize("text", ["Bleed\n3 mm\nResolution\n300 dpi", "Beschnitt\n3 mm\nAuflösung\n300 dpi"])
def test_a_heading_and_its_value_on_lines_of_their_own(text: str) -> None:
    assert draft(text) == {"bleed": {"minimum": "3 mm"}, "images": {"contone_ppi": {"minimum": 300}}}


def test_each_sentence_is_evidence_or_open_or_asks_nothing() -> None:
    text = "Bleed 3 mm. White text must never overprint. We have printed since 1952."
    reading = read_prose(text)
    assert [one.quote for one in reading.not_understood] == ["White text must never overprint."]
    assert [one.quote for one in reading.asks_nothing] == ["We have printed since 1952."]


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Type should be 5 pt or larger. There are cases where type under 11 pt is acceptable.", "text.minimum_size", "5 pt"),
        ("Text mindestens 5 pt. In manchen Fällen ist Text unter 11 pt möglich.", "text.minimum_size", "5 pt"),
        ("Texte : 5 pt minimum. Dans certains cas, un texte de 11 pt est nécessaire.", "text.minimum_size", "5 pt"),
        ("Type printed in two or more colours must be at least 13 pt.", "text.minimum_size", None),
        ("Type must be at least 7 pt.", "text.minimum_size", "7 pt"),
        ("Set the die line 1 pt thick.", "lines.minimum_width", None),
        ("Die Stanzlinie muss mindestens 1 pt stark sein.", "lines.minimum_width", None),
        ("Le filet de découpe doit avoir 1 pt minimum.", "lines.minimum_width", None),
        ("Lines must be at least 1 pt thick.", "lines.minimum_width", "1 pt"),
    ],
)
def test_type_and_lines_of_one_kind_do_not_speak_for_all(text: str, path: str, value: str | None) -> None:
    assert leaf(text, path) == value


@pytest.mark.parametrize(
    ("text", "bleed"),
    [
        ('Add 0.125" (1/8") bleed for the following products:\n- bookmarks\n- flyers', None),
        ("Für folgende Produkte gilt ein Anschnitt von 4 mm: Fahnen, Planen", None),
        ("Pour les produits suivants, prévoyez 4 mm de fond perdu : bâches", None),
        ('Add 0.125" (1/8") bleed on all sides.', "0.125 in"),
        ("Bleed must extend 2 mm beyond the die line.", "2 mm"),
        ("Artwork must stay 2 mm from the die cut.", None),
    ],
)
def test_a_bleed_of_products_that_are_listed_further_on_is_not_everybodys(text: str, bleed: str | None) -> None:
    assert leaf(text, "bleed.minimum") == bleed


def test_an_example_goes_on_in_the_sizes_that_follow_it() -> None:
    text = "For example, a flyer is 105 x 148 mm when trimmed.\n\nWith bleed it has to be supplied at:\n\n111 x 154 mm"
    assert draft(text).get("trim") is None


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("To be agreed: format, colours (RGB or CMYK), profiles.", "color.allowed", None),
        ("Colours: CMYK or RGB", "color.allowed", ["cmyk", "gray", "rgb"]),
        ("Bilder, Texte und Flächen ausschließlich im Farbraum CMYK.", "color.allowed", ["cmyk", "gray"]),
        ("The PDF version must be 1.4.", "file.pdf_versions", {"minimum": "1.4", "maximum": "1.4"}),
        ("Die PDF-Version muss 1.4 sein.", "file.pdf_versions", {"minimum": "1.4", "maximum": "1.4"}),
        ("Avoid converting to CMYK when you save the PDF.", "color.allowed", None),
        ("Images at least 300 dpi, but less than 600 dpi.", "images.contone_ppi", {"minimum": 300, "maximum": 600}),
        ("Bilder mindestens 300 dpi, aber weniger als 600 dpi.", "images.contone_ppi", {"minimum": 300, "maximum": 600}),
        ("Images : 300 dpi minimum, mais moins de 600 dpi.", "images.contone_ppi", {"minimum": 300, "maximum": 600}),
        ("La version du PDF est souvent 1.4.", "file.pdf_versions", None),
    ],
)
def test_more_that_was_read_wrong_or_passed_over(text: str, path: str, value: object) -> None:
    assert leaf(text, path) == value


@pytest.mark.parametrize(
    "text",
    [
        "La version du PDF doit être la 1.3.",
        "Verschlüsselungen (z. B. Kennwortschutz) sind nicht erlaubt.",
        "Les fonds perdus doivent être adaptés au produit.",
    ],
)
def test_a_demand_that_is_not_read_never_asks_nothing(text: str) -> None:
    reading = read_prose(text)
    assert not reading.asks_nothing
    assert opened(reading)


@pytest.mark.parametrize(
    "text",
    [
        "Flyers and posters\n\nBleed: 3 mm\n\n## Posters\n- images 150 dpi\n\n## Flyers\n- images 300 dpi",
        "Flyer und Plakate\n\nAnschnitt: 3 mm\n\n## Plakate\n- Bilder 150 dpi\n\n## Flyer\n- Bilder 300 dpi",
        "Dépliants et affiches\n\nFonds perdus : 3 mm\n\n## Affiches\n- images 150 dpi\n\n## Dépliants\n- images 300 dpi",
    ],
)
def test_a_title_of_several_products_does_not_make_their_sections_everybodys(text: str) -> None:
    reading = read_prose(text)
    assert reading.draft == {"bleed": {"minimum": "3 mm"}}
    assert [one.document["images"]["contone_ppi"]["minimum"] for one in reading.drafts[1:]] == [150, 300]
