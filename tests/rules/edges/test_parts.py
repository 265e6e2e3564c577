"""Pages of unlike size in one file: a cover that is larger than its inner pages, or laid out flat before them."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Sides
from service.pdf.facts.measurements import Measurements
from service.product.fitting import fitted_to
from service.rules.judge import judge
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import sheet_to_document
from tests.rules.measured import content, document, judged, only_finding, outcome, page, run

LARGER_COVER = read_sheet_text("""
trim:
  width: 210 mm
  height: 297 mm
  orientation: portrait
  parts: [{name: cover, first: 2, last: 2, width: 216 mm, height: 303 mm}]
pages: {minimum: 8, multiple_of: 4, arrangement: single-pages}
""")
FLAT_COVER = read_sheet_text("""
trim: {width: 148 mm, height: 210 mm, orientation: portrait, parts: [{name: cover, first: 1, width: 296 mm, height: 210 mm}]}
pages: {minimum: 5, arrangement: single-pages}
bleed: {minimum: 3 mm, binding: 0 mm}
""")


def with_cover(*sizes: tuple[float, float]) -> Measurements:
    return document(*(page(*one) for one in sizes))


INNER, COVER = (210.0, 297.0), (216.0, 303.0)
RIGHT = with_cover(COVER, COVER, *[INNER] * 4, COVER, COVER)


def test_a_cover_of_its_own_size_and_its_inner_pages_conform_in_one_file() -> None:
    rules = ("trim.size", "pages.uniform", "pages.arrangement", "pages.count")
    assert [outcome(rule, RIGHT, LARGER_COVER) for rule in rules] == ["met"] * 4
    assert judge(RIGHT, LARGER_COVER).verdict.startswith("conforming")


def test_without_the_part_the_same_file_has_pages_of_a_wrong_size() -> None:
    plain = read_sheet({"trim": {"width": 210, "height": 297}, "pages": {"minimum": 8}})
    assert only_finding("trim.size", RIGHT, plain).finding.pages == (1, 2, 7, 8)


def test_a_cover_of_the_size_of_the_inner_pages_is_told_with_the_name_and_size_of_the_part() -> None:
    finding = only_finding("trim.size", with_cover(*[INNER] * 8), LARGER_COVER).finding
    assert finding.pages == (1, 2, 7, 8)
    assert (finding.required["width_mm"], finding.required["height_mm"]) == (216, 303)
    assert "‘cover’" in finding.message


def test_inner_pages_of_the_size_of_the_cover_are_told_of_the_products() -> None:
    finding = only_finding("trim.size", with_cover(*[COVER] * 8), LARGER_COVER).finding
    assert (finding.pages, finding.required["width_mm"]) == ((3, 4, 5, 6), 210)


@pytest.mark.parametrize(("width", "expected"), [(215.56, "met"), (215.4, "not_met"), (216.44, "met"), (216.6, "not_met")])
def test_the_tolerance_holds_for_the_part_too(width: float, expected: str) -> None:
    made = with_cover((width, 303), COVER, *[INNER] * 4, COVER, COVER)
    assert outcome("trim.size", made, LARGER_COVER) == expected


def test_where_the_last_pages_stand_follows_from_the_file() -> None:
    longer = with_cover(COVER, COVER, *[INNER] * 16, COVER, COVER)
    assert outcome("trim.size", longer, LARGER_COVER) == "met"
    one_short = with_cover(COVER, COVER, *[INNER] * 17, COVER)
    assert only_finding("trim.size", one_short, LARGER_COVER).finding.pages == (19,)


def test_a_page_of_a_part_is_no_scaled_inner_page() -> None:
    (finding,) = judged("trim.scale", with_cover((226.8, 318.15), COVER, *[INNER] * 4, COVER, COVER), LARGER_COVER)[1]
    assert finding.finding.measured["percent"] == 105
    assert finding.finding.required["width_mm"] == 216


def test_inner_pages_side_by_side_are_still_told_as_spreads() -> None:
    made = with_cover(COVER, COVER, (420, 297), (420, 297), COVER, COVER)
    findings = judge(made, LARGER_COVER).findings
    assert [(one.rule, one.finding.pages) for one in findings if one.level == "must"] == [("pages.arrangement", (3, 4))]


# --- A cover laid out flat --------------------------------------------------------------------------------------------


def flat(*bleeds: tuple[float, float, float, float]) -> Measurements:
    """The cover, then inner pages, with bleed at the top, right, bottom and left."""
    sides = [Sides(*one) for one in bleeds]
    return document(
        *(page(296 if at == 0 else 148, 210, bleed_mm=one, bleed_reach_mm=one) for at, one in enumerate(sides))
    )


ALL_ROUND, RIGHT_HAND, LEFT_HAND = (3.0, 3.0, 3.0, 3.0), (3.0, 3.0, 3.0, 0.0), (3.0, 0.0, 3.0, 3.0)


def test_a_cover_that_is_laid_out_flat_is_no_spread_that_the_printer_did_not_want() -> None:
    made = flat(ALL_ROUND, RIGHT_HAND, LEFT_HAND, RIGHT_HAND, LEFT_HAND)
    assert judge(made, FLAT_COVER).verdict.startswith("conforming")


def test_the_page_behind_it_is_a_right_hand_page() -> None:
    """The cover counts for its two outer pages: what follows is bound at the left."""
    made = flat(ALL_ROUND, LEFT_HAND, RIGHT_HAND, LEFT_HAND, RIGHT_HAND)
    _, findings = judged("bleed.declared", made, FLAT_COVER)
    assert sorted(one.finding.pages for one in findings) == [(2, 4), (3, 5)]


def test_both_sides_of_a_flat_cover_are_outer_edges() -> None:
    made = flat(RIGHT_HAND, RIGHT_HAND, LEFT_HAND, RIGHT_HAND, LEFT_HAND)
    assert only_finding("bleed.declared", made, FLAT_COVER).finding.pages == (1,)


# --- Beside other keys ------------------------------------------------------------------------------------------------


def test_folds_are_those_of_the_other_pages() -> None:
    sheet = read_sheet({
        "trim": {"width": 210, "height": 99, "parts": [{"name": "card", "last": 1, "width": 85, "height": 55}]},
        "folds": [{"at": 105, "axis": "vertical"}], "folding": {"type": "half"}, "margin": {"minimum": 3},
    })
    words = content(text=(run("Halyard Lane", x=40, y=20), run("Bakery", x=60, y=30)))
    made = document(page(210, 99), page(85, 55, content=words))
    assert [outcome(rule, made, sheet) for rule in ("fold.panels", "margin.fold", "trim.size")] == ["met"] * 3


STAMP_ON_EACH_PAGE = read_sheet({
    "trim": {
        "width": 148, "height": 210, "scales": [1, 2], "parts": [{"name": "cover", "first": 1, "width": 296, "height": 214}],
    },
    "keep_clear": [
        {"name": "stamp", "box": [0, 0, 74, 40], "corner": "top-right"},
        {"name": "machine code", "box": [0, 0, 60, 15], "corner": "bottom-left"},
    ],
})


@pytest.mark.parametrize(
    ("on_cover", "inside", "found"),
    [
        ((230, 20), (60, 60), [("stamp", (1,), (222, 0, 296, 40))]),
        ((200, 20), (60, 60), []),  # where the stamp would be on a page of 148 mm, and further in on this one
        ((30, 205), (60, 60), [("machine code", (1,), (0, 199, 60, 214))]),
        ((30, 194), (60, 60), []),
        ((60, 60), (80, 20), [("stamp", (2,), (74, 0, 148, 40))]),
        ((60, 60), (50, 20), []),
        ((230, 20), (80, 20), [("stamp", (1,), (222, 0, 296, 40)), ("stamp", (2,), (74, 0, 148, 40))]),
    ],
)
@pytest.mark.parametrize("scale", [1, 2])
def test_an_area_keeps_to_its_corner_of_a_page_of_its_own_size(
    on_cover: tuple[float, float],
    inside: tuple[float, float],
    found: list[tuple[str, tuple[int, ...], tuple[float, ...]]],
    scale: int,
) -> None:
    words = [content(text=(run("Bun", x=x / scale, y=y / scale, size_pt=6 / scale),)) for x, y in (on_cover, inside)]
    made = document(page(296 / scale, 214 / scale, content=words[0]), page(148 / scale, 210 / scale, content=words[1]))
    _, findings = judged("copy.keep-clear", made, STAMP_ON_EACH_PAGE)
    told = [(one.finding.required["keep_clear"], one.finding.pages, one.finding.required["box_mm"]) for one in findings]
    assert told == [(name, pages, [side / scale for side in box]) for name, pages, box in found]


def test_guide_copy_is_in_an_area_where_it_lies_on_that_page() -> None:
    words = content(text=(run("Your name here", x=230, y=20),))
    made = document(page(296, 214, content=words), page(148, 210))
    assert only_finding("copy.placeholder", made, STAMP_ON_EACH_PAGE).level == "must"
    elsewhere = document(page(296, 214, content=content(text=(run("Your name here", x=100, y=20),))), page(148, 210))
    assert only_finding("copy.placeholder", elsewhere, STAMP_ON_EACH_PAGE).level == "should"


def test_a_part_is_drawn_to_scale_with_the_rest() -> None:
    sheet = read_sheet({
        "trim": {
            "width": 1000, "height": 2000, "scales": [10], "parts": [{"name": "top", "first": 1, "width": 1000, "height": 500}],
        },
    })
    assert outcome("trim.size", document(page(100, 50), page(100, 200)), sheet) == "met"
    assert only_finding("trim.size", document(page(100, 200), page(100, 200)), sheet).finding.pages == (1,)


def test_beside_other_sizes_a_part_keeps_its_own() -> None:
    sheet = read_sheet({
        "trim": {
            "width": 210, "height": 297, "alternatives": [{"width": 216, "height": 279}],
            "parts": [{"name": "tab", "last": 1, "width": 225, "height": 297}],
        },
    })
    assert outcome("trim.size", document(page(216, 279), page(216, 279), page(225, 297)), sheet) == "met"


def test_what_a_file_says_of_the_parts_is_not_written() -> None:
    seen = fitted_to(LARGER_COVER, RIGHT)
    assert sheet_to_document(seen) == sheet_to_document(LARGER_COVER)
    assert read_sheet(sheet_to_document(LARGER_COVER)) == LARGER_COVER
    assert sheet_to_document(LARGER_COVER)["trim"]["parts"] == [
        {"name": "cover", "first": 2, "last": 2, "width": "216 mm", "height": "303 mm"}
    ]


@pytest.mark.parametrize(
    ("part", "pointer"),
    [
        ({"name": "cover", "width": 216, "height": 303}, "/trim/parts/0"),
        ({"first": 1, "width": 216, "height": 303}, "/trim/parts/0/name"),
        ({"name": "cover", "first": 0, "width": 216, "height": 303}, "/trim/parts/0/first"),
        ({"name": "cover", "first": 1, "width": 216}, "/trim/parts/0/height"),
    ],
)
def test_a_part_has_a_name_a_size_and_a_place(part: dict[str, object], pointer: str) -> None:
    with pytest.raises(SheetRefused) as refused:
        read_sheet({"trim": {"width": 210, "height": 297, "parts": [part]}})
    assert pointer in [where for where, _ in refused.value.errors]
