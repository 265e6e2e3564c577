"""Tints that a press loses, and blacks of several inks."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import PlainColor, Tint
from service.sheets.model import ColorAsked, RichBlack, SpecSheet, TintsAsked
from tests.rules.measured import content, document, judged, only_finding, outcome, page, without_content

HERE = Box(10, 10, 30, 20)
RECIPE = RichBlack(ink_limit_percent=240, cyan_percent=60, magenta_percent=40, yellow_percent=40, black_percent=100)


def painted(*colors: dict[str, float], box: Box = HERE) -> Measurements:
    uses = tuple(PlainColor("fill", tuple(Tint(*one) for one in color.items()), 1, (box,)) for color in colors)
    return document(page(content=replace(content(), plain_colors=uses)))


def asking(**color: Any) -> SpecSheet:
    return SpecSheet(color=ColorAsked(**color))


FAINT = asking(tint=TintsAsked(minimum_percent=5))
STRONG = asking(tint=TintsAsked(maximum_percent=95))
BLACK = asking(rich_black=RECIPE)


@pytest.mark.parametrize(
    ("color", "expected"),
    [
        ({"Cyan": 0.04}, "not_met"), ({"Cyan": 0.05}, "met"), ({"Cyan": 0.04, "Yellow": 0.03}, "not_met"),
        ({"Cyan": 0.04, "Yellow": 0.05}, "met"), ({"Cyan": 0.02, "Black": 1.0}, "met"), ({"Copper": 0.03}, "not_met"),
    ],
)
def test_a_colour_is_seen_if_one_of_its_inks_prints(color: dict[str, float], expected: str) -> None:
    assert outcome("ink.faint", painted(color), FAINT) == expected


@pytest.mark.parametrize(
    ("color", "expected"),
    [({"Cyan": 0.05, "Yellow": 0.04}, "not_met"), ({"Cyan": 0.05, "Yellow": 0.05}, "met"), ({"Black": 0.1}, "met")],
)
def test_all_inks_of_a_colour_count_together(color: dict[str, float], expected: str) -> None:
    assert outcome("ink.faint", painted(color), asking(ink_minimum_percent=10)) == expected


def test_what_is_too_faint_is_told_once_with_its_colours() -> None:
    found = only_finding("ink.faint", painted({"Cyan": 0.02}, {"Black": 0.03, "Yellow": 0.01}), FAINT)
    assert (found.level, found.finding.required) == ("should", {"tint_percent": 5})
    assert found.finding.measured == {"colors": ["Cyan 2", "Black 3, Yellow 1"], "objects": 2}


@pytest.mark.parametrize(
    ("color", "expected"),
    [
        ({"Cyan": 0.96}, "not_met"), ({"Cyan": 0.95}, "met"), ({"Cyan": 1.0, "Magenta": 0.98}, "not_met"),
        ({"Cyan": 1.0, "Magenta": 0.1}, "met"),
    ],
)
def test_a_tint_stays_clear_of_solid_ink(color: dict[str, float], expected: str) -> None:
    assert outcome("ink.near-solid", painted(color), STRONG) == expected


@pytest.mark.parametrize(
    ("color", "level", "expected"),
    [
        ({"Cyan": 0.6, "Magenta": 0.4, "Yellow": 0.4, "Black": 1.0}, None, "met"),
        ({"Cyan": 0.75, "Magenta": 0.68, "Yellow": 0.67, "Black": 0.9}, "must", "not_met"),
        ({"Cyan": 0.5, "Magenta": 0.4, "Yellow": 0.5, "Black": 1.0}, None, "met"),
        ({"Cyan": 0.49, "Magenta": 0.4, "Yellow": 0.4, "Black": 1.0}, "should", "not_met"),
        ({"Cyan": 0.4, "Black": 1.0}, "should", "not_met"),
        ({"Cyan": 1.0, "Magenta": 0.9, "Yellow": 0.1, "Black": 0.89}, None, "met"),
        ({"Copper": 1.0, "Black": 1.0}, None, "met"),
    ],
)
def test_a_rich_black_keeps_to_limit_and_recipe(color: dict[str, float], level: str | None, expected: str) -> None:
    rule, findings = judged("ink.rich-black", painted(color), BLACK)
    assert (rule.outcome, [one.level for one in findings]) == (expected, [level] if level else [])


def test_a_limit_alone_asks_for_no_recipe() -> None:
    alone = asking(rich_black=RichBlack(ink_limit_percent=240))
    assert outcome("ink.rich-black", painted({"Cyan": 1.0, "Black": 1.0}), alone) == "met"
    found = only_finding("ink.rich-black", painted({"Cyan": 1.0, "Yellow": 0.5, "Black": 1.0}), alone)
    assert found.finding.required == {"total_percent": 240}


@pytest.mark.parametrize(
    ("rule", "sheet", "color"),
    [
        ("ink.faint", FAINT, {"Cyan": 0.02}), ("ink.near-solid", STRONG, {"Cyan": 0.98}),
        ("ink.rich-black", BLACK, {"Cyan": 1, "Black": 1}),
    ],
)
def test_the_slug_and_a_silent_sheet_are_passed_over(rule: str, sheet: SpecSheet, color: dict[str, float]) -> None:
    assert outcome(rule, painted(color), sheet) == "not_met"
    assert outcome(rule, painted(color, box=Box(-9, -9, -5, -5)), sheet) == "met"
    assert outcome(rule, painted(color), asking(ink_limit_percent=300)) == "not_applicable"
    assert outcome(rule, document(without_content(page())), sheet) == "not_measured"
