"""A product that is taken in several sizes folds, in each of them, where that size folds."""

from __future__ import annotations

import pytest

from service.rules.judge import judge
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import sheet_to_document
from service.sheets.variants import variants
from tests.rules.measured import content, document, outcome, page, run

SHEET = """
trim:
  {width: 297 mm, height: 210 mm, orientation: landscape, alternatives: [{width: 312 mm, height: 210 mm, folds: [102, 207]},
   {width: 298 mm, height: 210 mm}], scales: [1, 10]}
margin: {minimum: 3 mm}
folds: [{at: 97 mm, axis: vertical, level: should}, {at: 197 mm, axis: vertical}]
folding: {type: roll}
"""
ROLL = read_sheet_text(SHEET)


@pytest.mark.parametrize("width", [297, 298, 312])
def test_each_size_folds_together_where_it_is_said_to(width: float) -> None:
    assert outcome("fold.panels", document(page(width, 210)), ROLL) == "met"
    assert judge(document(page(width, 210)), ROLL).verdict.startswith("conforming")


def test_without_its_own_folds_the_wider_size_would_not_fold_together() -> None:
    """97 + 100 + 115 mm rolls; 210 mm of three equal panels is the other way about: a zigzag needs them all alike."""
    plain = read_sheet(
        {
            "trim": {"width": 297, "height": 210, "alternatives": [{"width": 315, "height": 210}]},
            "folds": [{"at": 99, "axis": "vertical"}, {"at": 198, "axis": "vertical"}],
            "folding": {"type": "zigzag"},
        }
    )
    own = read_sheet(
        {
            "trim": {"width": 297, "height": 210, "alternatives": [{"width": 315, "height": 210, "folds": [105, 210]}]},
            "folds": [{"at": 99, "axis": "vertical"}, {"at": 198, "axis": "vertical"}],
            "folding": {"type": "zigzag"},
        }
    )
    made = document(page(315, 210))
    assert [outcome("fold.panels", made, one) for one in (plain, own)] == ["not_met", "met"]


@pytest.mark.parametrize(
    ("width", "at", "expected"), [(312, 203, "not_met"), (312, 190, "met"), (297, 190, "not_met"), (297, 203, "met")]
)
def test_text_keeps_off_the_folds_of_the_size_that_the_file_has(width: float, at: float, expected: str) -> None:
    """'Halyard' is 12.3 mm long; the folds are at 207 mm and at 197 mm, and the margin of 3 mm beside them."""
    made = page(width, 210, content=content(text=(run("Halyard", x=at, y=100),)))
    assert outcome("margin.fold", document(made), ROLL) == expected


def test_level_and_axis_are_those_of_the_sheet_s_folds_and_scale_counts() -> None:
    full, small = variants(ROLL)[1], variants(ROLL)[4]
    assert [(fold.at_mm, fold.axis, fold.level) for fold in full.folds] == [(102, "vertical", "should"), (207, "vertical", None)]
    assert [fold.at_mm for fold in small.folds] == [10.2, 20.7]


def test_they_come_back_as_written() -> None:
    written = sheet_to_document(ROLL)
    assert written["trim"]["alternatives"] == [
        {"width": "312 mm", "height": "210 mm", "folds": ["102 mm", "207 mm"]},
        {"width": "298 mm", "height": "210 mm"},
    ]
    assert read_sheet(written) == ROLL


@pytest.mark.parametrize(
    ("folds", "message"),
    [([102], "one length for each"), ([102, 313], "on the page"), ([], "empty"), ([0, 2], "more than 0")],
)
def test_a_size_needs_all_its_folds_on_the_page(folds: list[float], message: str) -> None:
    with pytest.raises(SheetRefused) as refused:
        read_sheet(
            {
                "trim": {"width": 297, "height": 210, "alternatives": [{"width": 312, "height": 210, "folds": folds}]},
                "folds": [{"at": 97, "axis": "vertical"}, {"at": 197, "axis": "vertical"}],
            }
        )
    assert [pointer.startswith("/trim/alternatives/0/folds") for pointer, _ in refused.value.errors] == [True]
    assert message in str(refused.value.errors)
