"""What an empty document asks, from boxes and named guides built by hand: what is certain is read, everything else is asked."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.guides import GuidedPage, GuidedPages, GuideShape
from service.pdf.facts.page import TrimSource
from service.pdf.facts.unknown import Unmeasured
from service.sheets.templates.reading import read_template
from service.sheets.templates.told import TemplateReading, neat
from tests.sheets.templates.read_back import differences, readings

CARD = Box(0, 0, 85, 55)


def shape(
    layer: str | None, box: Box, *, ink: str | None = None, dashed: bool = False, prints: bool = True, kind: str = ""
) -> GuideShape:
    drawn: Any = kind or ("line" if min(box.width, box.height) == 0 else "rectangle")
    return GuideShape(layer, ink, prints, drawn, dashed, box)


def read(
    *shapes: GuideShape, trim: Box = CARD, source: TrimSource = "trim_box", bleed: Box | None = None, media: Box | None = None,
    more: tuple[GuidedPage, ...] = (),
) -> TemplateReading:  # fmt: skip
    page = GuidedPage(1, trim, source, bleed, media or (bleed or trim), shapes)
    return read_template(GuidedPages((page, *more), 1 + len(more)))


def asked(reading: TemplateReading) -> set[str]:
    return {one.about for one in reading.questions}


def values(reading: TemplateReading) -> dict[str, Any]:
    return {one.pointer: one.value for one in reading.values}


def test_boxes_alone_give_size_and_bleed() -> None:
    reading = read(bleed=CARD.grown(3))
    assert values(reading) == {"/trim/width": "85 mm", "/trim/height": "55 mm", "/bleed/minimum": "3 mm"}
    assert [one.source for one in reading.values] == ["the TrimBox of page 1"] * 2 + ["the BleedBox of page 1"]
    assert asked(reading) == {"pages"}


def test_named_guides_on_a_bare_page_give_all_four() -> None:
    reading = read(
        shape("Cut", CARD), shape(None, CARD.grown(2), ink="Bleed"), shape("Sicherheit", CARD.grown(-4)),
        shape("Falz", Box(42.5, -3, 42.5, 58)), trim=CARD.grown(10), source="media_box",
    )  # fmt: skip
    assert values(reading) == {
        "/trim/width": "85 mm", "/trim/height": "55 mm", "/bleed/minimum": "2 mm", "/margin/minimum": "4 mm",
        "/folds": [{"at": "42.5 mm", "axis": "vertical"}],
    }  # fmt: skip
    assert asked(reading) == {"pages"}


@pytest.mark.parametrize(("past", "is_frame"), [(0.0, True), (12.0, True), (-5.0, False)])
def test_four_lines_are_a_rectangle_where_they_bound_one(past: float, is_frame: bool) -> None:
    level = [shape("Trim", Box(0 - past, y, 85 + past, y)) for y in (0, 55)]
    upright = [shape("Trim", Box(x, 0 - past, x, 55 + past)) for x in (0, 85)]
    reading = read(*level, *upright, trim=CARD.grown(10), source="media_box")
    assert ("/trim/width" in values(reading)) is is_frame


def test_a_size_that_nothing_says_is_asked() -> None:
    die = shape("Cut", CARD, kind="other")
    for reading in (read(source="media_box"), read(shape("Layer 1", CARD), source="crop_box"), read(die, source="media_box")):
        assert values(reading) == {}
        assert asked(reading) == {"trim"}


def test_boxes_and_guides_that_say_different_sizes_are_asked() -> None:
    assert values(read(shape("Stanze", CARD.grown(-1)))) == {}
    assert "/trim/width" in values(read(shape("Stanze", CARD.grown(-0.2)))), "a line drawn within half a millimetre is the same"
    assert asked(read(shape("Cut", CARD), shape("Cut", CARD.grown(-9)), source="media_box", trim=CARD.grown(5))) == {"trim"}


def test_bleed_that_is_not_one_is_asked_and_room_beyond_the_trim_is_none() -> None:
    uneven = read(bleed=Box(0, -3, 88, 58))
    assert ("/bleed/minimum" in values(uneven), "bleed" in asked(uneven)) == (False, True)
    assert uneven.questions[0].source.endswith("left 0 mm, top 3 mm, right 3 mm, bottom 3 mm")
    slug = read(media=CARD.grown(15))
    assert ("/bleed/minimum" in values(slug), "bleed" in asked(slug)) == (False, True)
    disagree = read(shape("Bleed", CARD.grown(5)), bleed=CARD.grown(3))
    assert ("/bleed/minimum" in values(disagree), "bleed" in asked(disagree)) == (False, True)


def test_a_safety_margin_is_one_all_round_and_named_or_dashed_among_guides() -> None:
    assert values(read(shape("Guides", CARD.grown(-3), dashed=True)))["/margin/minimum"] == "3 mm"
    assert "/margin/minimum" not in values(read(shape("Guides", CARD.grown(-3))))
    uneven = read(shape("Safety", Box(10, 3, 82, 52)))
    assert ("/margin/minimum" in values(uneven), "margin" in asked(uneven)) == (False, True)
    two = read(shape("Safety", CARD.grown(-3)), shape("Safety", CARD.grown(-8)))
    assert ("/margin/minimum" in values(two), "margin" in asked(two)) == (False, True)


def test_folds_run_across_the_page() -> None:
    marks = [shape("Fold", Box(30, -9, 30, -4)), shape("Fold", Box(30, 59, 30, 64)), shape("Fold", Box(70, -9, 70, -4))]
    reading = read(*marks, media=CARD.grown(10))
    assert values(reading)["/folds"] == [{"at": "30 mm", "axis": "vertical"}], "a mark without its twin is none"
    assert "/folds" not in values(read(shape("Fold", Box(30, 10, 30, 40))))
    assert "folds" in asked(read(shape("Fold", Box(30, 10, 30, 40))))
    assert "/folds" not in values(read(shape("Fold", Box(0, 0, 0, 55)))), "the edge is no fold"
    level = read(shape("Rillen", Box(0, 27.5, 85, 27.5)), shape("Rillen", Box(20, 0, 20, 55)))
    assert values(level)["/folds"] == [{"at": "20 mm", "axis": "vertical"}, {"at": "27.5 mm", "axis": "horizontal"}]


def test_an_unnamed_solid_line_may_be_anything() -> None:
    line = Box(42.5, 0, 42.5, 55)
    assert values(read(shape("Guides", line, dashed=True)))["/folds"] == [{"at": "42.5 mm", "axis": "vertical"}]
    solid = read(shape("Guides", line))
    assert ("/folds" in values(solid), "folds" in asked(solid)) == (False, True)
    hidden = read(shape("Layer 7", line, dashed=True, prints=False))
    assert "/folds" in values(hidden), "what does not print is a guide at least"
    assert "/folds" not in values(read(shape("Layer 7", line, dashed=True)))


def test_two_folds_in_the_middle_may_be_a_spine_and_other_rectangles_an_area() -> None:
    wide = Box(0, 0, 305, 210)
    reading = read(shape("Fold", Box(148, 0, 148, 210)), shape("Fold", Box(157, 0, 157, 210)), trim=wide)
    assert "spine" in asked(reading)
    assert "keep_clear" in asked(read(shape("Guides", Box(10, 10, 30, 20), dashed=True)))


def test_pages_of_another_size_and_guides_that_could_not_be_seen_are_asked() -> None:
    other = GuidedPage(2, Box(0, 0, 55, 85), "trim_box", None, Box(0, 0, 55, 85), ())
    assert "trim" in asked(read(more=(other,)))
    unseen = GuidedPage(1, CARD, "trim_box", None, CARD, Unmeasured("The page is damaged."))
    reading = read_template(GuidedPages((unseen,), 1))
    assert values(reading) == {"/trim/width": "85 mm", "/trim/height": "55 mm"}
    assert "The page is damaged." in {one.source for one in reading.questions}


def test_what_does_not_fit_together_is_asked_and_the_rest_stays() -> None:
    line = [shape("Fold", Box(at, 0, at, 55)) for at in (30, 60)]
    reading = read(*line, shape("Safety", CARD.grown(-27.49)))
    assert values(reading)["/trim/width"] == "85 mm"
    assert reading.document()["folds"][0]["at"] == "30 mm"


@pytest.mark.parametrize(
    ("mm", "text"),
    [(84.998, "85 mm"), (3.1752, "3.175 mm"), (88.9003, "88.9 mm"), (3.53, "3.53 mm"), (3.534, "3.53 mm"), (0.0, "0 mm")],
)
def test_what_rounding_has_added_is_taken_off(mm: float, text: str) -> None:
    assert neat(mm) == text


SAMPLE = (
    *("business-card-85x55", "business-card-us", "leaflet-dl-roll-6", "leaflet-a4-cross-8", "book-a5-cover"),
    "letterhead-a4-din-5008-a",
)


def test_our_own_empty_documents_read_back(tmp_path: Path) -> None:
    """A sample; all of them: `python -m tests.sheets.templates.read_back`."""
    read_back = {sheet_id: differences(page, reading) for sheet_id, page, reading in readings(tmp_path, SAMPLE)}
    assert read_back == {sheet_id: [] for sheet_id in SAMPLE}
