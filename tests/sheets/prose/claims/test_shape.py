"""Single edges, frames, scales, corners and finishes: in three languages, with what only sounds like them."""

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
    ("text", "margin"),
    [
        ("Safety margin 5 mm, at the binding edge 12 mm.", {"minimum": "5 mm", "binding": "12 mm"}),
        ("Margins: at least 5 mm, gutter 15 mm", {"minimum": "5 mm", "binding": "15 mm"}),
        ("Safety margin 5 mm; head margin 10 mm, foot margin 12 mm.", {"minimum": "5 mm", "head": "10 mm", "foot": "12 mm"}),
        ("Keep text 5 mm from the trim. Keep text 8 mm from the trim at the top.", {"minimum": "5 mm", "head": "8 mm"}),
        ("Sicherheitsabstand 5 mm, im Bund 12 mm", {"minimum": "5 mm", "binding": "12 mm"}),
        ("Sicherheitsabstand 5 mm. Bundsteg: 15 mm", {"minimum": "5 mm", "binding": "15 mm"}),
        ("Sicherheitsabstand: 5 mm, oben 10 mm, unten 12 mm", {"minimum": "5 mm", "head": "10 mm", "foot": "12 mm"}),
        ("Marge de sécurité : 5 mm, côté reliure 12 mm", {"minimum": "5 mm", "binding": "12 mm"}),
        ("Marge de sécurité de 5 mm, en tête 10 mm, en pied 12 mm", {"minimum": "5 mm", "head": "10 mm", "foot": "12 mm"}),
    ],
)
def test_the_margin_of_one_edge(text: str, margin: dict[str, str]) -> None:
    assert draft(text) == {"margin": margin}


@pytest.mark.parametrize(
    ("text", "bleed"),
    [
        ("Bleed 3 mm, at the foot 5 mm", {"minimum": "3 mm", "foot": "5 mm"}),
        ("Bleed 3 mm. No bleed at the binding edge.", {"minimum": "3 mm", "binding": "0 mm"}),
        ("Beschnitt 3 mm, unten 5 mm", {"minimum": "3 mm", "foot": "5 mm"}),
        ("Beschnitt 3 mm, kein Beschnitt im Bund", {"minimum": "3 mm", "binding": "0 mm"}),
        ("Fond perdu de 3 mm, en pied 5 mm", {"minimum": "3 mm", "foot": "5 mm"}),
        ("Fonds perdus : 3 mm, pas de fond perdu au dos", {"minimum": "3 mm", "binding": "0 mm"}),
        ("Bleed of 3 mm at the head, foot and fore-edge", {"minimum": "3 mm"}),
        ("Bleed: 3 mm top, bottom, left and right", {"minimum": "3 mm"}),
    ],
)
def test_the_bleed_of_one_edge(text: str, bleed: dict[str, str]) -> None:
    assert draft(text) == {"bleed": bleed}


@pytest.mark.parametrize(
    "text",
    [
        "The gutter takes up 6 mm of the picture.",
        "Spine width 8 mm.",
        "Holes 12 mm from the binding edge.",
        "Bleed is cut off at the top of the page.",
        "Wie oben beschrieben: 3 mm Leim am Bund.",
        "Le dos mesure 8 mm.",
    ],
)
def test_other_lengths_at_an_edge_ask_for_nothing(text: str) -> None:
    assert not {"binding", "outer", "head", "foot"} & {*draft(text).get("margin", {}), *draft(text).get("bleed", {})}


def test_the_margin_of_one_edge_alone_is_asked_about() -> None:
    reading = read_prose("Gutter margin 15 mm.")
    assert reading.draft == {}
    assert "margin.binding" in asked_about(reading)


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Margin 5 mm. Gutter margin 10 mm, from 151 pages 13 mm, over 300 pages 16 mm.", [(151, "13 mm"), (301, "16 mm")]),
        ("Sicherheitsabstand 5 mm. Bundsteg 10 mm, ab 151 Seiten 13 mm, ab 301 Seiten 16 mm.", [(151, "13 mm"), (301, "16 mm")]),
        (
            "Marge 5 mm. Marge de reliure 10 mm, à partir de 151 pages 13 mm, plus de 300 pages 16 mm.",
            [(151, "13 mm"), (301, "16 mm")],
        ),
    ],
)
def test_margins_that_grow_with_the_count_of_pages(text: str, steps: list[tuple[int, str]]) -> None:
    margin = draft(text)["margin"]
    assert (margin["minimum"], margin["binding"]) == ("5 mm", "10 mm")
    assert margin["by_pages"] == [{"from": pages, "binding": depth} for pages, depth in steps]


@pytest.mark.parametrize(
    ("text", "preferred"),
    [
        ("Safety margin at least 3 mm, 5 mm recommended.", "5 mm"),
        ("Sicherheitsabstand mindestens 3 mm, besser 5 mm", "5 mm"),
        ("Marge de sécurité : 3 mm minimum, 5 mm conseillés", "5 mm"),
        ("Safety margin at least 3 mm, 2 mm recommended.", None),
    ],
)
def test_a_margin_that_looks_right_stands_beside_the_least(text: str, preferred: str | None) -> None:
    margin = draft(text)["margin"]
    assert (margin["minimum"], margin.get("preferred"), margin.get("level")) == ("3 mm", preferred, None)


@pytest.mark.parametrize(
    "text",
    [
        "Bleed at least 3 mm, 5 mm recommended",
        "Beschnitt mindestens 3 mm, besser 5 mm",
        "Fonds perdus : 3 mm minimum, 5 mm conseillés",
    ],
)
def test_a_bleed_that_is_safer_stands_beside_the_least(text: str) -> None:
    assert draft(text) == {"bleed": {"minimum": "3 mm", "preferred": "5 mm"}}


@pytest.mark.parametrize(
    ("text", "margin"),
    [
        ("Safety margin 4 mm. No borders around the page.", {"minimum": "4 mm", "frames": "forbidden"}),
        ("Safety margin 4 mm. Borders must stand at least 6 mm inside the trim.", {"minimum": "4 mm", "frame_minimum": "6 mm"}),
        ("Sicherheitsabstand 4 mm. Keine Rahmen am Rand.", {"minimum": "4 mm", "frames": "forbidden"}),
        ("Sicherheitsabstand 4 mm. Rahmen mindestens 6 mm vom Rand entfernt.", {"minimum": "4 mm", "frame_minimum": "6 mm"}),
        ("Marge de sécurité 4 mm. Pas de cadre autour de la page.", {"minimum": "4 mm", "frames": "forbidden"}),
        ("Marge de sécurité 4 mm. Cadres à 6 mm du bord au moins.", {"minimum": "4 mm", "frame_minimum": "6 mm"}),
        ("Safety margin 4 mm. White borders are fine.", {"minimum": "4 mm"}),
        ("Safety margin 4 mm. No white border is left.", {"minimum": "4 mm"}),
    ],
)
def test_frames(text: str, margin: dict[str, str]) -> None:
    assert draft(text) == {"margin": margin}


@pytest.mark.parametrize(
    ("text", "scales"),
    [
        ("Trim size 2000 × 1000 mm. Artwork at a scale of 1:10.", [10]),
        ("Trim size 2000 × 1000 mm. Files at scale 1:1 or 1:10.", [1, 10]),
        ("Endformat 2000 × 1000 mm. Daten im Maßstab 1:10 anlegen.", [10]),
        ("Format fini 2000 × 1000 mm. Fichiers à l'échelle 1/10.", [10]),
        ("Trim size 2000 × 1000 mm. Scale 1:1.", None),
        ("Trim size 2000 × 1000 mm. If the banner is longer than 5 m, use a scale of 1:10.", None),
        ("Endformat 2000 × 1000 mm. Ab 5 m Länge bitte im Maßstab 1:10 anlegen.", None),
        ("Format fini 2000 × 1000 mm. Pour les grands formats, échelle 1/10.", None),
        ("Trim size 2000 × 1000 mm. Images 100 dpi at scale 1:1, 1000 dpi at 1:10.", None),
        ("Trim size 2000 × 1000 mm. Do not use a scale of 1:2.", None),
        ("Trim size 2000 × 1000 mm. Add 1/8 in of bleed.", None),
    ],
)
def test_scales_at_which_a_file_may_be_drawn(text: str, scales: list[int] | None) -> None:
    assert draft(text)["trim"].get("scales") == scales


def test_a_scale_without_a_size_is_asked_about() -> None:
    assert "trim.scales" in asked_about(read_prose("Artwork at a scale of 1:10."))


@pytest.mark.parametrize(
    ("text", "radius"),
    [
        ("Trim size 85 × 55 mm, rounded corners: radius 3 mm", "3 mm"),
        ("Endformat 85 × 55 mm. Eckenradius 3 mm", "3 mm"),
        ("Format fini 85 × 55 mm. Coins arrondis, rayon 3 mm", "3 mm"),
        ("Trim size 85 × 55 mm. Corner marks 3 mm from the trim.", None),
    ],
)
def test_rounded_corners(text: str, radius: str | None) -> None:
    assert draft(text)["trim"].get("corner_radius") == radius


@pytest.mark.parametrize(
    ("text", "finish"),
    [
        (
            "Draw the die line as a vector path in a spot colour called “CutLine”, set to overprint.",
            {"ink": "CutLine", "kind": "cut", "must_overprint": True, "artwork": "vector"},
        ),
        ("Creases: spot colour 'Fold'", {"ink": "Fold", "kind": "crease"}),
        ("White ink stands in a spot colour named White.", {"ink": "White", "kind": "white"}),
        (
            "Stanzkontur als Sonderfarbe „Stanze“, auf Überdrucken gestellt",
            {"ink": "Stanze", "kind": "cut", "must_overprint": True},
        ),
        ("Partieller Lack als Volltonfarbe „Lack“", {"ink": "Lack", "kind": "varnish"}),
        ("Perforation in einer Sonderfarbe mit dem Namen Perfo", {"ink": "Perfo", "kind": "perforation"}),
        (
            "Tracé de découpe en ton direct « Decoupe », en surimpression",
            {"ink": "Decoupe", "kind": "cut", "must_overprint": True},
        ),
        ("Vernis en ton direct nommé Vernis", {"ink": "Vernis", "kind": "varnish"}),
        ("Name the die-cut spot colour 'Cut' or 'Die'.", {"ink": "Cut", "kind": "cut", "also": ["Die"]}),
    ],
)
def test_a_finish_by_the_name_of_its_ink(text: str, finish: dict[str, Any]) -> None:
    assert draft(text)["finishes"] == [finish]


def test_each_finish_has_its_own_ink() -> None:
    read = draft("The cut line is a spot colour “Cut”, the crease is a spot colour “Fold”.")
    assert read["finishes"] == [{"ink": "Cut", "kind": "cut"}, {"ink": "Fold", "kind": "crease"}]


@pytest.mark.parametrize(
    "text",
    [
        "Draw the die line on a layer called 'Die'.",
        "Spot colours must have the name of the swatch book.",
        "The varnish “Silk” feels smooth.",
        "Die Sonderfarbe „Gold“ ist teurer.",
        "Le vernis « mat » est doux.",
        "Do not name the die-cut spot colour 'Cut'.",
    ],
)
def test_names_that_are_no_inks_of_finishes(text: str) -> None:
    assert "finishes" not in draft(text)
