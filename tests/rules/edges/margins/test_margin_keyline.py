"""A line that was left around the page on its trim, and the lines, borders and guides that are none."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from service.jobs.question import question_for
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.content import LayerUse
from service.pdf.facts.painted.vectors import Frame
from service.pdf.measure import measure
from service.sheets.model import MarginAsked, SpecSheet
from tests.build import POINTS_PER_MM
from tests.build import page as drawn
from tests.facts import fact
from tests.rules.measured import content, document, only_finding, outcome, page, plates, without_content

RULE = "margin.keyline"
SILENT = SpecSheet()
HAIR_MM = 0.25 * 25.4 / 72


def framed(outer_mm: float, width_mm: float = HAIR_MM, inks: tuple[str, ...] = ("Black",), **changes: Any) -> Measurements:
    """A card with a rectangle around it; `outer_mm`: how far inside the trim its ink begins, negative beyond."""
    box = Box(0, 0, 85, 55).grown(-outer_mm)
    made = page(content=replace(content(), frames=(Frame(box, width_mm, inks),), **changes))
    return document(replace(made, plates=plates(left_out=("Spot gloss",))))


def test_a_line_half_in_and_half_out_of_the_trim_is_an_observation() -> None:
    found = only_finding(RULE, framed(-HAIR_MM / 2), SILENT)
    assert found.level == "should"
    assert (found.finding.measured, found.finding.required) == ({"width_mm": 0.09, "lines": 1}, {"apart_mm": 1.0})
    assert found.finding.pages == (1,)


@pytest.mark.parametrize(
    ("outer", "width", "expected"),
    [
        (0.0, 0.1, "not_met"),  # just inside
        (0.85, 0.1, "not_met"),
        (0.95, 0.1, "met"),  # a frame inside the page, as far as this rule goes
        (-0.95, 0.1, "not_met"),
        (-1.05, 1.1, "met"),  # a border that bleeds
        (-0.95, 1.9, "not_met"),
        (-0.95, 2.0, "met"),
        (-3.0, 3.2, "met"),
        (5.0, 0.5, "met"),
    ],
)
def test_the_cut_may_fall_a_millimetre_off_the_trim(outer: float, width: float, expected: str) -> None:
    assert outcome(RULE, framed(outer, width), SILENT) == expected


def test_all_four_sides_lie_on_the_trim() -> None:
    panel = page(content=replace(content(), frames=(Frame(Box(-0.05, -0.05, 85.05, 45), 0.1, ("Black",)),)))
    assert outcome(RULE, document(panel), SILENT) == "met"


def test_beside_a_cutting_line_every_line_is_told_and_the_thickest_measured() -> None:
    drawn_in = ((0.1, "CutContour"), (0.4, "Black"), (0.2, "Black"))
    lines = [Frame(Box(0, 0, 85, 55).grown(width / 2), width, (ink,)) for width, ink in drawn_in]
    found = only_finding(RULE, document(page(content=replace(content(), frames=tuple(lines)))), SILENT).finding
    assert found.measured == {"width_mm": 0.4, "lines": 2}
    assert [place.box_mm for place in found.places] == [one.box_mm for one in lines[1:]]


@pytest.mark.parametrize(
    ("inks", "expected"),
    [
        (("CutContour",), "met"),
        (("Stanzlinie",), "met"),
        (("Fustella",), "met"),
        (("Guides",), "met"),
        (("Spot gloss",), "met"),  # a finish of the sheet's
        (("All",), "met"),  # color.registration tells of it
        (("CutContour", "Black"), "not_met"),
        (("Bakery Red",), "not_met"),
        ((), "not_met"),  # RGB
    ],
)
def test_lines_for_a_blade_or_a_fold_are_none(inks: tuple[str, ...], expected: str) -> None:
    assert outcome(RULE, framed(-0.05, 0.1, inks), SILENT) == expected


def test_where_frames_are_judged_a_line_on_the_trim_is_told_once() -> None:
    line = framed(-0.05, 0.1)
    for told in ({"frames": "forbidden"}, {"frame_minimum_mm": 5}):
        asking = SpecSheet(margin=MarginAsked(minimum_mm=3, **told))
        assert (outcome(RULE, line, asking), outcome("margin.frame", line, asking)) == ("not_applicable", "not_met")
        assert outcome(RULE, line, replace(asking, levels={"margin.frame": "off"})) == "not_met"
    for not_told in ({"frame_width_mm": 0.05}, {"frames": "allowed"}, {"frame_minimum_mm": 0.5}):
        assert outcome(RULE, line, SpecSheet(margin=MarginAsked(minimum_mm=3, **not_told))) == "not_met"
    assert outcome(RULE, line, SpecSheet(purpose="preview")) == "not_applicable"


def test_a_line_that_ends_inside_the_trim_is_told_by_the_safety_margin_where_there_is_one() -> None:
    margin = SpecSheet(margin=MarginAsked(minimum_mm=3))
    assert outcome(RULE, framed(0.2, 0.1), margin) == "met"
    assert outcome(RULE, framed(-0.05, 0.1), margin) == "not_met"
    aslant = page(content=replace(content(), frames=(Frame(Box(-0.05, 0.2, 85.05, 55.05), 0.1, ("Black",)),)))
    assert outcome(RULE, document(aslant), margin) == "not_met"
    assert outcome(RULE, framed(0.2, 0.1), replace(margin, levels={"margin.artwork": "off"})) == "not_met"


def test_a_layer_of_guides_that_prints_is_told_once() -> None:
    def on(name: str, box: Box = Box(-0.05, -0.05, 85.05, 55.05)) -> Measurements:  # noqa: B008
        layer = fact(LayerUse, layer=name, lines=1, texts=0, others=0, inks=("Black",), boxes_mm=(box,))
        return framed(-0.05, 0.1, layers=(layer,))

    assert (outcome(RULE, on("Trim"), SILENT), outcome("layer.guides", on("Trim"), SILENT)) == ("met", "not_met")
    assert outcome(RULE, on("Trim"), SpecSheet(levels={"layer.guides": "off"})) == "not_met"
    assert outcome(RULE, on("Artwork"), SILENT) == "not_met"
    for other in (Box(4, 4, 81, 51), Box(-0.05, 4, 81, 51)):
        assert outcome(RULE, on("Safety margin", other), SILENT) == "not_met"


def test_a_page_that_could_not_be_walked_is_not_a_pass() -> None:
    assert outcome(RULE, document(without_content(page())), SILENT) == "not_measured"


# --- From a file ------------------------------------------------------------------------------------------------------


def around(inside_mm: float = 0) -> bytes:
    """The path of a rectangle so far inside the trim of a card that stands 3 mm inside its media."""
    x, width, height = (one * POINTS_PER_MM for one in (3 + inside_mm, 85 - 2 * inside_mm, 55 - 2 * inside_mm))
    return b"%.4f %.4f %.4f %.4f re " % (x, x, width, height)


@pytest.mark.parametrize(
    ("drawing", "expected"),
    [
        (b"0 0 0 1 K 0.25 w " + around() + b"S", "not_met"),
        (b"0.1 G 0.5 w " + around() + b"S", "not_met"),
        (b"1 0 0 RG 1 w " + around() + b"S", "not_met"),
        (b"0 0 0 0 K 0.25 w " + around() + b"S", "met"),  # white on white
        (b"0.4 0 0 0 k 0.4 0 0 0 K 0.25 w " + around() + b"B", "met"),  # the edge of an area of the same colour
        (b"0 0 0 1 K 17 w " + around() + b"S", "met"),  # a border of 6 mm, half of it in the bleed
        (b"0 0 0 1 K 0.25 w " + around(-3) + b"S", "met"),
        (b"0 0 0 1 K 0.25 w " + around(4) + b"S", "met"),
    ],
)
def test_a_rectangle_stroked_along_the_trim_box_is_told(drawing: bytes, expected: str, tmp_path: Path) -> None:
    path = drawn(85, 55, bleed=3).text("Open", at=(20, 20), size=8).raw(b"q " + drawing + b" Q").save(tmp_path / "card.pdf")
    assert outcome(RULE, measure(path, question_for(SILENT)), SILENT) == expected
