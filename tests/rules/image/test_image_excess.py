"""More pixels than the print can show."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.sheets.model import ImagesAsked, Resolution, SpecSheet
from tests.rules.image.pictured import ASKED, LIMITED, LINE_ART, SILENT, with_pictures
from tests.rules.measured import content, document, only_finding, outcome, page, picture, without_content


@pytest.mark.parametrize(
    ("ppi", "pixels", "expected"),
    [
        (450, (600, 600), "met"),
        (452, (600, 600), "met"),
        (453, (600, 600), "not_met"),
        (900, (500, 500), "not_met"),
        (900, (500, 499), "met"),
    ],
)
def test_more_pixels_than_print_can_show(ppi: float, pixels: tuple[int, int], expected: str) -> None:
    """450 ppi is the common limit, and a small picture is no burden."""
    assert outcome("image.excess", document(with_pictures(picture(ppi, pixels=pixels))), ASKED) == expected


def test_the_sheets_own_maximum_counts_for_small_pictures_too() -> None:
    found = only_finding("image.excess", document(with_pictures(picture(405, pixels=(100, 100)))), LIMITED)
    assert (found.level, found.finding.required) == ("should", {"maximum_ppi": 400})
    assert outcome("image.excess", document(with_pictures(picture(401, pixels=(100, 100)))), LIMITED) == "met"
    assert outcome("image.excess", document(with_pictures(picture(405, pixels=(63, 100)))), LIMITED) == "met"


def test_excess_is_a_remark_even_where_the_block_is_a_must() -> None:
    strict = SpecSheet(images=ImagesAsked(contone=Resolution(minimum_ppi=200), level="must"))
    assert only_finding("image.excess", document(with_pictures(picture(600, pixels=(900, 900)))), strict).level == "should"
    bounded = SpecSheet(images=ImagesAsked(contone=Resolution(maximum_ppi=400), level="must"))
    assert only_finding("image.excess", document(with_pictures(picture(600, pixels=(900, 900)))), bounded).level == "must"


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        (Resolution(minimum_ppi=200, preferred_ppi=300, maximum_ppi=400), "to 300 ppi"),
        (Resolution(minimum_ppi=200, maximum_ppi=400), "to 200 ppi"),
        (Resolution(maximum_ppi=400), "to 400 ppi"),
    ],
)
def test_pictures_are_to_be_reduced_to_what_the_printer_likes_best(asked: Resolution, wanted: str) -> None:
    sheet = SpecSheet(images=ImagesAsked(contone=asked))
    finding = only_finding("image.excess", document(with_pictures(picture(600), picture(900))), sheet).finding
    assert wanted in finding.remedy
    assert finding.measured == {"ppi": 900, "images": 2}


def test_a_picture_squeezed_to_a_line_is_no_burden() -> None:
    squeezed = replace(picture(), ppi_x=float("inf"), ppi_y=float("inf"))
    assert outcome("image.excess", document(with_pictures(squeezed)), LIMITED) == "met"


def test_line_art_may_have_far_more() -> None:
    art = picture(3600, pixels=(2000, 2000), kind="bilevel")
    assert outcome("image.excess", document(with_pictures(art)), LINE_ART) == "met"
    assert outcome("image.excess", document(with_pictures(replace(art, ppi_x=4000.0, ppi_y=4000.0))), LINE_ART) == "not_met"
    assert outcome("image.excess", document(with_pictures(replace(art, ppi_x=4000.0, ppi_y=4000.0))), ASKED) == "met"


def test_excess_that_is_not_asked_for_or_not_seen() -> None:
    assert outcome("image.excess", document(with_pictures(picture(2000))), SILENT) == "not_applicable"
    about_colour = SpecSheet(images=ImagesAsked())
    assert outcome("image.excess", document(with_pictures(picture(2000))), about_colour) == "not_applicable"
    assert outcome("image.excess", document(without_content(page())), ASKED) == "not_measured"


@pytest.mark.parametrize(("pictures", "up_to"), [(1, False), (2, True)])
def test_of_one_picture_nothing_is_up_to(pictures: int, up_to: bool) -> None:
    fine = content(images=tuple(picture(900, pixels=(2000, 1000)) for _ in range(pictures)))
    assert ("up to" in only_finding("image.excess", document(page(content=fine)), ASKED).finding.message) is up_to
