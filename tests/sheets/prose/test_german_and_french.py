"""What German and French sentences say besides the value, and the letters that questions and drafts say them in."""

from __future__ import annotations

import pytest

from tests.sheets.prose.grammar import extracted, read_prose
from tests.sheets.readings_score import leaves


def drafted(text: str) -> dict[str, object]:
    return dict(leaves(read_prose(text).draft))


@pytest.mark.parametrize(
    "text",
    [
        "Beschnitt 3 mm, im Bund nicht nötig; bei großen Formaten 5 mm.",
        "Beschnitt rundum 3 mm (im Bund nicht erforderlich).",
        "Bleed 3 mm on three sides, not needed at the spine; large formats 5 mm.",
        "Fond perdu 3 mm, pas nécessaire au dos.",
    ],
)
def test_bleed_that_is_not_needed_at_the_spine_is_bleed_all_the_same(text: str) -> None:
    assert drafted(text) == {"bleed.minimum": 3.0}


def test_bleed_that_is_not_needed_at_all_is_none() -> None:
    assert "bleed.minimum" not in drafted("Beschnitt ist nicht erforderlich (3 mm sind üblich).")


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("margin.minimum", "Sicherheitsabstand zum Falz: 5 mm"),
        ("margin.minimum", "Bei Ösen beträgt der Sicherheitsabstand 30 mm."),
        ("color.allowed", "Falls Sie Fotos verwenden, wandeln Sie diese in CMYK um."),
        ("text.minimum_size", "Serifenschriften mindestens 8 pt"),
        ("lines.minimum_width", "Rahmenlinien um das Etikett mindestens 2 pt"),
        ("images.jpeg", "PDF sans compression JPEG 2000"),
        ("margin.minimum", "Marge de reliure : 12 mm"),
        ("margin.minimum", "Marge autour des œillets : 20 mm"),
        ("margin.minimum", "Der Abstand zwischen zwei Texten sollte mindestens 5 mm betragen."),
        ("marks.offset_minimum", "Wichtige Bildteile und Texte sollten 4 mm nach innen versetzt sein."),
        ("text.minimum_size", "Kleine Schriften unter 8 pt bitte nur einfarbig anlegen."),
        ("text.minimum_size", "Les petits textes de moins de 8 pt doivent rester en une seule couleur."),
        ("trim.width", "Unser größtes Format ist 700 x 1000 mm."),
        ("bleed.minimum", "Si votre fichier est sans fond perdu, nous l'agrandissons de 3 mm."),
        ("file.standards", "Le PDF/X-1a n'accepte pas les transparences."),
        ("transparency.live", "Le PDF/X-1a n'accepte pas les transparences."),
        ("marks.crop_marks", "Les traits de coupe ne doivent pas empiéter sur le fond perdu."),
        ("images.bilevel_ppi.minimum", "À l'échelle 1/10, il faut 1500 dpi."),
        ("images.contone_ppi.maximum", "Résolution des photos : 250 à 300 dpi"),
        ("color.allowed", "Les tons directs doivent être convertis en quadrichromie."),
    ],
)
def test_what_a_word_narrows_is_not_drafted_for_all(path: str, text: str) -> None:
    assert path not in drafted(text)


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Liefern Sie Ihre Daten exklusiv als PDF/X-4.", "file.standards", frozenset({"PDF/X-4"})),
        ("PDF/X-1a ou PDF/X-4 exclusivement", "file.standards", frozenset({"PDF/X-1a", "PDF/X-4"})),
        ("Supply artwork exclusively in CMYK.", "color.allowed", frozenset({"cmyk", "gray"})),
    ],
)
def test_exclusively_excludes_nothing_that_it_names(text: str, path: str, value: object) -> None:
    assert drafted(text)[path] == value


def test_small_type_in_one_ink_sets_the_least_size_of_type_in_several() -> None:
    assert drafted("Kleine Schriften unter 8 pt bitte nur einfarbig anlegen.") == {"text.rich_black_minimum_size": 8 * 25.4 / 72}


def test_marks_alone_on_a_line_are_asked_for_where_the_list_asks() -> None:
    items = "- Fonds perdus de 3 mm\n- Traits de coupe"
    assert drafted(f"Vos fichiers doivent comporter :\n{items}")["marks.crop_marks"] == "required"
    assert "marks.crop_marks" not in drafted(f"Quelques termes :\n{items}")


def test_a_condition_in_german_word_order_is_no_order() -> None:
    sheet = drafted("Verwenden Sie ausschließlich den CMYK-Farbraum, keine RGB-, LAB- oder Sonderfarben.")
    assert sheet == {"color.allowed": frozenset({"cmyk", "gray"}), "color.spots.maximum": 0.0}
    assert drafted("Verwenden Sie Sonderfarben, müssen diese in CMYK umgewandelt sein.") == {}


def test_a_remark_in_brackets_is_of_what_stands_before_it() -> None:
    text = "Schriften einbetten (aus Tabellenprogrammen noch besser: in Kurven wandeln), Bilder 300 dpi, Bitmaps 1200 dpi."
    assert drafted(text)["images.contone_ppi.minimum"] == 300
    assert drafted(text)["images.bilevel_ppi.minimum"] == 1200


def test_fonts_and_pictures_embedded_in_one_breath_are_both() -> None:
    assert drafted("Alle Schriften und Bilder einbetten.")["fonts.embedded"] == "required"
    assert "fonts.embedded" not in drafted("All fonts must be outlined and images embedded.")


def test_the_half_of_a_semicolon_that_names_the_edge_has_the_number() -> None:
    text = "Un fond perdu n'est pas nécessaire ; ne placez rien d'important à moins de 5 cm des bords."
    assert drafted(text) == {"margin.minimum": 50.0}


def test_products_and_conditions_keep_the_letters_of_the_text() -> None:
    reading = read_prose(
        "Beschnitt: 3 mm\n\nSicherheitsabstand bei Broschüren: 8 mm\n\n"
        "Die Datei muss im Farbmodus CMYK angelegt sein, wenn Sie Fotobücher bestellen.\n\n"
        "Pour les Étiquettes, fonds perdus de 2 mm."
    )
    assert [draft.product for draft in reading.drafts[1:]] == ["Broschüren", "Étiquettes"]
    asked = " ".join(one.question for one in reading.questions)
    for words in ("Broschüren", "wenn Sie Fotobücher bestellen"):
        assert words in asked
    assert "fotobucher" not in asked


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Kleinste Schriftgröße\nPositiv 6 p, negativ 8 p", "text.minimum_size", 6 * 25.4 / 72),
        ("Pour un rendu optimal, fournissez des images en 300 dpi.", "images.contone_ppi.minimum", 300.0),
        ("Fichiers PDF 1.3 ou PDF 1.4", "file.pdf_versions.maximum", "1.4"),
        ("PDF-Datei (PDF/X-3) per Mail an druck@copperbeck.example senden", "file.standards", frozenset({"PDF/X-3"})),
        ("Das Format ist 210 x 297 mm (beschnitten).", "trim.width", 210.0),
        ("Format beschnitten: 210 x 297 mm", "trim.width", 210.0),
    ],
)
def test_what_printers_write_shortly_is_read(text: str, path: str, value: object) -> None:
    assert drafted(text)[path] == value


def test_eight_p_of_a_booklet_are_no_type() -> None:
    assert "text.minimum_size" not in drafted("Umfang: 8 p")


def test_a_demand_after_an_example_is_none_of_it() -> None:
    text = "Par exemple, un livre de 150 pages ne convient pas. Le nombre de pages doit être un multiple de 4."
    assert drafted(f"Préparer un livre\n\n{text}")["pages.multiple_of"] == 4


def test_a_sentence_about_the_ink_just_named_is_of_that_finish() -> None:
    named = "Der UV-Lack muss als Sonderfarbe „Lack“ angelegt werden."
    finish = {("'ink', 'Lack'"), ("'kind', 'varnish'")}
    with_it = str(extracted(f"{named} Diese Farbe muss auf „Überdrucken“ gestellt werden.")["finishes"])
    without = str(extracted(f"{named} Schwarzer Text muss auf Überdrucken stehen.")["finishes"])
    assert all(part in with_it and part in without for part in finish)
    assert "must_overprint" in with_it
    assert "must_overprint" not in without


def test_four_edges_have_the_least_of_them_as_what_every_side_has() -> None:
    sides = "innen 20 mm, außen 15 mm, oben 12 mm"
    assert "margin.minimum" not in extracted(f"Seitenränder: {sides}")
    assert extracted(f"Seitenränder: {sides}, unten 18 mm")["margin.minimum"] == 12


def test_lines_with_an_empty_line_after_each_go_on_with_a_small_letter() -> None:
    lines = (
        *("Bitte legen Sie alle Bilder und", "Flächen, die bis zum Rand", "reichen, mit einem Beschnitt von", "3 mm an."),
        *("Alle Schriften müssen", "in Pfade umgewandelt", "sein.", "Die Bilder müssen eine", "Auflösung von mindestens"),
        *("300 dpi haben und", "in CMYK angelegt", "sein."),
    )
    words = "\n\n".join(lines)
    read = extracted(words)
    assert read["fonts.outlines"] == "required"
    assert read["color.allowed"] == {"cmyk", "gray"}


def test_a_word_that_the_end_of_a_line_parts_is_one_word_and_a_word_with_a_hyphen_stays_two() -> None:
    assert extracted("Alle Schriften müssen in Pfa-\nde umgewandelt werden.") == {"fonts.outlines": "required"}
    assert extracted("Keine Schnitt-\nund Falzmarken anlegen.") == {"marks.crop_marks": "forbidden"}
    assert extracted("Artwork is full-\nbleed: add 3 mm bleed.") == {"bleed.minimum": 3}
