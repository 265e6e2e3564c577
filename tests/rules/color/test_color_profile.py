"""Embedded colour profiles against the printing condition."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.document import Profile
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import ColorAsked, FileAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, without_content
from tests.rules.print_files import INTENT, PRESS

CMYK_ONLY = SpecSheet(color=ColorAsked(allowed=("cmyk",)))
MONITOR = fact(Profile, "9 0", None, "mntr", "RGB", 3, 3, "2.1", "A monitor", "cd" * 32)


def picture_with(profile: Profile, *, intents: Any = (INTENT,), in_use: bool = True) -> Measurements:
    use = fact(ColorUse, "cmyk", "ICCBased (4 channels)", "image", (), 2, (Box(10, 10, 20, 20),), profile="9 0")
    one = page(content=content(colors=(use,) if in_use else ()))
    return document(page(), one, output_intents=intents, profiles=(PRESS, replace(profile, key="9 0")))


@pytest.mark.parametrize(
    ("profile", "problem", "level"),
    [
        (replace(MONITOR, damage="It is no ICC profile."), "damaged", "must"),
        (replace(MONITOR, device_class="link"), "wrong_class", "must"),
        (replace(MONITOR, declared_channels=4), "wrong_channels", "must"),
        (replace(PRESS, digest="ef" * 32, description="Another press"), "other_condition", "should"),
    ],
)
def test_a_profile_that_contradicts(profile: Profile, problem: str, level: str) -> None:
    found = only_finding("color.profile", picture_with(profile), CMYK_ONLY)
    assert (found.finding.measured["problem"], found.level) == (problem, level)
    assert found.finding.measured["objects"] == 2
    assert found.finding.required == {
        "damaged": {"usable": True}, "wrong_class": {"usable": True}, "wrong_channels": {"channels": 4},
        "other_condition": {"profile": PRESS.description},
    }[problem]  # fmt: skip
    assert found.finding.pages == (2,)
    assert [place.box_mm for place in found.finding.places] == [Box(10, 10, 20, 20)]


@pytest.mark.parametrize("profile", [MONITOR, PRESS, replace(MONITOR, device_class="scnr")], ids=["monitor", "press", "scanner"])
def test_a_sound_profile_of_its_kind_is_no_contradiction(profile: Profile) -> None:
    assert outcome("color.profile", picture_with(profile), CMYK_ONLY) == "met"


def test_another_press_contradicts_nothing_where_no_condition_is_named() -> None:
    assert outcome("color.profile", picture_with(replace(PRESS, digest="ef" * 32), intents=()), CMYK_ONLY) == "met"


OTHER_PRESS = replace(PRESS, digest="ef" * 32, description="Another press")


@pytest.mark.parametrize(
    "intents",
    [
        Unmeasured("Damaged."),
        (replace(INTENT, subtype="GTS_PDFA1"),),
        (replace(INTENT, profile=None),),
        (INTENT, replace(INTENT, profile="9 0")),
    ],
    ids=["unknown", "not for print", "without a profile", "one of two"],
)
def test_another_press_contradicts_only_the_profile_of_the_printing_condition(intents: Any) -> None:
    assert outcome("color.profile", picture_with(OTHER_PRESS, intents=intents), CMYK_ONLY) == "met"


def test_a_damaged_profile_is_told_without_a_condition_too() -> None:
    assert outcome("color.profile", picture_with(replace(MONITOR, damage="Cut off."), intents=()), CMYK_ONLY) == "not_met"


def test_colours_without_a_profile_of_the_file_contradict_nothing() -> None:
    uses = (color("cmyk", "fill"), replace(color("cmyk", "fill"), profile="7 0"))
    assert outcome("color.profile", document(page(content=content(colors=uses)), profiles=(PRESS,)), CMYK_ONLY) == "met"


def test_a_profile_that_nothing_uses_is_not_judged() -> None:
    assert outcome("color.profile", picture_with(replace(MONITOR, damage="Cut off."), in_use=False), CMYK_ONLY) == "met"


def test_profiles_that_could_not_be_read_are_not_measured() -> None:
    assert outcome("color.profile", document(page(), profiles=Unmeasured("Damaged.")), CMYK_ONLY) == "not_measured"


def test_a_page_that_could_not_be_followed_is_not_measured() -> None:
    assert judged("color.profile", document(without_content(page(), "cut off")), CMYK_ONLY)[0].reason == "Page 1: cut off"


@pytest.mark.parametrize(
    ("sheet", "asked"),
    [
        (SpecSheet(), False),
        (SpecSheet(color=ColorAsked(ink_limit_percent=300)), False),
        (SpecSheet(file=FileAsked(maximum_size_bytes=10)), False),
        (SpecSheet(file=FileAsked(output_conditions=("FOGRA51",))), True),
    ],
)
def test_it_is_asked_with_colours_or_conditions(sheet: SpecSheet, asked: bool) -> None:
    assert (outcome("color.profile", document(page()), sheet) != "not_applicable") is asked
