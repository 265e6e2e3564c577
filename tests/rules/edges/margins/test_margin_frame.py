"""Frames around the page: how far inside, how thick, or none."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.vectors import Frame
from service.sheets.model import MarginAsked, SpecSheet
from tests.rules.measured import content, document, only_finding, outcome, page, plates, without_content


def framed(inside_mm: float, width_mm: float = 1.0, inks: tuple[str, ...] = ("Black",)) -> Measurements:
    box = Box(inside_mm, inside_mm, 85 - inside_mm, 55 - inside_mm)
    made = page(content=replace(content(), frames=(Frame(box, width_mm, inks),)))
    return document(replace(made, plates=plates(left_out=("Cutting",))))


def asking(**margin: Any) -> SpecSheet:
    return SpecSheet(margin=MarginAsked(minimum_mm=3, **margin))


FAR, THICK, NONE = asking(frame_minimum_mm=5), asking(frame_width_mm=1), asking(frames="forbidden")


@pytest.mark.parametrize(("inside", "expected"), [(4.9, "not_met"), (5.0, "met"), (-1.0, "not_met")])
def test_a_frame_stands_far_enough_inside(inside: float, expected: str) -> None:
    assert outcome("margin.frame", framed(inside), FAR) == expected


@pytest.mark.parametrize(("width", "expected"), [(0.9, "not_met"), (0.96, "met")])
def test_a_frame_is_thick_enough(width: float, expected: str) -> None:
    assert outcome("margin.frame", framed(9, width), THICK) == expected


def test_what_is_told_of_frames() -> None:
    near, thin, any_ = (only_finding("margin.frame", framed(2, 0.2), sheet) for sheet in (FAR, THICK, NONE))
    assert (near.level, near.finding.required) == ("should", {"minimum_mm": 5})
    assert near.finding.measured == {"distance_mm": 2, "frames": 1}
    assert (thin.finding.measured, thin.finding.required) == ({"width_mm": 0.2, "frames": 1}, {"minimum_width_mm": 1})
    assert (any_.finding.measured, any_.finding.required) == ({"frames": 1}, {"frames": 0})


def test_a_cutting_line_is_no_frame_and_a_silent_sheet_asks_nothing() -> None:
    for sheet in (FAR, THICK, NONE):
        assert outcome("margin.frame", framed(1, 0.1, ("Cutting",)), sheet) == "met"
        assert outcome("margin.frame", document(without_content(page())), sheet) == "not_measured"
    assert outcome("margin.frame", framed(1), asking(frames="allowed")) == "not_applicable"
