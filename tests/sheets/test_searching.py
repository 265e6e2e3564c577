"""Sheets found as people look: by words of three languages, by the name of a format, by size in any order and unit."""

from __future__ import annotations

import pytest

from service.sheets.catalogue import find, select
from service.sheets.searching import is_meant

CARD = {
    "id": "card", "title": "Business card, 85 × 55 mm", "product": "business-card", "names": ["Visitenkarte", "carte de visite"],
    "trim": {"width": "85 mm", "height": "55 mm", "alternatives": [{"width": "3.5 in", "height": "2 in"}]},
}


@pytest.mark.parametrize(
    "q",
    [
        "85x55", "55 x 85 mm", "8,5 × 5,5 cm", "8.5*5.5", "3.5 x 2", '2" x 3 1/2"', "card 85 × 55", "Visitenkarten",
        "CARTES de visite", "3.35 x 2.17 in", "business cards",
    ],
)
def test_what_means_the_card(q: str) -> None:
    assert is_meant(CARD, q)


@pytest.mark.parametrize("q", ["85 x 54", "85 x 55 in", "8.5 x 5.5 in", "poster", "card 90 x 50", "a7"])
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
