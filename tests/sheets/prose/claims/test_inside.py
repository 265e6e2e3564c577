"""What a file must not hold, the boxes it is to have, and kinds of fonts: in three languages, with what only sounds like it."""

from __future__ import annotations

from typing import Any

import pytest

from tests.sheets.prose.grammar import read_prose


def draft(text: str) -> Any:
    return read_prose(text).draft


@pytest.mark.parametrize(
    "text",
    [
        "No layers.",
        "All layers must be flattened.",
        "Please merge all layers.",
        "Keine Ebenen in der Datei.",
        "Alle Ebenen müssen reduziert sein.",
        "Pas de calques.",
        "Les calques doivent être aplatis.",
    ],
)
def test_no_layers(text: str) -> None:
    assert draft(text) == {"file": {"layers": "forbidden"}}


@pytest.mark.parametrize(
    "text",
    [
        "No hidden layers.",
        "Put the die line on a separate layer.",
        "Layers may stay in the file.",
        "Do not flatten layers.",
        "Keine ausgeblendeten Ebenen.",
        "Ebenen sind erlaubt.",
        "Pas de calques masqués.",
        "If possible, no layers.",
    ],
)
def test_some_layers_or_a_wish_forbid_none(text: str) -> None:
    assert "layers" not in draft(text).get("file", {})


@pytest.mark.parametrize(
    "text",
    [
        "No comments, annotations or form fields.",
        "Do not leave annotations in the PDF.",
        "Keine Kommentare und Formularfelder.",
        "Pas de commentaires ni de champs de formulaire.",
    ],
)
def test_no_comments_and_forms(text: str) -> None:
    assert draft(f"{text}\n3 mm bleed")["levels"] == {"page.annotation": "must"}


@pytest.mark.parametrize(
    "text",
    [
        "No comments in the PDF.",
        "Write your wishes in the comments field of the order form.",
        "Keine Kommentare.",
        "Comments and form fields are allowed.",
        "Pas de commentaires.",
    ],
)
def test_comments_alone_forbid_no_links(text: str) -> None:
    assert "levels" not in draft(f"{text}\n3 mm bleed")


@pytest.mark.parametrize(
    "text",
    [
        "Composite PDF, no pre-separated files.",
        "Separated files are not accepted.",
        "Keine vorseparierten Daten.",
        "Pas de fichiers séparés.",
    ],
)
def test_composite_and_not_separated(text: str) -> None:
    assert draft(text) == {"file": {"separations": "forbidden"}}


@pytest.mark.parametrize(
    ("text", "screening"),
    [
        ("No halftone screens or transfer curves in the file.", "forbidden"),
        ("Keine Rastereinstellungen und keine Transferkurven.", "forbidden"),
        ("Pas de trames ni de courbes de transfert.", "forbidden"),
        ("No transfer curves.", None),
        ("Keine Transferkurven.", None),
        ("Send two separate PDFs for cover and text.", None),
    ],
)
def test_halftones_and_transfer_curves_are_one_key(text: str, screening: str | None) -> None:
    assert draft(text).get("file", {}).get("screening") == screening


@pytest.mark.parametrize(
    ("text", "rotation"),
    [
        ("Pages must not be rotated.", "forbidden"),
        ("No rotated pages.", "forbidden"),
        ("Die Seiten dürfen nicht gedreht sein.", "forbidden"),
        ("Les pages ne doivent pas être pivotées.", "forbidden"),
        ("We rotate pages where that saves paper.", None),
        ("Pages may be rotated.", None),
        ("Gedrehte Seiten sind kein Problem.", None),
    ],
)
def test_turned_pages(text: str, rotation: str | None) -> None:
    assert draft(text).get("pages", {}).get("rotation") == rotation


@pytest.mark.parametrize(
    ("text", "boxes"),
    [
        ("The TrimBox must be defined on every page.", ["trim"]),
        ("Trim and bleed boxes must be set.", ["trim", "bleed"]),
        ("TrimBox und BleedBox müssen korrekt definiert sein.", ["trim", "bleed"]),
        ("La TrimBox doit être définie.", ["trim"]),
        ("The TrimBox is the size of the finished page.", None),
        ("No CropBox is needed.", None),
        ("Cardboard boxes must be folded.", None),
    ],
)
def test_boxes_that_have_to_be_there(text: str, boxes: list[str] | None) -> None:
    assert draft(text).get("pages", {}).get("boxes") == boxes


@pytest.mark.parametrize(
    ("text", "jpeg"),
    [
        ("No JPEG compression.", "forbidden"),
        ("Keine JPEG-Komprimierung verwenden.", "forbidden"),
        ("Pas de compression JPEG.", "forbidden"),
        ("JPEG compression at maximum quality.", None),
        ("No heavy JPEG compression.", None),
        ("Keine starke JPEG-Komprimierung.", None),
        ("We take no JPEG files.", None),
    ],
)
def test_pictures_without_jpeg(text: str, jpeg: str | None) -> None:
    assert draft(text).get("images", {}).get("jpeg") == jpeg


def test_fast_web_view_is_to_be_off() -> None:
    assert draft("Switch off fast web view.") == {"file": {"linearized": "forbidden"}}
    assert draft("Optimise for fast web view if you like.") == {}


@pytest.mark.parametrize(
    "text",
    [
        "All fonts must be converted to outlines.",
        "Outline your fonts.",
        "Fonts outlined.",
        "Alle Schriften müssen in Pfade umgewandelt sein.",
        "Texte bitte vektorisieren.",
        "Les polices doivent être vectorisées.",
        "Textes vectorisés.",
    ],
)
def test_text_turned_to_outlines(text: str) -> None:
    assert draft(text) == {"fonts": {"outlines": "required"}}


@pytest.mark.parametrize(
    "text",
    [
        "Fonts embedded or outlined.",
        "Do not convert fonts to outlines.",
        "We recommend outlines for all fonts.",
        "Convert the fonts of your logo to outlines.",
        "Schriften einbetten oder in Pfade umwandeln.",
        "Schriften nicht in Pfade umwandeln.",
        "Polices incorporées ou vectorisées.",
        "Ne pas vectoriser les textes.",
        "Outlined text must be at least 0.5 pt thick.",
    ],
)
def test_outlines_among_others_are_not_required(text: str) -> None:
    assert "outlines" not in draft(text).get("fonts", {})


@pytest.mark.parametrize(
    ("text", "formats"),
    [
        ("No Type 3 fonts.", ["type-1", "truetype"]),
        ("Keine Type-3-Schriften.", ["type-1", "truetype"]),
        ("Pas de polices Type 3.", ["type-1", "truetype"]),
        ("Only OpenType and TrueType fonts.", ["type-1", "truetype"]),
        ("TrueType fonts are fine.", None),
        ("Type 1 of our papers is glossy.", None),
    ],
)
def test_kinds_of_fonts(text: str, formats: list[str] | None) -> None:
    assert draft(text).get("fonts", {}).get("formats") == formats
