"""Panels that fold, and panels that do not."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure
from service.rules.judge import judge
from service.sheets.model import Fold, FoldingAsked, FoldType, SpecSheet, TrimAsked
from tests.rules.measured import broken_rules, document, only_finding, outcome, page


def sheet(*at: float, kind: FoldType | None = None, axis: str = "vertical") -> SpecSheet:
    folds = tuple(Fold(at_mm=one, axis=axis) for one in at)  # type: ignore[arg-type]
    return SpecSheet(folds=folds, folding=FoldingAsked(type=kind) if kind else None)


A4 = document(page(297, 210))


@pytest.mark.parametrize(
    ("at", "kind", "expected"),
    [
        ((97, 197), "roll", "met"),  # 97 + 100 + 100, a published leaflet format (facts: foa.dk)
        ((100, 200), "roll", "met"),  # the same from the other side
        ((99, 198), "roll", "not_met"),  # three equal panels buckle
        ((99, 198), "zigzag", "met"),
        ((97, 197), "zigzag", "not_met"),
        ((98.5, 198), "zigzag", "met"),  # 98.5 + 99.5 + 99
        ((148.5,), "half", "met"),
        ((140,), "half", "not_met"),
        ((73, 148.5, 224), "gate", "met"),  # 73 + 75.5 + 75.5 + 73
        ((74.25, 148.5, 222.75), "gate", "not_met"),
        ((73.5, 223.5), "gate", "met"),
        ((74.25, 222.75), "gate", "not_met"),  # the wings would touch
        ((97, 197), None, "met"),
        ((99, 198), None, "met"),
        ((103, 200), None, "not_met"),  # 103 + 97 + 97: neither
        ((140,), None, "met"),  # one fold off the middle may be meant
        ((71, 145, 221), "roll", "met"),  # 71 + 74 + 76 + 76
        ((74, 148, 222), "roll", "not_met"),
    ],
)
def test_panels_of_an_a4_sheet(at: tuple[float, ...], kind: FoldType | None, expected: str) -> None:
    assert outcome("fold.panels", A4, sheet(*at, kind=kind)) == expected


def test_a_page_too_narrow_for_its_folds() -> None:
    """An A4 leaflet made 290 mm wide: the last panel is 93 mm and the roll does not close."""
    finding = only_finding("fold.panels", document(page(290, 210)), sheet(97, 197, kind="roll")).finding
    assert finding.measured == {"panels_mm": [97, 100, 93], "axis": "vertical"}
    assert finding.required == {"type": "roll", "at_mm": [97, 197], "shorter_by_mm": 1}


def test_a_fold_off_the_page() -> None:
    assert outcome("fold.panels", document(page(148, 210)), sheet(160)) == "not_met"


@pytest.mark.parametrize("at", [(87, 192), (105, 210)])
def test_a_letter_folds_at_the_marks_of_din_5008(at: tuple[float, float]) -> None:
    """Forms A and B: 87 + 105 + 105 mm, and the other way round (facts: r9005.de, sprache-kompakt.de)."""
    assert outcome("fold.panels", document(page(210, 297)), sheet(*at, kind="roll", axis="horizontal")) == "met"


def test_horizontal_folds_divide_the_height() -> None:
    finding = only_finding("fold.panels", document(page(210, 297)), sheet(60, 180, axis="horizontal")).finding
    assert finding.measured == {"panels_mm": [60, 120, 117], "axis": "horizontal"}
    assert finding.required["type"] is None


def test_panels_that_are_not_asked_for_or_not_known() -> None:
    assert outcome("fold.panels", A4, SpecSheet()) == "not_applicable"
    assert outcome("fold.panels", Measurements.unreadable(1, Failure("broken", "no trailer")), sheet(99)) == "not_measured"


def test_the_level_is_that_of_the_folding() -> None:
    soft = SpecSheet(folds=sheet(99, 198).folds, folding=FoldingAsked(type="roll", level="should", note="Ask us."))
    found = only_finding("fold.panels", A4, soft)
    assert (found.level, found.note) == ("should", "Ask us.")


@pytest.mark.parametrize(
    ("levels", "expected"),
    [(("should", "should"), "should"), (("should", None), "must"), (("must", "should"), "must"), ((None, None), "must")],
)
def test_folds_that_are_all_only_wished_for_are_an_observation(levels: tuple[Any, Any], expected: str) -> None:
    first, second = (Fold(at_mm=at, axis="vertical", level=level) for at, level in zip((103, 200), levels, strict=True))
    noted = SpecSheet(folds=(first, replace(second, note="As on our layout.")))
    found = only_finding("fold.panels", A4, noted)
    assert (found.level, found.note) == (expected, "As on our layout.")


def test_folds_across_each_other_are_told_apart() -> None:
    crossed = SpecSheet(folds=(*sheet(103, 200).folds, *sheet(105, axis="horizontal").folds))
    finding = only_finding("fold.panels", A4, crossed).finding
    assert (finding.measured["axis"], finding.required["at_mm"]) == ("vertical", [103, 200])


def test_pages_of_the_right_size_are_judged_behind_one_of_another() -> None:
    flat = SpecSheet(
        trim=TrimAsked(width_mm=297, height_mm=210, orientation="landscape"),
        folds=sheet(99, 198).folds, folding=FoldingAsked(type="roll"),
    )
    assert only_finding("fold.panels", document(page(148, 210), page(297, 210)), flat).finding.pages == (2,)


def test_a_page_of_another_size_is_told_by_its_size_and_not_by_its_folds() -> None:
    flat = SpecSheet(
        trim=TrimAsked(width_mm=420, height_mm=297, orientation="landscape"),
        folds=(Fold(at_mm=210, axis="vertical"),), folding=FoldingAsked(type="half"),
    )
    single = document(page(210, 297))
    assert broken_rules(judge(single, flat)) == {"trim.size"}
    assert outcome("fold.panels", single, replace(flat, levels={"trim.size": "off"})) == "not_met"
