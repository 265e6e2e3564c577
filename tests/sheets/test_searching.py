"""Sheets found as people look: by words of three languages, by the name of a format, by size in any order and unit."""

from __future__ import annotations

import pytest

from service.sheets.catalogue import find, select
from service.sheets.searching import is_meant

CARD = {
    "id": "card",
    "title": "Business card, 85 × 55 mm",
    "product": "business-card",
    "names": ["Visitenkarte", "carte de visite"],
    "trim": {"width": "85 mm", "height": "55 mm", "alternatives": [{"width": "3.5 in", "height": "2 in"}]},
}


@pytest.mark.parametrize(
    "q",
    [
        "85x55",
        "55 x 85 mm",
        "8,5 × 5,5 cm",
        "8.5*5.5",
        "3.5 x 2",
        '2" x 3 1/2"',
        "card 85 × 55",
        "Visitenkarten",
        "CARTES de visite",
        "3.35 x 2.17 in",
        "business cards",
        "3½ by 2 in",
        "visiting card",
        "55 mm card",
        "Karte mit 85 x 55",
        "Vereinsvisitenkarte",
    ],
)
def test_what_means_the_card(q: str) -> None:
    assert is_meant(CARD, q)


@pytest.mark.parametrize("q", ["85 x 54", "85 x 55 in", "8.5 x 5.5 in", "poster", "card 90 x 50", "a7", "54 mm", "91 x 61"])
def test_what_means_something_else(q: str) -> None:
    assert not is_meant(CARD, q)


def test_the_name_of_a_format_is_that_of_the_size() -> None:
    assert is_meant({"id": "x", "trim": {"width": "210 mm", "height": "148 mm"}}, ["DIN", "A5"][1])
    assert "flyer-a4" in {one["id"] for one in select(q="297 x 210 mm flyer")}


def test_titles_are_found_in_german_and_french_without_their_accents() -> None:
    assert "letterhead-a4" in {one["id"] for one in select(q="Briefbogen A4")}
    assert "letterhead-a4" in {one["id"] for one in select(q="papier à en-tete")} | {one["id"] for one in select(q="tete a4")}


def test_an_unknown_id_finds_nothing() -> None:
    assert find("no-such-sheet") is None


# --- As people look: what they type, and what must be among what is found ---------------------------------------------------

ASKED = {
    "name card 90x54": "business-card-90x54",
    "3 1/2 x 2 in": "business-card-us",
    "dl flyer 99x210": "leaflet-dl",
    "saddle stitched booklet a5": "booklet-a5-stapled",
    "perfect bound book cover 6x9": "book-us-6x9-cover",
    "trifold brochure": "leaflet-us-letter-roll-6",
    "tri-fold leaflet a4": "leaflet-dl-roll-6",
    "z-fold": "leaflet-dl-zigzag-6",
    "gate fold": "leaflet-dl-gate-8",
    "pull up banner": "roll-up-850x2000",
    "vinyl banner 3m x 1m": "banner-3000x1000",
    "round sticker 3 inch": "sticker-us-round-3",
    "sticker 60mm": "sticker-round-60",
    "#10 envelope": "envelope-no-10",
    "greeting card 5x7": "greeting-card-us-5x7",
    "ncr pad a5": "form-carbonless-a5",
    "credit card size": "membership-card-id-1",
    "Flyer DIN A6": "flyer-a6",
    "DIN lang Flyer": "leaflet-dl",
    "Zickzackfalz 6-seitig": "leaflet-dl-zigzag-6",
    "Altarfalz": "leaflet-dl-gate-8",
    "Briefumschlag C6/5 mit Fenster": "envelope-c6-c5-window",
    "Plakat 59,4 x 84,1 cm": "poster-a1",
    "Hochzeitseinladung": "greeting-card-a6",
    "Broschüre Rückendrahtheftung A5": "booklet-a5-stapled",
    "Speisekarte A4": "flyer-a4",
    "dépliant 3 volets": "leaflet-dl-roll-6",
    "depliant accordéon": "leaflet-dl-zigzag-6",
    "brochure piqûre à cheval": "booklet-a5-stapled",
    "carton d'invitation": "flyer-a6",
    "bâche 3 x 1 m": "banner-3000x1000",
    "enveloppe DL fenêtre": "envelope-dl-window",
    "tríptico": "leaflet-dl-roll-6",
    "folleto díptico A5": "leaflet-a5-half-4",
    "tarjeta de visita": "business-card-85x55",
    "216 x 303": "flyer-a4",
    "214 x 301": "flyer-a4",
    "91 x 61": "business-card-85x55",
    "3.75 x 2.25": "business-card-us",
    "8,75 x 11,25 in": "flyer-us-letter",
    "9x12 folder": "presentation-folder-us-9x12",
    "table tent 4x6": "table-tent-us-4x6",
    "CR80": "membership-card-id-1",
    "PVC card": "membership-card-id-1",
    "casebound book": "book-case-wrap",
    "couverture cartonnée": "book-case-wrap",
    "save the date 5x7": "invitation-us-5x7",
    "Maxi-Postkarte": "postcard-235x125",
}


@pytest.mark.parametrize("q", ASKED)
def test_what_people_type_finds_their_product(q: str) -> None:
    assert ASKED[q] in {one["id"] for one in select(q=q)}


def test_bleed_is_thought_of_only_where_a_size_is_that_of_no_product() -> None:
    """154 × 111 mm is A6 with 3 mm around it; 148 × 105 mm is A6, and not 142 × 99 mm with 3 mm."""
    assert {one["id"] for one in select(q="154 x 111", product="postcard")} == {"postcard-a6"}
    assert "postcard-a6" in {one["id"] for one in select(q="148 x 105")}
    assert "leaflet-dl" not in {one["id"] for one in select(q="105 x 216 in")}
