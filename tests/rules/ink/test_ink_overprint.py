"""White that overprints, black that does not, black that should not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import ObjectKind, OverprintCase, OverprintUse, Tint
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, judged, only_finding, outcome, page, without_content

SHEET = SpecSheet()
INSIDE, SLUG = Box(10, 10, 40, 14), Box(10, -9, 40, -5)
MM = 72 / 25.4


def use(case: OverprintCase, kind: ObjectKind, size_pt: float, count: int = 1, box: Box = INSIDE) -> OverprintUse:
    """On what differs from spot to spot, unless a test says otherwise."""
    return fact(OverprintUse, case, kind, size_pt, count, (box,))


def on(below: OverprintUse, **tints: float) -> OverprintUse:
    return replace(below, tints_below=tuple(fact(Tint, ink.capitalize(), strength) for ink, strength in tints.items()))


def painted(*uses: OverprintUse) -> Measurements:
    return document(page(content=replace(content(), overprints=uses)))


def test_white_that_overprints_vanishes() -> None:
    found = only_finding(
        "ink.overprint-white", painted(use("white vanishes", "text", 12, 4), use("white vanishes", "fill", 80)), SHEET
    )
    assert (found.level, found.finding.pages) == ("must", (1,))
    assert found.finding.measured == {"objects": {"text": 4, "fill": 1}}


def test_black_is_no_white_and_the_slug_is_no_print() -> None:
    uses = (use("black knocks out", "text", 7), use("white vanishes", "text", 7, box=SLUG))
    assert outcome("ink.overprint-white", painted(*uses), SHEET) == "met"


def test_many_objects_of_which_the_first_lie_in_the_slug_are_not_passed() -> None:
    assert outcome("ink.overprint-white", painted(use("white vanishes", "text", 7, count=30, box=SLUG)), SHEET) == "not_met"


@pytest.mark.parametrize(
    ("kind", "size_pt", "expected"),
    [
        ("text", 7, "not_met"),
        ("text", 11.9, "not_met"),
        ("text", 12, "met"),
        ("stroke", 1.9, "not_met"),
        ("stroke", 2, "met"),
        ("fill", 0.5, "not_met"),
        ("fill", 40, "met"),
    ],
)
def test_small_black_that_knocks_out(kind: ObjectKind, size_pt: float, expected: str) -> None:
    assert outcome("ink.overprint-black", painted(use("black knocks out", kind, size_pt)), SHEET) == expected


def test_on_a_screen_nothing_overprints() -> None:
    black = painted(use("black knocks out", "text", 7))
    assert outcome("ink.overprint-black", black, SpecSheet(purpose="client-preview")) == "not_applicable"


@pytest.mark.parametrize(
    ("kind", "size_mm", "expected"),
    [("fill", 9.5, "met"), ("fill", 10, "not_met"), ("text", 12, "not_met"), ("text", 4, "met"), ("stroke", 12, "met")],
)
def test_large_black_that_overprints(kind: ObjectKind, size_mm: float, expected: str) -> None:
    assert outcome("ink.overprint-black", painted(use("black overprints", kind, size_mm * MM)), SHEET) == expected


@pytest.mark.parametrize(
    ("tints", "expected"),
    [
        ({"cyan": 0.14}, "met"),
        ({"cyan": 0.16}, "not_met"),
        ({"yellow": 0.4}, "met"),  # the eye hardly sees white beside it
        ({"yellow": 0.5}, "not_met"),
        ({"cyan": 0.1, "magenta": 0.06}, "not_met"),
        ({"cyan": 0.1, "black": 0.6}, "met"),  # black knocks out of black into nothing
    ],
)
def test_small_black_in_a_faint_tint_shows_no_edge(tints: dict[str, float], expected: str) -> None:
    assert outcome("ink.overprint-black", painted(on(use("black knocks out", "text", 7), **tints)), SHEET) == expected


def test_large_black_that_overprints_one_plain_colour_is_even() -> None:
    large = use("black overprints", "fill", 40 * MM)
    assert outcome("ink.overprint-black", painted(on(large, cyan=1, magenta=0.5)), SHEET) == "met"
    assert outcome("ink.overprint-black", painted(on(large, cyan=1), large), SHEET) == "not_met"


def test_what_is_wrong_with_black_is_an_observation_a_cause() -> None:
    uses = (
        use("black knocks out", "text", 7, 3),
        use("black knocks out", "stroke", 0.5),
        use("black overprints", "fill", 100),
        use("black overprints", "text", 7),
    )
    _, findings = judged("ink.overprint-black", painted(*uses), SHEET)
    assert [one.level for one in findings] == ["should", "should"]
    assert [one.finding.measured for one in findings] == [
        {"overprints": False, "size_pt": 0.5, "objects": {"text": 3, "stroke": 1}},
        {"overprints": True, "size_pt": 100, "objects": {"fill": 1}},
    ]


@pytest.mark.parametrize("rule_id", ["ink.overprint-white", "ink.overprint-black"])
def test_overprint_not_seen_and_turned_off(rule_id: str) -> None:
    assert outcome(rule_id, document(without_content(page())), SHEET) == "not_measured"
    off = SpecSheet(levels={rule_id: "off"})
    assert (
        outcome(rule_id, painted(use("white vanishes", "text", 7), use("black knocks out", "text", 7)), off) == "not_applicable"
    )
