"""Type: too small, and small in several inks."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.text import TextRun
from service.sheets.model import ColorAsked, SpecSheet, TextAsked
from tests.rules.measured import content, document, judged, only_finding, outcome, page, run, without_content

SIZES = SpecSheet(text=TextAsked(minimum_size_pt=5, reversed_minimum_size_pt=6, rich_black_minimum_size_pt=14))
RICH: dict[str, Any] = {"inks": ("Cyan", "Magenta", "Yellow", "Black"), "black_tint": 1.0}
WHITE: dict[str, Any] = {"inks": (), "white": True, "tint": 0.0}
RGB: dict[str, Any] = {"inks": (), "written": "DeviceRGB"}


def set_in(size_pt: float, words: str = "Opening hours", **changes: Any) -> TextRun:
    return replace(run(words, size_pt=size_pt), **changes)


def printed(*runs: TextRun) -> Measurements:
    return document(page(content=content(text=runs)))


# --- text.size --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size_pt", "expected"), [(4, "not_met"), (4.97, "not_met"), (4.98, "met"), (5, "met"), (12, "met")])
def test_text_under_the_minimum(size_pt: float, expected: str) -> None:
    """5 TeX points are 4.98 pt."""
    assert outcome("text.size", printed(set_in(size_pt)), SIZES) == expected


@pytest.mark.parametrize(
    ("how", "size_pt", "expected"),
    [
        ({**WHITE, "on_ink": True}, 5.5, "reversed"),
        ({**WHITE, "on_ink": True}, 6, None),
        ({"inks": ("Cyan", "Magenta")}, 5.5, "several inks"),
        ({"inks": ("Cyan", "Magenta")}, 6, None),
        ({"inks": ("Cyan", "Black"), "black_tint": 0.79}, 7, None),
        ({"inks": ("Cyan", "Black"), "black_tint": 0.8}, 7, "rich black"),
        ({"inks": ("Black",), "black_tint": 1.0}, 7, None),
        (RICH, 10, "rich black"),
        (RICH, 14, None),
        ({"inks": ("All",)}, 5.5, "several inks"),
        ({"inks": ("Copper",)}, 5.5, None),
        (RGB, 5.5, None),
    ],
)
def test_text_that_needs_a_larger_minimum(how: dict[str, Any], size_pt: float, expected: str | None) -> None:
    _, findings = judged("text.size", printed(set_in(size_pt, **how)), SIZES)
    assert [one.finding.measured["printed"] for one in findings] == ([expected] if expected else [])
    assert all(one.level == "must" for one in findings)


def test_rich_black_under_all_minimums_is_told_once() -> None:
    finding = only_finding("text.size", printed(set_in(3, **RICH)), SIZES).finding
    assert (finding.measured["size_pt"], finding.required) == (3, {"minimum_pt": 14})


@pytest.mark.parametrize("how", [{"visible": False}, WHITE, {"text": "   "}], ids=["mode 3", "white on paper", "blanks"])
def test_text_that_nobody_sees_is_not_too_small(how: dict[str, Any]) -> None:
    assert outcome("text.size", printed(set_in(1, **how)), SIZES) == "met"


def test_text_in_the_slug_is_cut_off() -> None:
    slug = replace(set_in(3), box_mm=run("job 12", x=5, y=-8).box_mm)
    assert outcome("text.size", printed(slug), SIZES) == "met"


def test_one_finding_has_the_smallest_size_and_all_places() -> None:
    pages = (
        page(content=content(text=(set_in(4.5, "rye bread"), set_in(4, "spelt"), set_in(9)))),
        page(),
        page(content=content(text=(set_in(3, "oat"),))),
    )
    finding = only_finding("text.size", document(*pages), SIZES).finding
    assert finding.measured == {"size_pt": 3, "printed": "plain", "texts": ["rye bread", "spelt", "oat"], "pieces": 3}
    assert finding.pages == (1, 3)
    assert [place.page for place in finding.places] == [1, 1, 3]


def test_twenty_texts_are_quoted_and_all_counted() -> None:
    many = [set_in(4, f"item {at}") for at in range(22)]
    measured = only_finding("text.size", printed(*many), SIZES).finding.measured
    assert (measured["texts"], measured["pieces"]) == ([f"item {at}" for at in range(20)], 22)


def test_only_what_the_sheet_asks() -> None:
    only_reversed = SpecSheet(text=TextAsked(reversed_minimum_size_pt=6))
    assert outcome("text.size", printed(set_in(2)), only_reversed) == "met"
    assert outcome("text.size", printed(set_in(2, **WHITE, on_ink=True)), only_reversed) == "not_met"


@pytest.mark.parametrize("rule_id", ["text.size", "text.inks"])
def test_text_not_seen_and_not_asked_for(rule_id: str) -> None:
    assert outcome(rule_id, document(without_content(page())), SIZES) == "not_measured"
    assert outcome(rule_id, printed(set_in(1, **RICH)), SpecSheet()) == "not_applicable"
    assert outcome(rule_id, printed(set_in(1, **RICH)), SpecSheet(text=TextAsked())) == "not_applicable"


# --- text.inks --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("how", "expected"),
    [
        ({}, None),
        ({"inks": ("Copper",)}, None),
        ({"inks": ("Cyan", "Magenta")}, "several inks"),
        (RICH, "rich black"),
        (RGB, "converted"),
        ({"inks": (), "written": "ICCBased (3 channels)"}, "converted"),
        ({"inks": (), "written": "Pattern"}, None),
        ({"inks": ("Black",), "written": "ICCBased (4 channels)"}, None),
        ({**RGB, "white": True, "on_ink": True}, None),
        ({**WHITE, "on_ink": True}, None),
    ],
)
def test_small_text_in_several_inks_is_an_observation(how: dict[str, Any], expected: str | None) -> None:
    _, findings = judged("text.inks", printed(set_in(8, **how)), SIZES)
    assert [one.finding.measured["printed"] for one in findings] == ([expected] if expected else [])
    assert all(one.level == "should" for one in findings)


def test_text_of_nine_points_may_have_several_inks() -> None:
    assert outcome("text.inks", printed(set_in(9, **RGB), set_in(9, inks=("Cyan", "Magenta"))), SIZES) == "met"


def test_inks_are_named_and_a_conversion_names_none() -> None:
    _, findings = judged("text.inks", printed(set_in(8, inks=("Cyan", "Magenta")), set_in(7, **RGB)), SIZES)
    assert [one.finding.measured["inks"] for one in findings] == [["Cyan", "Magenta"], []]


def test_rgb_text_of_a_preview_is_never_printed() -> None:
    assert outcome("text.inks", printed(set_in(8, **RGB)), replace(SIZES, purpose="client-preview")) == "not_applicable"


def test_invisible_text_breaks_nothing() -> None:
    assert outcome("text.inks", printed(set_in(2, **RICH, visible=False)), SIZES) == "met"


# --- What another rule tells, and signs beside larger type ------------------------------------------------------------


def test_a_colour_that_a_rule_on_colours_tells_of_is_told_once() -> None:
    in_cmyk = replace(SIZES, color=ColorAsked(allowed=("cmyk", "gray")))
    assert outcome("text.inks", printed(set_in(8, **RGB)), in_cmyk) == "met"
    assert outcome("text.inks", printed(set_in(8, **RGB)), replace(in_cmyk, levels={"color.space": "off"})) == "not_met"
    in_rgb = replace(in_cmyk, color=ColorAsked(allowed=("cmyk", "rgb")))
    assert outcome("text.inks", printed(set_in(8, **RGB)), in_rgb) == "not_met"
    everywhere = printed(set_in(8, inks=("All",)))
    assert outcome("text.inks", everywhere, SIZES) == "met"
    assert outcome("text.inks", everywhere, replace(SIZES, levels={"color.registration": "off"})) == "not_met"


def test_bronze_is_no_rich_black() -> None:
    bronze = set_in(10, inks=("Bronze", "Black"), black_tint=1.0)
    assert outcome("text.size", printed(bronze), SIZES) == "met"
    assert outcome("text.size", printed(replace(bronze, inks=("Cyan", "Black"))), SIZES) == "not_met"


@pytest.mark.parametrize(
    ("size_pt", "words", "x", "expected"),
    [
        (4.08, "2", 40.5, "met"),
        (3.9, "2", 40.5, "not_met"),  # a fifth smaller is the least
        (4.08, "2019", 40.5, "not_met"),  # no sign
        (4.08, "2", 50, "not_met"),  # stands for itself
    ],
)
def test_raised_figures_beside_larger_type(size_pt: float, words: str, x: float, expected: str) -> None:
    """Type of 7 pt that ends at 40 mm; an em of it is 2.5 mm."""
    text = replace(set_in(7, "flour"), box_mm=Box(30, 10, 40, 12.5), ink_mm=Box(30, 10, 40, 12.5))
    sign = set_in(size_pt, words, box_mm=Box(x, 9, x + 1, 11), ink_mm=Box(x, 9, x + 1, 11))
    assert outcome("text.size", printed(text, sign), SIZES) == expected
    assert outcome("text.size", printed(sign, text), SIZES) == expected


def test_a_short_word_among_equals_is_judged_as_text() -> None:
    near = set_in(5, "oat", box_mm=Box(30, 10, 40, 12), ink_mm=Box(30, 10, 40, 12))
    assert outcome("text.size", printed(near, set_in(4.5, "2", box_mm=Box(40.5, 10, 41, 12))), SIZES) == "not_met"
