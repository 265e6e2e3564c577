"""The five boxes, rotation and unit of a page: ISO 32000-2:2020, 7.7.3, 7.9.5 and 14.11.2."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

import pikepdf
import pytest

from service.pdf.facts.geometry import Box
from service.pdf.pages.page_boxes import LETTER_PT, DeclaredPage, boxes_declared, boxes_in_force, read_page, ruler
from tests.build import PageBuilder, page
from tests.pdf.by_hand import CATALOG, page_with, written


@contextmanager
def first_page(data: bytes) -> Iterator[pikepdf.Object]:
    with pikepdf.open(io.BytesIO(data), inherit_page_attributes=False) as pdf:
        yield pdf.pages[0].obj


def read(entries: str) -> DeclaredPage:
    with first_page(page_with(entries)) as obj:
        return read_page(obj)


# --- As declared ---


def test_boxes_are_read_as_declared() -> None:
    found = read("/MediaBox[0 0 200 100]/TrimBox[10 10 190 90]")
    assert found.boxes_pt == {"media": Box(0, 0, 200, 100), "trim": Box(10, 10, 190, 90)}
    assert (found.rotation, found.user_unit, found.slips) == (0, 1.0, ())


@pytest.mark.parametrize("corners", ["0 0 200 100", "200 100 0 0", "0 100 200 0", "200 0 0 100", "0 0 4 0 R 100"])
def test_any_two_corners_make_the_box(corners: str) -> None:
    assert read(f"/MediaBox[{corners}]").media_pt == Box(0, 0, 200, 100)


@pytest.mark.parametrize(
    "value",
    [
        "[0 0 200]",
        "[0 0 200 100 0]",
        "[0 0 (200) 100]",
        "[0 0 0 0]",
        "[5 5 5 90]",
        "null",
        "7",
        "[0 0 true 100]",
        "[0 0 99999999 9]",
    ],
)
def test_what_is_no_rectangle_is_left_out_and_named(value: str) -> None:
    found = read(f"/MediaBox[0 0 200 100]/TrimBox {value}")
    assert "trim" not in found.boxes_pt
    assert len(found.slips) == (0 if value == "null" else 1)


def test_a_page_without_a_size_is_taken_as_letter_and_named() -> None:
    with first_page(page_with("")) as obj:
        found = read_page(obj, has_size=False)
    assert found.media_pt == LETTER_PT
    assert "media" not in found.boxes_pt
    assert len(found.slips) == 1


def test_a_coordinate_of_forty_digits_is_no_size() -> None:
    found = read(f"/MediaBox[0 0 200.0 {'9' * 40}.0]")
    assert found.media_pt == LETTER_PT
    assert len(found.slips) == 2


def test_media_crop_and_rotation_are_inherited_and_the_others_are_not() -> None:
    tree = (
        "<</Type/Pages/Kids[3 0 R]/Count 1/MediaBox[0 0 200 100]/CropBox[5 5 195 95]/Rotate 90/TrimBox[10 10 20 20]/UserUnit 2>>"
    )
    with first_page(written(CATALOG, tree, "<</Type/Page/Parent 2 0 R/Resources<<>>>>")) as obj:
        found = read_page(obj)
    assert found.boxes_pt == {"media": Box(0, 0, 200, 100), "crop": Box(5, 5, 195, 95)}
    assert (found.rotation, found.user_unit) == (90, 1.0)


def test_the_nearest_usable_box_up_the_tree_counts() -> None:
    tree = "<</Type/Pages/Kids[3 0 R]/Count 1/MediaBox[0 0 200 100]>>"
    with first_page(written(CATALOG, tree, "<</Type/Page/Parent 2 0 R/Resources<<>>/MediaBox(wide)>>")) as obj:
        found = read_page(obj)
    assert found.media_pt == Box(0, 0, 200, 100)
    assert len(found.slips) == 1


def test_parents_in_a_loop_end() -> None:
    with first_page(page_with("/MediaBox[0 0 200 100]")) as obj:
        obj["/Parent"]["/Parent"] = obj
        del obj["/MediaBox"]
        assert read_page(obj).media_pt == LETTER_PT


# --- Rotation and unit ---


@pytest.mark.parametrize(
    ("value", "rotation"),
    [("0", 0), ("90", 90), ("180", 180), ("270", 270), ("360", 0), ("450", 90), ("-90", 270), ("-450", 270), ("90.0", 90)],
)
def test_rotations(value: str, rotation: int) -> None:
    found = read(f"/MediaBox[0 0 200 100]/Rotate {value}")
    assert (found.rotation, found.slips) == (rotation, ())


@pytest.mark.parametrize("value", ["45", "90.5", "(90)", "/Ninety", "true", "[90]"])
def test_a_rotation_that_is_none_is_no_rotation_and_named(value: str) -> None:
    found = read(f"/MediaBox[0 0 200 100]/Rotate {value}")
    assert found.rotation == 0
    assert len(found.slips) == 1


@pytest.mark.parametrize(("value", "unit"), [("1", 1.0), ("2.5", 2.5), ("0.1", 0.1)])
def test_user_units(value: str, unit: float) -> None:
    found = read(f"/MediaBox[0 0 200 100]/UserUnit {value}")
    assert (found.user_unit, found.slips) == (unit, ())


@pytest.mark.parametrize("value", ["0", "-1", "(2)", f"{'9' * 30}.0", "true"])
def test_a_user_unit_that_is_none_is_one_and_named(value: str) -> None:
    found = read(f"/MediaBox[0 0 200 100]/UserUnit {value}")
    assert found.user_unit == 1.0
    assert len(found.slips) == 1


# --- In force ---


def in_force(entries: str) -> dict[str, Box]:
    """With the media's top-left as origin and points as unit: plain numbers to compare."""
    found = read(entries)
    boxes = boxes_in_force(found, found.in_force_pt("trim") or found.crop_pt, ruler(found.media_pt, 0, 72 / 25.4))
    return {name: Box(*(round(one, 6) for one in getattr(boxes, name))) for name in ("media", "crop", "bleed", "trim", "art")}


def test_bleed_trim_and_art_default_to_the_crop_box_and_that_to_the_media_box() -> None:
    plain = in_force("/MediaBox[0 0 200 100]")
    assert set(plain.values()) == {Box(0, 0, 200, 100)}
    cropped = in_force("/MediaBox[0 0 200 100]/CropBox[10 10 190 90]")
    assert {name for name, box in cropped.items() if box == Box(10, 10, 190, 90)} == {"crop", "bleed", "trim", "art"}


def test_a_box_beyond_the_media_is_cut_to_it() -> None:
    boxes = in_force("/MediaBox[0 0 200 100]/BleedBox[-50 -50 300 90]")
    assert boxes["bleed"] == Box(0, 10, 200, 100)  # y down: 90 of 100 is 10 from the top


@pytest.mark.parametrize("off", ["[300 0 400 100]", "[200 0 300 100]"], ids=["apart", "only touching"])
def test_a_box_off_the_sheet_stays_declared_and_is_not_in_force(off: str) -> None:
    found = read(f"/MediaBox[0 0 200 100]/TrimBox {off}")
    assert "trim" in found.boxes_pt
    assert found.in_force_pt("trim") is None
    declared = boxes_declared(found, ruler(found.media_pt, 0, 1))
    assert [one.name for one in declared] == ["media", "trim"]
    assert declared[1].box.x0 >= 200 * 25.4 / 72 - 1e-9


# --- The ruler ---


@pytest.mark.parametrize("degrees", [0, 90, 180, 270, 450, -90])
@pytest.mark.parametrize("unit", [1, 2.5])
@pytest.mark.parametrize("origin", [(0, 0), (-300, 1000.5)])
def test_a_page_measures_the_same_however_it_is_written(degrees: int, unit: float, origin: tuple[float, float]) -> None:
    """85 × 55 mm with 3 mm of bleed and a slug of 7 mm, and a CropBox that takes only the left edge off."""
    made = page(85, 55, bleed=3, slug=7).box("CropBox", (-8, -10, 95, 65)).rotated(degrees).user_unit(unit).origin(*origin)
    boxes = measured(made)
    assert boxes["trim"] == pytest.approx((0, 0, 85, 55), abs=1e-3)
    assert boxes["bleed"] == pytest.approx((-3, -3, 88, 58), abs=1e-3)
    assert boxes["media"] == pytest.approx((-10, -10, 95, 65), abs=1e-3)
    assert boxes["crop"] == pytest.approx((-8, -10, 95, 65), abs=1e-3)


def measured(made: PageBuilder) -> dict[str, Box]:
    with first_page(made.bytes()) as obj:
        found = read_page(obj)
    trim = found.in_force_pt("trim")
    assert trim
    boxes = boxes_in_force(found, trim, ruler(trim, found.rotation, found.user_unit))
    return {name: getattr(boxes, name) for name in ("media", "crop", "bleed", "trim", "art")}


@pytest.mark.parametrize(
    ("rotation", "top_left", "right_of_it"),
    [(0, (10, 80), (20, 80)), (90, (10, 20), (10, 30)), (180, (110, 20), (100, 20)), (270, (110, 80), (110, 70))],
)
def test_the_ruler_starts_at_the_corner_that_shows_top_left(
    rotation: int, top_left: tuple[float, float], right_of_it: tuple[float, float]
) -> None:
    """Turned clockwise by 90 degrees, the bottom-left corner of the page comes to the top left (Table 31, Rotate)."""
    to_mm = ruler(Box(10, 20, 110, 80), rotation, 72 / 25.4)  # type: ignore[arg-type]
    assert to_mm.point(*top_left) == pytest.approx((0, 0), abs=1e-9)
    assert to_mm.point(*right_of_it) == pytest.approx((10, 0), abs=1e-9)
