"""Live transparency, and the space in which it blends."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import TransparencyUse
from service.sheets.model import ColorAsked, ColorName, FileAsked, SpecSheet, TransparencyAsked
from tests.facts import fact
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, without_content

NONE_LIVE = SpecSheet(transparency=TransparencyAsked(live="forbidden"))
LIVE = SpecSheet(transparency=TransparencyAsked(live="required"))
SHADOW = fact(TransparencyUse, "soft mask", "", 2, (Box(10, 10, 20, 20),))
TINT = fact(TransparencyUse, "alpha", "0.5", 1, (Box(30, 10, 40, 20),))


def painted(*uses: TransparencyUse) -> Measurements:
    return document(page(content=replace(content(), transparency=uses)))


def test_live_transparency_where_the_printer_takes_none() -> None:
    found = only_finding("transparency.live", painted(SHADOW, TINT), NONE_LIVE)
    assert (found.level, found.finding.measured) == ("must", {"kinds": {"soft mask": 2, "alpha": 1}})
    assert len(found.finding.places) == 2


@pytest.mark.parametrize(
    ("standards", "forms"),
    [
        ((), "(PDF/X-1a, PDF/X-3 or PDF 1.3)"),
        (("PDF/X-4", "PDF/X-1a:2003"), "as PDF/X-1a:2003,"),
        (("PDF/X-4",), "(PDF/X-1a, PDF/X-3 or PDF 1.3)"),
    ],
)
def test_nobody_is_sent_to_a_standard_that_the_printer_does_not_take(standards: tuple[str, ...], forms: str) -> None:
    sheet = replace(NONE_LIVE, file=FileAsked(standards=standards))
    assert forms in only_finding("transparency.live", painted(SHADOW), sheet).finding.remedy


def test_a_page_without_transparency_is_right() -> None:
    assert outcome("transparency.live", painted(), NONE_LIVE) == "met"


def test_whether_it_was_flattened_cannot_be_told() -> None:
    assert outcome("transparency.live", painted(SHADOW), LIVE) == "met"
    assert outcome("transparency.live", painted(), LIVE) == "not_measured"


def test_transparency_not_seen_and_left_open() -> None:
    assert outcome("transparency.live", document(without_content(page())), NONE_LIVE) == "not_measured"
    assert outcome("transparency.live", painted(SHADOW), SpecSheet()) == "not_applicable"
    assert outcome("transparency.live", painted(SHADOW), SpecSheet(transparency=TransparencyAsked())) == "not_applicable"


# --- transparency.space -----------------------------------------------------------------------------------------------


def grouped(*families: str) -> Measurements:
    return document(page(content=content(colors=[color(family, "group") for family in families])))


def takes(*allowed: ColorName) -> SpecSheet:
    return SpecSheet(color=ColorAsked(allowed=allowed))


@pytest.mark.parametrize(
    ("family", "allowed", "expected"),
    [
        ("rgb", ("cmyk", "gray"), "not_met"),
        ("rgb", ("cmyk", "gray", "rgb"), "not_met"),
        ("cmyk", ("cmyk",), "met"),
        ("gray", ("cmyk",), "met"),
        ("cmyk", ("gray",), "not_met"),
        ("rgb", ("rgb",), "met"),
        ("multicolor", ("cmyk",), "not_met"),
    ],
)
def test_groups_that_blend_in_another_space_than_the_print(family: str, allowed: tuple[ColorName, ...], expected: str) -> None:
    assert outcome("transparency.space", grouped(family), takes(*allowed)) == expected


def test_it_is_one_observation() -> None:
    found = only_finding("transparency.space", grouped("rgb", "rgb"), takes("cmyk"))
    assert (found.level, found.finding.measured, found.finding.required) == (
        "should", {"families": ["rgb"], "groups": 2}, {"family": "cmyk"},
    )


def test_a_picture_in_rgb_is_no_group() -> None:
    pictures = document(page(content=content(colors=(color("rgb", "image"),))))
    assert judged("transparency.space", pictures, takes("cmyk"))[1] == ()


def test_blending_not_seen_not_asked_for_and_never_printed() -> None:
    assert outcome("transparency.space", document(without_content(page())), takes("cmyk")) == "not_measured"
    assert outcome("transparency.space", grouped("rgb"), SpecSheet()) == "not_applicable"
    assert outcome("transparency.space", grouped("rgb"), takes()) == "not_applicable"
    preview = replace(takes("cmyk", "rgb"), purpose="client-preview")
    assert outcome("transparency.space", grouped("rgb"), preview) == "not_applicable"
