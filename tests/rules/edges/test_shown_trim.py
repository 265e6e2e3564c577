"""What is a cut line, and when it says something else than the trim. Stickers of 60 mm, a TrimBox of 62 mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from service.pdf.facts.geometry import MM_PER_POINT, Box, Sides
from service.pdf.facts.page import Page
from service.pdf.facts.painted.vectors import Artwork, LineUse
from service.pdf.facts.unknown import Unmeasured
from service.rules.edges.shown_trim import ShownTrim, bleed_in_the_trim, disagreeing
from service.sheets.model import TrimAsked
from tests.facts import fact
from tests.rules.measured import content, page, shape

STICKER = TrimAsked(width_mm=60, height_mm=60)
OUTLINE = Box(1, 1, 61, 61)


def cut(box: tuple[float, float, float, float], *inks: str, kind: str = "stroke") -> Artwork:
    return shape(*box, kind, inks or ("Cutting",))


def drawn(*artwork: Artwork, across: float = 62, lines: Iterable[LineUse] = ()) -> Page:
    return page(across, across, bleed=6, content=replace(content(), artwork=artwork, lines=tuple(lines)))


def shown(*boxes: tuple[float, float, float, float], across: float = 62) -> Box | None:
    found = disagreeing(drawn(*map(cut, boxes), across=across), STICKER)
    return found.box if found else None


def test_an_outline_inside_the_trim_shows_the_cut_even_where_no_size_was_ordered() -> None:
    assert disagreeing(drawn(cut(OUTLINE)), None) == ShownTrim(OUTLINE, "cut line")


@pytest.mark.parametrize(("off", "agrees"), [(0.5, True), (0.51, False)])
def test_half_a_millimetre_is_no_contradiction(off: float, agrees: bool) -> None:
    marked = page(62, 62, crop_marks_mm=Box(-off, 0, 62, 62))
    assert (disagreeing(marked, STICKER) is None) is agrees
    assert (shown((-off, 0, 60, 60), across=60) is None) is agrees


@pytest.mark.parametrize(("inset", "counts"), [(0.5, False), (0.51, True), (10.0, True), (10.1, False)])
def test_a_line_inside_stands_in_by_a_bleed(inset: float, counts: bool) -> None:
    far = 82 - inset
    assert (shown((inset, inset, far, far), across=82) is not None) is counts


@pytest.mark.parametrize(
    ("line", "across"), [((-0.5, 0.6, 59.4, 59.4), 60), ((9.8, 9.8, 71.8, 71.8), 82)], ids=["just at the limit", "too deep"]
)
def test_a_line_that_is_neither_beyond_the_trim_nor_a_bleed_inside(
    line: tuple[float, float, float, float], across: float
) -> None:
    assert shown(line, across=across) is None


@pytest.mark.parametrize(("least", "counts"), [(0.5, True), (0.4, False)])
def test_the_least_bleed_counts_on_its_nearest_side(least: float, counts: bool) -> None:
    assert (shown((least, 0.8, 61.2, 61.2)) is not None) is counts


@pytest.mark.parametrize(("right", "counts"), [(60.5, True), (60.4, False)])
def test_it_stands_in_alike_on_every_side(right: float, counts: bool) -> None:
    """1 mm on three sides, 1.5 or 1.6 mm on the fourth."""
    assert (shown((1, 1, right, 61)) is not None) is counts


def test_insets_are_counted_from_the_trim_wherever_it_lies() -> None:
    one = drawn(cut((11, 21, 71, 81)))
    moved = replace(one, boxes_mm=replace(one.boxes_mm, trim=Box(10, 20, 72, 82), bleed=Box(4, 14, 78, 88)))
    assert bleed_in_the_trim(moved, STICKER) == Sides(1, 1, 1, 1)


def test_only_what_lies_inside_the_trim_is_bleed_in_it() -> None:
    assert bleed_in_the_trim(drawn(), STICKER) == Sides(0.0, 0.0, 0.0, 0.0)
    assert bleed_in_the_trim(drawn(cut((-2, 1, 61, 61))), STICKER) == Sides(1, 1, 1, 0)


# --- What is an outline -----------------------------------------------------------------------------------------------


def sides(thick: float) -> tuple[tuple[float, float, float, float], ...]:
    """Four lines along the sides of the outline."""
    near, far = 1 + thick, 61 - thick
    return (1, 1, 61, near), (far, 1, 61, 61), (1, far, 61, 61), (1, 1, near, 61)


@pytest.mark.parametrize(("thick", "is_outline"), [(0.1, True), (0.9, True), (1.0, True), (1.1, False)])
def test_lines_along_the_sides_are_an_outline(thick: float, is_outline: bool) -> None:
    assert shown(*sides(thick)) == (OUTLINE if is_outline else None)


@pytest.mark.parametrize(
    ("line", "is_outline"),
    [
        ((1, 1.5, 61, 1.6), True),
        ((1, 1.6, 61, 1.7), False),
        ((1.5, 1, 1.6, 61), True),
        ((1.6, 1, 1.7, 61), False),
        ((30, 1, 30.1, 61), False),
        ((1, 30, 61, 30.1), False),
    ],
)
def test_a_line_within_half_a_millimetre_of_a_side_runs_along_it(
    line: tuple[float, float, float, float], is_outline: bool
) -> None:
    assert shown(*sides(0.1), line) == (OUTLINE if is_outline else None)


@pytest.mark.parametrize("line", [(-2, 10, 64, 10.5), (-2, 10, 64, 11), (10, -2, 11, 64)])
def test_one_line_across_the_page_is_no_outline(line: tuple[float, float, float, float]) -> None:
    assert shown(line) is None


@pytest.mark.parametrize(
    ("other", "whole"), [((20, 20, 30, 30), OUTLINE), ((1, 1, 61.5, 30), (1, 1, 61.5, 61)), ((1, 1, 61.6, 30), None)]
)
def test_an_outline_with_a_window_in_it_is_one(
    other: tuple[float, float, float, float], whole: tuple[float, float, float, float] | None
) -> None:
    assert shown(OUTLINE, other) == whole


@pytest.mark.parametrize(
    "other",
    [cut(OUTLINE, kind="fill"), cut(OUTLINE, "Black"), cut(OUTLINE, "Cutting", "Black"), replace(cut(OUTLINE), inks=())],
    ids=["an area", "another ink", "two inks", "no ink"],
)
def test_what_is_no_line_in_an_ink_for_the_cut(other: Artwork) -> None:
    assert disagreeing(drawn(other), STICKER) is None


def test_what_nobody_followed_shows_nothing() -> None:
    for unseen in (Unmeasured("it stops"), replace(content(), artwork=Unmeasured("too many"))):
        assert disagreeing(page(62, 62, content=unseen), STICKER) is None


def test_the_cut_runs_along_the_middle_of_the_thinnest_such_stroke() -> None:
    def used(width_pt: float, *inks: str) -> LineUse:
        return fact(LineUse, width_pt, "stroke", inks, 1.0, False, False, True, 1, (OUTLINE,))

    lines = (used(0.1, "Black"), used(2.0, "Cutting"), used(1.0, "Black", "Cutting"))
    found = disagreeing(drawn(cut(OUTLINE), lines=lines), STICKER)
    assert found is not None
    assert found.box.x0 - OUTLINE.x0 == pytest.approx(0.5 * MM_PER_POINT)
