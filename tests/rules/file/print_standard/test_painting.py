"""Colours, transparency and fonts in a file of a print standard."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import ColorUse, TransparencyUse
from service.pdf.facts.unknown import Unmeasured
from tests.facts import fact
from tests.rules.measured import content, font, judged, page
from tests.rules.print_files import INTENT, PRESS, asks_for, breaches, broken, feature, painted, print_file

X_1A, X_3, X_4, X_4P = "PDF/X-1a:2003", "PDF/X-3:2003", "PDF/X-4", "PDF/X-4p"
BOX = Box(10, 10, 20, 20)


def use(family: str, written: str, kind: str = "image", **more: Any) -> ColorUse:
    return fact(ColorUse, family, written, kind, more.pop("inks", ()), 1, (BOX,), **more)


RGB = use("rgb", "DeviceRGB")
COPPER = use("spot", 'Separation "Copper"', "fill", inks=("Copper",))
OUTSIDE: dict[str, Any] = {"output_intents": (replace(INTENT, profile=None, profile_outside=True),)}
REGISTERED: dict[str, Any] = {"output_intents": (replace(INTENT, profile=None),), "profiles": ()}
OF_A_SCREEN = replace(PRESS, space="RGB", channels=3, declared_channels=3)


@pytest.mark.parametrize(
    ("edition", "one", "expected"),
    [
        (X_1A, use("rgb", "DeviceRGB", "group"), []),
        (X_1A, use("multicolor", "JPEG 2000 (5 channels)"), ["inks-only"]),
        (X_1A, use("cmyk", "DeviceCMYK"), []),
    ],
    ids=["the space of a group paints nothing", "channels that are no inks", "CMYK"],
)
def test_only_inks_are_painted(edition: str, one: ColorUse, expected: list[str]) -> None:
    assert broken(print_file(edition, painted(one)), edition) == expected


def test_what_else_names_an_ink_is_no_substitute_for_it() -> None:
    separated = feature("separated page", "Copper: a plate by itself", (1,))
    assert broken(print_file(X_1A, painted(COPPER), features=(separated,)), X_1A) == ["separated-pages"]


@pytest.mark.parametrize(
    ("edition", "changes", "expected"),
    [
        (X_4, {"profiles": ()}, []),
        (X_4P, {**OUTSIDE, "profiles": ()}, []),
        (X_3, REGISTERED, ["device-colors"]),
        (X_4, {"profiles": (replace(PRESS, damage="It is cut off."),)}, ["output-profile-kind"]),
    ],
    ids=["its profile was not read", "its profile lies outside", "a registered condition is CMYK", "its profile is damaged"],
)
def test_rgb_is_measured_by_the_profile_of_the_condition_where_that_is_known(
    edition: str, changes: dict[str, Any], expected: list[str]
) -> None:
    assert broken(print_file(edition, painted(RGB), **changes), edition) == expected


def with_own(profile: Any, intended: Any, **changes: Any) -> Measurements:
    """A picture with a profile of its own."""
    one = use("cmyk", "ICCBased (4 channels)", profile="9 0")
    return print_file(X_4, painted(one), profiles=(intended, replace(profile, key="9 0")), **changes)


@pytest.mark.parametrize(
    ("file", "expected"),
    [
        (with_own(PRESS, PRESS), ["profile-twice"]),
        (with_own(replace(PRESS, digest="cd" * 32), PRESS), []),
        (with_own(OF_A_SCREEN, OF_A_SCREEN), []),
        (with_own(replace(PRESS, digest=""), replace(PRESS, digest="")), []),
    ],
    ids=["the press's own once more", "another", "of an RGB condition", "of which nothing is known"],
)
def test_a_picture_does_not_carry_the_profile_of_the_press_once_more(file: Measurements, expected: list[str]) -> None:
    assert broken(file, X_4) == expected


def test_without_the_profile_of_the_press_none_is_there_twice() -> None:
    one = use("cmyk", "ICCBased (4 channels)", profile="9 0")
    file = print_file(X_4P, painted(one), profiles=(replace(PRESS, key="9 0"),), **OUTSIDE)
    assert broken(file, X_4P) == []


@pytest.mark.parametrize(("description", "found"), [("Copperbeck sheetfed, coated", "Copperbeck sheetfed"), ("", "CMYK")])
def test_the_profile_that_is_there_twice_is_named(description: str, found: str) -> None:
    (told,) = breaches(with_own(replace(PRESS, description=description), PRESS), X_4)
    assert found in told["found"]


def test_transparent_objects_and_their_groups_are_told_once() -> None:
    fade = fact(TransparencyUse, "alpha", "0.5", 1, (BOX,))
    groups = (feature("transparency group", "", (1,)),)
    assert broken(print_file(X_3, painted(transparency=(fade,)), features=groups), X_3) == ["transparency"]
    assert broken(print_file(X_3, features=groups), X_3) == ["transparency"]


def test_features_that_could_not_be_read_leave_the_claim_open() -> None:
    rule, findings = judged("file.standard", print_file(X_3, features=Unmeasured("It is damaged.")), asks_for(X_3))
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "It is damaged.", ())


def test_a_font_in_the_file_is_right() -> None:
    assert broken(print_file(X_4, page(content=content(fonts=(font(),)))), X_4) == []
    assert broken(print_file(X_4, page(content=content(fonts=(font(embedded=False),)))), X_4) == ["fonts"]
