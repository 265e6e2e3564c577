"""How much ink stacks up."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.plates import HeavyInk, InkCoverage
from service.pdf.facts.unknown import NotAsked, Unmeasured
from service.sheets.model import ColorAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, picture, plates

LIMIT = SpecSheet(color=ColorAsked(ink_limit_percent=300))
NO_PLATES = Unmeasured("Separations were not made.")
CORNER, MIDDLE = Box(1, 1, 9, 9), Box(30, 20, 50, 40)


def areas(**at_least: float) -> tuple[float, ...]:
    """`areas(p320=40)`: 40 mm² carry at least 320 %, and nothing more than that."""
    steps = sorted((int(name[1:]), area) for name, area in at_least.items())
    return tuple(next(area for percent, area in steps if percent >= at) for at in range(steps[-1][0] + 1))


def inked(most: float, **at_least: float) -> Page:
    return page(ink_max_percent=most, plates=plates(ink_area_mm2=areas(**at_least), ink_max_box_mm=MIDDLE))


def test_more_ink_than_the_limit_over_more_than_a_small_area() -> None:
    found = only_finding("ink.total", document(inked(350, p300=500, p350=128)), LIMIT)
    assert (found.level, found.finding.pages) == ("must", (1,))
    assert found.finding.measured == {"ink_max_percent": 350, "area_mm2": 128}
    assert found.finding.required == {"maximum_percent": 300, "area_mm2": 15}
    assert [place.box_mm for place in found.finding.places] == [MIDDLE]


@pytest.mark.parametrize(
    ("percent", "expected"), [(300, "met"), (301, "met"), (302, "not_met"), (303, "not_met")],
)
def test_half_a_percent_of_the_limit_is_slack(percent: int, expected: str) -> None:
    assert outcome("ink.total", document(inked(percent, **{f"p{percent}": 100})), LIMIT) == expected


@pytest.mark.parametrize(("inks", "expected"), [(4, "not_met"), (6, "met")])
def test_each_ink_may_be_rounded_up_by_half_a_step(inks: int, expected: str) -> None:
    """Of 255: 0.2 % an ink, so 0.8 % of four and 1.2 % of six, beyond the half percent of a limit of 100 %."""
    used = tuple(InkCoverage(f"Ink {at}", 20.0, empty=False) for at in range(inks))
    one = page(ink_max_percent=101.2, plates=plates(ink_area_mm2=areas(p101=100), ink_max_box_mm=MIDDLE, inks=used))
    assert outcome("ink.total", document(one), SpecSheet(color=ColorAsked(ink_limit_percent=100))) == expected
    finishing = replace(one, plates=plates(ink_area_mm2=areas(p101=100), inks=used, left_out=("Ink 0", "Ink 1")))
    assert outcome("ink.total", document(finishing), SpecSheet(color=ColorAsked(ink_limit_percent=100))) == "not_met"


@pytest.mark.parametrize(("area", "allowed", "expected"), [
    (15, 15, "met"), (15.5, 15, "not_met"), (40, 50, "met"), (0.9, 0, "met"), (1.1, 0, "not_met"),
])
def test_a_small_area_over_the_limit_passes(area: float, allowed: float, expected: str) -> None:
    sheet = SpecSheet(color=ColorAsked(ink_limit_percent=300, ink_area_mm2=allowed))
    assert outcome("ink.total", document(inked(350, p350=area)), sheet) == expected


def test_several_pages_are_one_finding_that_names_the_worst() -> None:
    found = only_finding("ink.total", document(inked(320, p320=20), inked(280, p280=900), inked(390, p390=75)), LIMIT).finding
    assert found.pages == (1, 3)
    assert found.measured == {"ink_max_percent": 390, "area_mm2": 75}
    assert "On page 3, the worst" in found.message


def test_places_are_those_of_the_limit_or_of_the_next_higher_one_that_measuring_was_asked_about() -> None:
    one = inked(350, p350=128)
    assert not isinstance(one.plates, Unmeasured)
    higher, lower = fact(HeavyInk, 340, (CORNER,)), fact(HeavyInk, 280, (Box(0, 0, 85, 55),))
    for percent in (320, 300):
        known = (higher, fact(HeavyInk, percent, (CORNER, MIDDLE)), lower)
        asked_apart = replace(one, plates=replace(one.plates, heavy_ink=known))
        found = only_finding("ink.total", document(asked_apart), LIMIT).finding
        assert [place.box_mm for place in found.places] == [CORNER, MIDDLE]


def test_the_most_ink_is_told_where_it_is_known() -> None:
    known, unknown = inked(350.4, p350=128), replace(inked(0, p350=100), ink_max_percent=Unmeasured("not looked at"))
    finding = only_finding("ink.total", document(known, unknown), LIMIT).finding
    assert finding.measured["ink_max_percent"] == 350.4
    assert "reaches 350 %" in finding.message
    alone = only_finding("ink.total", document(unknown), LIMIT).finding
    assert alone.measured["ink_max_percent"] == 300
    assert "reach" not in alone.message


def test_ink_in_total_that_is_not_known_or_not_asked_about() -> None:
    heavy = document(inked(390, p390=900), page(plates=NO_PLATES))
    assert judged("ink.total", heavy, LIMIT)[0].reason == "Page 2: Separations were not made."
    assert outcome("ink.total", document(page(plates=NO_PLATES)), LIMIT) == "not_measured"
    assert outcome("ink.total", heavy, SpecSheet(color=ColorAsked(allowed=("cmyk",)))) == "not_applicable"
    assert outcome("ink.total", document(page()), LIMIT) == "met"


# --- What helps against too much ink ---


@pytest.mark.parametrize(
    ("at", "helps"),
    [
        (MIDDLE, {"pictures"}),
        (CORNER, {"blacks"}),
    ],
)
def test_the_remedy_speaks_of_what_lies_in_the_heavy_place(at: Box, helps: set[str]) -> None:
    image = replace(picture(), box_mm=at, visible_box_mm=at)
    heavy = replace(inked(350, p350=128), content=content(images=(image,)))
    remedy = only_finding("ink.total", document(heavy), LIMIT).finding.remedy
    assert {word for word in ("pictures", "blacks", "registration") if word in remedy} == helps


def test_registration_colour_is_told_by_its_own_rule() -> None:
    everywhere = replace(inked(400, p400=128), content=content(colors=(color("registration", "fill", box=MIDDLE),)))
    assert outcome("ink.total", document(everywhere), LIMIT) == "met"
    alone = replace(LIMIT, levels={"color.registration": "off"})
    assert "registration" in only_finding("ink.total", document(everywhere), alone).finding.remedy
    elsewhere = replace(everywhere, content=content(colors=(color("registration", "fill", box=CORNER),)))
    assert outcome("ink.total", document(elsewhere), LIMIT) == "not_met"


def test_of_a_page_whose_content_is_unknown_all_that_may_help_is_said() -> None:
    heavy = replace(inked(350, p350=128), content=Unmeasured("its content stops early"))
    remedy = only_finding("ink.total", document(heavy), LIMIT).finding.remedy
    assert "pictures" in remedy
    assert "blacks" in remedy


RGB_THERE, BLACK_THERE = color("rgb", "image", box=MIDDLE), color("cmyk", "fill", inks=("Cyan", "Black"), box=MIDDLE)


@pytest.mark.parametrize(("uses", "expected"), [
    ((RGB_THERE,), "met"), ((RGB_THERE, BLACK_THERE), "met"), ((BLACK_THERE,), "not_met"),
    ((color("rgb", "image", box=CORNER), BLACK_THERE), "not_met"),
])
def test_ink_that_we_converted_rgb_to_is_an_estimate_and_accuses_nobody(uses: tuple[ColorUse, ...], expected: str) -> None:
    """The heavy place is in the middle; an RGB picture in the corner excuses nothing there."""
    one = inked(375, p375=100)
    assert not isinstance(one.plates, Unmeasured)
    seen = replace(one, content=content(colors=uses), plates=replace(one.plates, converted=True))
    assert outcome("ink.total", document(seen), LIMIT) == expected


@pytest.mark.parametrize(
    ("content_seen", "changes", "expected"),
    [
        (Unmeasured("its content stops early"), {"converted": True}, "met"),
        (content(colors=(RGB_THERE,)), {"converted": True, "ink_max_box_mm": None}, "not_met"),
        (content(colors=(RGB_THERE,)), {"converted": True, "heavy_ink": (fact(HeavyInk, 300, (CORNER, MIDDLE)),)}, "not_met"),
    ],
    ids=["nobody saw where", "the heavy place is not known", "one of two heavy places is CMYK"],
)
def test_what_excuses_too_much_ink_of_ours(content_seen: Any, changes: dict[str, Any], expected: str) -> None:
    one = inked(375, p375=100)
    assert not isinstance(one.plates, Unmeasured)
    seen = replace(one, content=content_seen, plates=replace(one.plates, **changes))
    rule, findings = judged("ink.total", document(seen), LIMIT)
    assert rule.outcome == expected
    assert all(place.box_mm for found in findings for place in found.finding.places)


# --- Preferred ----------------------------------------------------------------------------------------------------------

WISHING = SpecSheet(color=ColorAsked(ink_limit_percent=300, ink_preferred_percent=280))


@pytest.mark.parametrize(("most", "level"), [(280, None), (281, None), (282, "should"), (300, "should"), (302, "must")])
def test_more_ink_than_preferred_is_an_observation(most: int, level: str | None) -> None:
    _, findings = judged("ink.total", document(inked(most, **{f"p{most}": 100})), WISHING)
    assert [one.level for one in findings] == ([level] if level else [])


def test_pages_over_the_limit_are_told_once_and_those_over_the_wish_apart() -> None:
    _, findings = judged("ink.total", document(inked(340, p340=100), inked(290, p290=60)), WISHING)
    assert [(one.level, one.finding.pages, one.finding.required) for one in findings] == [
        ("must", (1,), {"maximum_percent": 300, "area_mm2": 15}),
        ("should", (2,), {"preferred_percent": 280, "area_mm2": 15}),
    ]


# --- Pages of plain ink, without plates ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("limit", "expected"), [(180, "met"), (179, "not_measured")])
def test_plain_colors_tell_where_they_allow_for_no_more_than_the_limit(limit: float, expected: str) -> None:
    unasked = NotAsked("Not asked.")
    plain = page(content=replace(content(), plain_ink_percent=180.0), plates=unasked, ink_max_percent=unasked)
    rule, findings = judged("ink.total", document(plain), SpecSheet(color=ColorAsked(ink_limit_percent=limit)))
    assert (rule.outcome, findings) == (expected, ())
    wishing = SpecSheet(color=ColorAsked(ink_limit_percent=300, ink_preferred_percent=limit))
    assert outcome("ink.total", document(plain), wishing) == expected
    assert outcome("ink.total", document(plain, inked(350, p350=128)), LIMIT) == "not_met"


@pytest.mark.parametrize("rule", ["pages.blank", "ink.empty-plate"])
def test_ink_shows_on_plain_pages(rule: str) -> None:
    plain = page(content=replace(content(), plain_ink_percent=100.0), plates=NotAsked("Not asked."))
    assert outcome(rule, document(plain), SpecSheet()) == "met"
