"""Plates of foil, varnish and cutting lines."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import SpotUse
from service.pdf.facts.painted.content import HiddenContent
from service.pdf.facts.plates import FinishingPlate, InkCoverage
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import ColorAsked, Finish, SpecSheet, SpotsAsked
from tests.facts import fact
from tests.rules.measured import (
    color,
    content,
    document,
    ink_map,
    judged,
    only_finding,
    outcome,
    page,
    picture,
    plates,
    without_content,
)

INSIDE, SLUG = Box(10, 10, 40, 14), Box(10, -9, 40, -5)
FOIL = Finish(ink="Gold Foil", must_overprint=True, artwork="vector", required=True)
SHEET = SpecSheet(finishes=(FOIL,))
SOLID = fact(SpotUse, "Gold Foil", "fill", 1.0, 1.0, alone=True, overprints=True, count=2, boxes_mm=(INSIDE,))


def finished(*uses: SpotUse) -> Measurements:
    return document(page(), page(content=replace(content(), spots=uses)))


def faults(measurements: Measurements, sheet: SpecSheet = SHEET) -> list[Any]:
    return [one.finding.measured["fault"] for one in judged("finish.plate", measurements, sheet)[1]]


def test_a_solid_vector_that_overprints_is_right() -> None:
    assert faults(finished(SOLID, replace(SOLID, ink="GOLD foil", kind="stroke"))) == []


@pytest.mark.parametrize(
    ("use", "expected"),
    [
        (replace(SOLID, tint_least=0.3), ["tinted"]),
        (replace(SOLID, tint_least=0.99), []),
        (replace(SOLID, tint_least=0.989), ["tinted"]),
        (replace(SOLID, kind="image", tint_least=0.0), ["raster"]),
        (replace(SOLID, kind="shading", tint_least=0.0), ["tinted"]),
        (replace(SOLID, overprints=False), ["knocks out"]),
        (replace(SOLID, kind="image", tint_least=0.0, overprints=False), ["raster", "knocks out"]),
    ],
)
def test_what_a_finish_cannot_be(use: SpotUse, expected: list[str]) -> None:
    assert faults(finished(SOLID, use)) == expected


def test_what_a_picture_and_a_knock_out_are_asked_to_be() -> None:
    wrong = replace(SOLID, kind="image", tint_least=0.0, overprints=False)
    _, findings = judged("finish.plate", finished(wrong), SHEET)
    assert [one.finding.required for one in findings] == [{"artwork": "vector"}, {"overprint": True}]


def test_only_what_lies_on_the_page_or_its_bleed_counts() -> None:
    tinted = replace(SOLID, tint_least=0.3, count=1)
    assert faults(finished(SOLID, tinted)) == ["tinted"]
    assert faults(finished(SOLID, replace(tinted, boxes_mm=(SLUG,)))) == []
    crowd = replace(tinted, boxes_mm=(SLUG,), count=80)  # of many, only the first places are kept: the others may lie anywhere
    assert faults(finished(SOLID, crowd)) == ["tinted"]


def test_a_tint_is_told_with_its_place() -> None:
    finding = only_finding("finish.plate", finished(replace(SOLID, tint_least=0.3)), SHEET).finding
    assert "100 %" in finding.remedy
    assert finding.measured == {"fault": "tinted", "ink": "Gold Foil", "tint_percent": 30}
    assert (finding.required, finding.pages, [place.box_mm for place in finding.places]) == (
        {"tint_percent": 100},
        (2,),
        [INSIDE],
    )


@pytest.mark.parametrize("uses", [(), (replace(SOLID, ink="Silver Foil"),), (replace(SOLID, boxes_mm=(SLUG,), count=1),)])
def test_a_plate_that_is_missing(uses: tuple[SpotUse, ...]) -> None:
    """A swatch in the slug makes no plate."""
    finding = only_finding("finish.plate", finished(*uses), SHEET).finding
    assert (finding.measured, finding.pages) == ({"fault": "missing", "ink": None}, ())
    assert "switched off" not in finding.message
    assert "of exactly this name" in finding.remedy


def test_a_sheet_that_asks_less_finds_less() -> None:
    easy = SpecSheet(finishes=(Finish(ink="Gold Foil"),))
    assert faults(finished(), easy) == []
    assert faults(finished(replace(SOLID, kind="image", tint_least=0.0, overprints=False)), easy) == []
    assert faults(finished(replace(SOLID, tint_least=0.5)), easy) == ["tinted"]


def test_each_finish_has_its_own_level_and_note() -> None:
    varnish = Finish(ink="Varnish", required=True, level="should", note="We can make this plate for you.")
    sheet = SpecSheet(finishes=(replace(FOIL, note="The die is cut from it."), varnish))
    _, findings = judged("finish.plate", finished(), sheet)
    assert [(one.level, one.note) for one in findings] == [
        ("must", "The die is cut from it."),
        ("should", "We can make this plate for you."),
    ]
    assert judged("finish.plate", finished(), SpecSheet(finishes=(varnish,)))[0].level == "should"


def test_a_plate_is_not_missing_while_a_page_was_not_seen() -> None:
    measured = document(page(), without_content(page()))
    assert outcome("finish.plate", measured, SHEET) == "not_measured"
    assert outcome("finish.plate", finished(), SpecSheet()) == "not_applicable"


# --- What the plates add ---


def plated(
    *uses: SpotUse, empty: bool = False, tints: tuple[Box, ...] = (), percent: float = 20.0, kind: str = "contone"
) -> Page:
    """A page in cyan with a varnish all over it, whose picture fills the place of the finish."""
    image, everywhere = replace(picture(), visible_box_mm=INSIDE, kind=kind), ink_map(Box(-3, -3, 88, 58))
    varnish = fact(FinishingPlate, "Varnish", everywhere, None, ())
    foil = fact(FinishingPlate, uses[0].ink, everywhere, percent if tints else None, tints)
    cover = fact(InkCoverage, uses[0].ink, 0.0 if empty else 5.0, empty)
    inks = (fact(InkCoverage, "Cyan", 100.0, empty=False), fact(InkCoverage, "Magenta", 0.0, empty=True), cover)
    made = plates(inks=inks, left_out=("Varnish", "Gold Foil"), finishing=(varnish, foil))
    return page(content=replace(content(images=(image,)), spots=uses), plates=made)


def test_a_finish_that_is_knocked_out_everywhere_is_missing() -> None:
    covered = document(plated(SOLID, empty=True))
    finding = only_finding("finish.plate", covered, SHEET).finding
    assert (finding.measured, finding.pages) == ({"fault": "missing", "ink": "Gold Foil"}, (1,))
    assert [place.box_mm for place in finding.places] == [INSIDE]
    assert "Bring the finish to the front" in finding.remedy
    assert faults(document(plated(SOLID, empty=True), plated(SOLID))) == []
    assert faults(covered, SpecSheet(finishes=(replace(FOIL, required=False),))) == []


def test_the_next_finish_is_looked_at_after_one_that_is_missing() -> None:
    varnish = Finish(ink="Varnish")
    tinted = fact(SpotUse, "Varnish", "fill", 0.4, 0.4, alone=True, overprints=True, count=1, boxes_mm=(INSIDE,))
    both = document(plated(SOLID, tinted, empty=True))
    assert faults(both, SpecSheet(finishes=(FOIL, varnish))) == ["missing", "tinted"]


def test_an_empty_required_plate_is_told_once() -> None:
    covered = document(plated(SOLID, empty=True))
    assert outcome("ink.empty-plate", covered, SHEET) == "met"
    assert outcome("ink.empty-plate", covered, replace(SHEET, levels={"finish.plate": "off"})) == "not_met"
    assert outcome("ink.empty-plate", covered, SpecSheet(finishes=(replace(FOIL, required=False),))) == "not_met"


def test_a_plate_that_may_print_on_a_page_that_was_not_seen_is_not_missing() -> None:
    assert faults(document(plated(SOLID, empty=True), without_content(page()))) == []
    assert faults(document(plated(SOLID, empty=True), replace(plated(SOLID), plates=Unmeasured("too large")))) == []


PICTURES_TOO = SpecSheet(finishes=(Finish(ink="Gold Foil"),))
DRAWN = replace(SOLID, kind="image", tint_least=0.0)


def test_a_picture_that_leaves_tints_in_the_plate() -> None:
    tint = Box(12, 11, 20, 13)
    finding = only_finding("finish.plate", document(page(), plated(DRAWN, tints=(tint,))), PICTURES_TOO).finding
    assert finding.measured == {"fault": "tinted", "ink": "Gold Foil", "tint_percent": 20}
    assert finding.required == {"tint_percent": 100}
    assert (finding.pages, [place.box_mm for place in finding.places]) == ((2,), [tint])
    assert faults(document(plated(DRAWN, tints=(tint,)))) == ["raster"]


def test_tints_of_pictures_are_told_once_with_the_lightest_and_the_first_spelling() -> None:
    spellings, tint = (("Gold Foil", 35), ("GOLD foil", 30), ("gold-foil", 60)), (Box(12, 11, 20, 13),)
    pages = [plated(replace(DRAWN, ink=ink), tints=tint, percent=percent) for ink, percent in spellings]
    finding = only_finding("finish.plate", document(*pages), PICTURES_TOO).finding
    assert finding.measured == {"fault": "tinted", "ink": "Gold Foil", "tint_percent": 30}
    assert finding.pages == (1, 2, 3)


def test_pictures_are_looked_at_behind_drawn_lines_and_not_told_beside_drawn_tints() -> None:
    tint = (Box(12, 11, 20, 13),)
    assert faults(document(plated(SOLID, DRAWN, tints=tint)), PICTURES_TOO) == ["tinted"]
    drawn = replace(SOLID, tint_least=0.5)
    finding = only_finding("finish.plate", document(plated(drawn, DRAWN, tints=tint)), PICTURES_TOO).finding
    assert finding.measured["tint_percent"] == 50


@pytest.mark.parametrize(
    "right",
    [
        plated(DRAWN),
        plated(DRAWN, tints=(Box(60, 40, 70, 50),)),
        plated(DRAWN, tints=(Box(12, 11, 20, 13),), kind="bilevel"),
        plated(SOLID, tints=(Box(12, 11, 20, 13),)),
    ],
    ids=["solid", "elsewhere", "of one bit", "vectors"],
)
def test_what_only_looks_like_tints_of_a_picture(right: Page) -> None:
    assert outcome("finish.plate", document(right), PICTURES_TOO) == "met"


def test_tints_of_a_picture_are_not_known_without_its_plate() -> None:
    unseen = replace(plated(DRAWN), plates=Unmeasured("The page is too large."))
    assert judged("finish.plate", document(unseen), PICTURES_TOO)[0].reason == (
        "Page 1: whether pictures leave tints in ‘Gold Foil’ is not known. The page is too large."
    )
    assert outcome("finish.plate", document(replace(plated(DRAWN), plates=plates())), PICTURES_TOO) == "not_measured"
    assert outcome("finish.plate", document(replace(plated(SOLID), plates=Unmeasured("too large"))), PICTURES_TOO) == "met"


def test_a_finish_on_a_switched_off_layer_is_missing_and_the_layer_is_named() -> None:
    off = fact(HiddenContent, False, False, "Die line", 1, (INSIDE,))
    printed = replace(off, prints=True, layer="Guides")
    one = document(page(content=replace(content(), hidden=(off, printed))))
    message = only_finding("finish.plate", one, SHEET).finding.message
    assert "Die line" in message
    assert "Guides" not in message


# --- Several names ------------------------------------------------------------------------------------------------------


def test_a_finish_may_have_any_of_the_names_that_the_sheet_lists() -> None:
    cut = SpecSheet(finishes=(replace(FOIL, ink="Cutting", also=("Die line", "Stanze")),))
    assert faults(finished(replace(SOLID, ink="die-line")), cut) == []
    assert faults(finished(replace(SOLID, ink="Stanze", overprints=False)), cut) == ["knocks out"]
    assert faults(finished(SOLID), cut) == ["missing"]


def test_other_names_of_a_finish_are_no_printing_inks() -> None:
    sheet = SpecSheet(color=ColorAsked(spots=SpotsAsked(maximum=0)), finishes=(replace(FOIL, ink="Cutting", also=("Stanze",)),))
    one = replace(color("spot", "fill", inks=("Stanze",)), boxes_mm=(INSIDE,))
    other = replace(one, inks=("Stanzung",))
    assert outcome("color.spots", document(page(content=replace(content(), colors=(one,)))), sheet) == "met"
    assert outcome("color.spots", document(page(content=replace(content(), colors=(other,)))), sheet) == "not_met"
