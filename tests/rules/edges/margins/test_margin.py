"""The quiet zone: text, pictures and shapes near the trim."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.page import Page
from service.pdf.facts.painted.images import Image
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.painted.vectors import Artwork
from service.pdf.facts.unknown import Unmeasured
from service.rules.catalogue import RULES
from service.rules.judge import judge
from service.sheets.model import BleedAsked, MarginAsked, SpecSheet
from tests.patience import processor_seconds
from tests.rules.measured import (
    content,
    document,
    judged,
    only_finding,
    outcome,
    page,
    picture,
    plates,
    run,
    shape,
    without_content,
)

THREE = SpecSheet(margin=MarginAsked(minimum_mm=3))


def with_text(*runs: TextRun) -> Page:
    return page(content=content(text=runs))


def text_at(x0: float, y0: float, x1: float, y1: float) -> TextRun:
    return replace(run("Open from seven"), box_mm=Box(x0, y0, x1, y1), ink_mm=Box(x0, y0, x1, y1))


def with_artwork(*shapes: Artwork, images: tuple[Image, ...] = ()) -> Page:
    return page(content=replace(content(images=images), artwork=shapes))


# --- Text ---


@pytest.mark.parametrize(("x0", "expected"), [(3, "met"), (2.96, "met"), (2.94, "not_met"), (0.1, "not_met"), (-1, "not_met")])
def test_text_keeps_out_of_the_quiet_zone(x0: float, expected: str) -> None:
    assert outcome("margin.text", document(with_text(text_at(x0, 20, 40, 24))), THREE) == expected


def test_text_that_is_nearer_than_the_printer_would_rather_have_is_a_wish() -> None:
    sheet = SpecSheet(margin=MarginAsked(minimum_mm=3, preferred_mm=5))
    found = only_finding("margin.text", document(with_text(text_at(4, 20, 40, 24), text_at(5, 30, 40, 34))), sheet)
    assert (found.level, found.finding.required) == ("should", {"preferred_mm": 5})
    assert (found.finding.measured["distance_mm"], found.finding.measured["runs"]) == (4, 1)


@pytest.mark.parametrize(
    ("box", "side"),
    [((40, 1, 60, 5), "top"), ((60, 20, 84, 24), "right"), ((40, 50, 60, 54), "bottom"), ((1, 20, 30, 24), "left")],
)
def test_the_nearest_edge_is_named(box: tuple[float, float, float, float], side: str) -> None:
    finding = only_finding("margin.text", document(with_text(text_at(*box))), THREE).finding
    assert finding.measured == {"distance_mm": 1, "side": side, "runs": 1, "texts": ["Open from seven"]}
    assert finding.places[0].box_mm == box


def test_text_that_is_cut_is_a_finding_of_its_own() -> None:
    measured = document(with_text(text_at(-2, 20, 30, 24), text_at(1, 30, 30, 34), text_at(2, 40, 30, 44)))
    _, findings = judged("margin.text", measured, THREE)
    assert [(one.finding.measured["distance_mm"], one.finding.measured["runs"]) for one in findings] == [(-2, 1), (1, 2)]


@pytest.mark.parametrize("slug", [(0, -8, 40, -4), (0, 55, 40, 58), (-9, 20, -1, 24), (85, 20, 95, 24)])
def test_text_in_the_slug_is_none_of_the_page(slug: tuple[float, float, float, float]) -> None:
    assert outcome("margin.text", document(with_text(text_at(*slug))), THREE) == "met"


def test_of_many_texts_the_first_twenty_are_quoted() -> None:
    many = [replace(text_at(1, 20, 30, 24), text=f"line {number}") for number in range(30)]
    finding = only_finding("margin.text", document(with_text(*many)), THREE).finding
    assert finding.measured["texts"] == [f"line {number}" for number in range(20)]
    assert finding.measured["runs"] == 30


def test_text_that_nobody_sees_may_stand_anywhere() -> None:
    hidden = replace(text_at(1, 20, 30, 24), visible=False)
    white_on_paper = replace(text_at(1, 20, 30, 24), white=True)
    assert outcome("margin.text", document(with_text(hidden, white_on_paper)), THREE) == "met"
    assert outcome("margin.text", document(with_text(replace(white_on_paper, on_ink=True))), THREE) == "not_met"


@pytest.mark.parametrize(
    ("box_x0", "ink_x0", "expected"), [(-2, 3.5, "met"), (0.2, 4.2, "met"), (4, 2.6, "not_met"), (4, 3, "met")]
)
def test_text_is_judged_by_where_its_ink_ends(box_x0: float, ink_x0: float, expected: str) -> None:
    set_type = replace(run("jolly"), box_mm=Box(box_x0, 12, 40, 16), ink_mm=Box(ink_x0, 12, 38, 16))
    assert outcome("margin.text", document(with_text(set_type)), THREE) == expected


def test_a_swash_beyond_its_type_box_is_told_by_its_own_distance() -> None:
    swash = replace(run("jolly"), box_mm=Box(4, 12, 40, 16), ink_mm=Box(-0.4, 11, 41, 17))
    finding = only_finding("margin.text", document(with_text(swash)), THREE).finding
    assert (finding.measured["distance_mm"], finding.places[0].box_mm) == (-0.4, (-0.4, 11, 41, 17))


def test_blanks_are_no_text() -> None:
    blanks = replace(text_at(-2, 20, 30, 24), ink_mm=None)
    inked = replace(text_at(-2, 20, 30, 24), text=" \t")
    assert outcome("margin.text", document(with_text(blanks, inked)), THREE) == "met"


@pytest.mark.parametrize(("x0", "expected"), [(1, "not_measured"), (3, "met")])
def test_text_whose_outlines_are_not_known_is_not_accused(x0: float, expected: str) -> None:
    unknown = replace(text_at(x0, 20, 30, 24), ink_mm=Unmeasured("no outlines"))
    rule, findings = judged("margin.text", document(with_text(unknown)), THREE)
    assert (rule.outcome, len(findings)) == (expected, 0)
    both = document(with_text(unknown, text_at(2, 20, 30, 24)))
    assert only_finding("margin.text", both, THREE).finding.measured["runs"] == 1


@pytest.mark.parametrize("rule_id", ["margin.text", "margin.artwork"])
def test_a_margin_that_is_not_asked_for_or_not_seen(rule_id: str) -> None:
    assert outcome(rule_id, document(page()), SpecSheet()) == "not_applicable"
    assert outcome(rule_id, document(without_content(page())), THREE) == "not_measured"


def test_a_margin_that_is_only_wished_for() -> None:
    sheet = SpecSheet(margin=MarginAsked(minimum_mm=3, level="should"))
    assert only_finding("margin.text", document(with_text(text_at(1, 20, 30, 24))), sheet).level == "should"


# --- Artwork ---


@pytest.mark.parametrize(
    ("left", "expected"),
    [(-3, "met"), (0, "met"), (0.04, "met"), (0.1, "not_met"), (1, "not_met"), (2.94, "not_met"), (3, "met")],
)
def test_a_panel_either_bleeds_or_ends_outside_the_quiet_zone(left: float, expected: str) -> None:
    measured = document(with_artwork(shape(left, -3, 40, 58)))
    assert outcome("margin.artwork", measured, THREE) == expected


def test_a_big_panel_that_ends_one_millimetre_inside_the_trim() -> None:
    """A frame on every side but the bottom, where the panel bleeds."""
    finding = only_finding("margin.artwork", document(with_artwork(shape(1, 1, 84, 58))), THREE).finding
    assert finding.measured == {"distance_mm": 1, "sides": ["top", "right", "left"], "pictures": 0, "shapes": 1}
    assert [place.box_mm for place in finding.places] == [(1, 1, 84, 58)]


@pytest.mark.parametrize(
    ("bleed", "wish"),
    [(BleedAsked(minimum_mm=3), "bleed edge"), (BleedAsked(minimum_mm=0), "no bleed"), (None, "no bleed")],
)
@pytest.mark.parametrize("inside", [1, 4])
def test_nobody_is_sent_to_the_edge_of_a_product_without_bleed(bleed: BleedAsked | None, wish: str, inside: float) -> None:
    """As of a finished envelope: where the sheet asks for no bleed, artwork can only move inwards."""
    sheet = SpecSheet(margin=MarginAsked(minimum_mm=3, preferred_mm=5), bleed=bleed)
    finding = only_finding("margin.artwork", document(with_artwork(shape(inside, 10, 40, 40))), sheet).finding
    assert wish in (finding.remedy or "")
    assert ("without bleeding" in finding.message) == (wish == "bleed edge")


def test_a_picture_is_judged_by_what_can_be_seen_of_it() -> None:
    placed = picture(at=(1, 10))
    assert only_finding("margin.artwork", document(with_artwork(images=(placed,))), THREE).finding.measured["pictures"] == 1
    cropped = replace(placed, visible_box_mm=Box(5, 12, 30, 30))
    assert outcome("margin.artwork", document(with_artwork(images=(cropped,))), THREE) == "met"


def test_pictures_and_shapes_are_counted_apart() -> None:
    both = with_artwork(shape(1, 40, 20, 44), shape(1, 45, 20, 49), images=(picture(at=(1, 5), pixels=(300, 300)),))
    measured = only_finding("margin.artwork", document(both), THREE).finding.measured
    assert (measured["pictures"], measured["shapes"]) == (1, 2)


def test_artwork_of_which_a_conversion_decides_the_inks_counts() -> None:
    assert outcome("margin.artwork", document(with_artwork(shape(1, 10, 20, 20, inks=()))), THREE) == "not_met"


CREST = Box(1, 10, 31, 40)
"""The frame of a picture."""


@pytest.mark.parametrize(
    ("ink", "found"),
    [(CREST, 1), (Box(2.2, 12, 30, 38), 2.2), (Box(3, 12, 30, 38), None), (Box(9, 12, 30, 38), None), (None, None)],
)
def test_a_picture_ends_where_the_plates_show_its_ink(ink: Box | None, found: float | None) -> None:
    placed = replace(picture(), visible_box_mm=CREST)
    one = replace(with_artwork(images=(placed,)), plates=plates(picture_ink_mm=(ink,)))
    _, findings = judged("margin.artwork", document(one), THREE)
    assert [(each.finding.measured["distance_mm"], each.finding.places[0].box_mm) for each in findings] == (
        [(found, ink)] if found else []
    )


def test_a_shape_that_fills_the_frame_of_a_white_picture_is_judged_by_itself() -> None:
    one = with_artwork(shape(*CREST), images=(replace(picture(), visible_box_mm=CREST),))
    covered = replace(one, plates=plates(picture_ink_mm=(None,)))
    assert only_finding("margin.artwork", document(covered), THREE).finding.measured["shapes"] == 1


def test_a_picture_on_a_page_without_plates_is_judged_by_its_frame() -> None:
    placed = replace(with_artwork(images=(replace(picture(), visible_box_mm=CREST),)), plates=Unmeasured("no plates"))
    assert only_finding("margin.artwork", document(placed), THREE).finding.measured["distance_mm"] == 1


def test_a_photograph_that_bleeds_may_be_white_at_the_edge() -> None:
    bleeding = replace(picture(), visible_box_mm=Box(-3, 10, 31, 40))
    one = replace(with_artwork(images=(bleeding,)), plates=plates(picture_ink_mm=(Box(1, 10, 31, 40),)))
    assert outcome("margin.artwork", document(one), THREE) == "met"


def test_artwork_in_the_slug_is_none_of_the_page() -> None:
    assert outcome("margin.artwork", document(with_artwork(shape(10, -9, 20, -4), shape(10, 55, 20, 58))), THREE) == "met"


def test_colour_patches_in_the_slug_make_no_pattern_of_what_stands_inside() -> None:
    patches = [shape(-9, y, -5, y + 4) for y in (5, 15, 25)]
    assert outcome("margin.artwork", document(with_artwork(*patches, shape(1, 40, 5, 44))), THREE) == "not_met"


def test_slices_of_one_picture_bleed_together() -> None:
    """Flattened transparency: strips of 1 mm, the last of which runs on into the bleed."""
    strips = [replace(picture(), visible_box_mm=Box(10, y, 60, y + 1.02)) for y in range(40, 58)]
    assert outcome("margin.artwork", document(with_artwork(images=tuple(strips))), THREE) == "met"
    stopped = strips[:-4]  # the last one ends at 54.02 mm, 0.98 mm inside
    finding = only_finding("margin.artwork", document(with_artwork(images=tuple(stopped))), THREE).finding
    assert finding.measured["distance_mm"] == 0.98


def test_a_background_below_does_not_carry_a_logo_over_the_edge() -> None:
    measured = document(with_artwork(shape(-3, -3, 88, 58, inks=("Cyan",)), shape(1, 20, 20, 30)))
    assert only_finding("margin.artwork", measured, THREE).finding.measured["shapes"] == 1


def test_a_pattern_that_runs_off_the_edge_is_no_loose_end() -> None:
    leaves = [shape(x, y, x + 4, y + 4, inks=("Yellow",)) for x in (-2, 2, 8) for y in (5, 15, 25, 35)]
    assert outcome("margin.artwork", document(with_artwork(*leaves)), THREE) == "met"
    stem = shape(1, 5, 3, 45, inks=("Black",))
    assert only_finding("margin.artwork", document(with_artwork(*leaves, stem)), THREE).finding.measured["shapes"] == 1


def test_a_page_with_too_many_objects_is_not_a_pass() -> None:
    crowded = page(content=replace(content(images=(picture(at=(1, 10)),)), artwork=Unmeasured("too many objects")))
    rule, findings = judged("margin.artwork", document(crowded), THREE)
    assert (rule.outcome, rule.reason) == ("not_met", "Page 1: too many objects")
    assert len(findings) == 1


def test_a_page_full_of_loose_ends_costs_a_bounded_time() -> None:
    strips = [shape(10, y, 60, y + 0.5) for y in [52.0 + index / 10_000 for index in range(10_000)]]
    full = document(with_artwork(*strips))
    with processor_seconds(at_most=10):
        assert judge(full, THREE, {"margin.artwork": RULES["margin.artwork"]}).rules[0].outcome == "not_met"


@pytest.mark.parametrize(("inks", "expected"), [(("Cut",), "met"), (("Cut", "Black"), "not_met"), (("Black",), "not_met")])
def test_a_cut_line_stands_where_the_cut_goes(inks: tuple[str, ...], expected: str) -> None:
    one = with_artwork(shape(1, 1, 84, 54, inks=inks))
    assert not isinstance(one.plates, Unmeasured)
    sticker = replace(one, plates=replace(one.plates, left_out=("Cut",)))
    assert outcome("margin.artwork", document(sticker), THREE) == expected


@pytest.mark.parametrize(("left", "told"), [(2.94, "2.94 mm"), (2.71, "2.71 mm"), (2.69, "2.7 mm"), (1.04, "1 mm")])
def test_what_is_a_hair_short_does_not_read_like_what_is_asked(left: float, told: str) -> None:
    found = only_finding("margin.text", document(page(content=content(text=[run("Rye", x=left)]))), THREE).finding
    assert f" {told} from the left edge" in found.message


@pytest.mark.parametrize(
    ("inside", "bleed", "reach", "expected"),
    [
        (0.26, 0, 0.0, "met"),  # bleed.declared says it
        (0.31, 0, 0.0, "not_met"),
        (0.26, 3, 3.0, "not_met"),  # the page has bleed, this piece does not reach it
        (0.26, 0, None, "not_met"),  # nothing stands at an edge: no other rule tells
    ],
)
def test_artwork_that_ends_at_the_trim_of_a_page_without_bleed(
    inside: float, bleed: float, reach: float | None, expected: str
) -> None:
    one = page(bleed=bleed, bleed_reach_mm=Sides[float | None](reach, reach, reach, reach))
    panel = replace(one, content=replace(content(), artwork=(shape(inside, 10, 40, 40),)))
    sheet = replace(THREE, bleed=BleedAsked(minimum_mm=3))
    assert outcome("margin.artwork", document(panel), sheet) == expected
    assert outcome("margin.artwork", document(panel), THREE) == "not_met"
    assert outcome("margin.artwork", document(panel), replace(sheet, levels={"bleed.declared": "off"})) == "not_met"
