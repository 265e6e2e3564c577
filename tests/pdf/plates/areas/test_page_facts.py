"""What plates say about a page: on pages that are drawn, separated and measured, the truth worked out beside them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.page import Page
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.plates.areas.page_facts import with_plates
from service.pdf.plates.separation import Plates
from service.pdf.question import Question
from tests.build import PageBuilder, page
from tests.outside.separations import our_plates

NOTHING = Question()


def plated(made: PageBuilder, folder: Path, question: Question = NOTHING) -> tuple[Page, PlateFacts]:
    data = made.bytes()
    (folder / "page.pdf").write_bytes(data)
    pages = measure(folder / "page.pdf").pages
    assert not isinstance(pages, Unmeasured)
    found = with_plates(pages[0], our_plates(data, folder), question)
    assert isinstance(found.plates, PlateFacts)
    return found, found.plates


def reached(made: PageBuilder, folder: Path) -> Sides[float | None]:
    found, _ = plated(made, folder)
    assert not isinstance(found.bleed_reach_mm, Unmeasured)
    return found.bleed_reach_mm


# --- Into the bleed ---


@pytest.mark.parametrize(
    "made",
    [
        page(85, 55).fill((-1.2, -3, 88, 58), cyan=1),
        page(85, 55).fill((-1.2, -3, 88, 58), cyan=0.02),
        page(85, 55).fill((-1.2, -3, 88, 58), rgb=(0.2, 0.5, 0.9)),
        page(85, 55).fill((-1.2, -3, 88, 58), spot=("Copper", 0.5)),
        page(85, 55).picture((-1.2, -3, 88, 58)),
        page(85, 55, slug=7).fill((-1.2, -3, 88, 58), cyan=1).crop_marks(offset=3),
        page(85, 55).fill((-1.2, -3, 88, 58), cyan=1).rotated(90),
        page(85, 55).fill((-1.2, -3, 88, 58), cyan=1).rotated(180).user_unit(2.5),
        page(85, 55).fill((-1.2, -3, 88, 58), cyan=1).origin(-400, 77.7),
    ],
    ids=["solid", "2 %", "RGB", "spot", "picture", "marks", "rotated", "turned, in units", "elsewhere"],
)
def test_a_card_whose_background_stops_past_the_left_trim(made: PageBuilder, tmp_path: Path) -> None:
    found, plates = plated(made, tmp_path)
    assert found.bleed_reach_mm == Sides(3.0, 3.0, 3.0, pytest.approx(1.2, abs=0.2))
    assert [(one.side, one.reach_mm) for one in plates.edge_stops] == [("left", pytest.approx(1.2, abs=0.2))]


@pytest.mark.parametrize("depth", [0, 0.5, 1.1, 1.2, 1.37, 2.5])
@pytest.mark.parametrize("side", ["top", "right", "bottom", "left"])
def test_the_depth_is_told_on_every_side(side: str, depth: float, tmp_path: Path) -> None:
    ends = {"top": -depth, "right": 85 + depth, "bottom": 55 + depth, "left": -depth}
    full = {"left": -3.0, "top": -3.0, "right": 88.0, "bottom": 58.0} | {side: ends[side]}
    made = page(85, 55).fill((full["left"], full["top"], full["right"], full["bottom"]), cyan=1, black=0.3)
    expected = dict.fromkeys(ends, 3.0) | {side: pytest.approx(depth, abs=0.05)}
    assert dict(reached(made, tmp_path).items()) == expected


def test_white_paper_marks_and_slug_are_no_artwork(tmp_path: Path) -> None:
    made = page(85, 55, slug=7).fill((20, 20, 40, 40), black=1).crop_marks(offset=3).text("Halyard Lane Bakery", 6, (5, -5))
    assert reached(made, tmp_path) == Sides(None, None, None, None)


def test_a_white_area_over_the_background_ends_it(tmp_path: Path) -> None:
    assert reached(page(85, 55).fill(cyan=1).fill((-3, -3, 88, 0), cyan=0), tmp_path).top == pytest.approx(0, abs=0.2)


def test_a_page_without_bleed_reaches_nothing_beyond_the_trim(tmp_path: Path) -> None:
    assert reached(page(85, 55, bleed=0).fill((0, 0, 85, 20), cyan=1), tmp_path) == Sides(0.0, 0.0, None, 0.0)


def test_a_bleed_that_the_file_does_not_declare_is_measured_in_the_room_beyond_the_trim(tmp_path: Path) -> None:
    made = page(85, 55, slug=7).fill(cyan=1).crop_marks(offset=3).without_bleed_box()
    assert reached(made, tmp_path) == Sides(*[pytest.approx(3, abs=0.2)] * 4)


def test_a_finishing_ink_is_no_artwork_where_it_is_known(tmp_path: Path) -> None:
    made = page(85, 55).line((0, -3), (0, 58), 0.5, spot=("Cut Line", 1))
    assert reached(made, tmp_path).left == pytest.approx(0.1, abs=0.2)
    found, plates = plated(made, tmp_path, Question(finishing_inks=("cutline",)))
    assert found.bleed_reach_mm == Sides(None, None, None, None)
    assert (plates.left_out, found.ink_max_percent) == (("Cut Line",), 0)


# --- Total ink ---


def test_stacked_inks_add_up_and_the_place_is_told(tmp_path: Path) -> None:
    made = page(85, 55).fill(cyan=0.5).fill((10, 10, 30, 25), cyan=1, magenta=0.9, yellow=0.8, black=1)
    found, plates = plated(made, tmp_path, Question(ink_limits_percent=(300, 400)))
    assert found.ink_max_percent == pytest.approx(370, abs=0.5)
    assert plates.area_over_mm2(300) == pytest.approx(20 * 15, rel=0.04)
    assert plates.area_over_mm2(380) == 0
    assert [one.limit_percent for one in plates.heavy_ink] == [300]
    for box in (plates.ink_max_box_mm, *plates.heavy_ink[0].boxes_mm):
        assert box == pytest.approx(Box(10, 10, 30, 25), abs=0.3)


def picture_of_colors(*colors: tuple[int, int, int, int]) -> PageBuilder:
    """A card with a picture of 283 ppi in a table of these colours, tints of 255, in coarse and fine patches."""
    codes = np.random.default_rng(7).integers(0, len(colors), (120, 160), np.uint8)
    codes[:60, :80] = np.kron(codes[:10, :10], np.ones((6, 8), np.uint8))
    table = pikepdf.String(np.array(colors, np.uint8).tobytes())

    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        stream = pikepdf.Stream(pdf, codes.tobytes(), Type=Name.XObject, Subtype=Name.Image, Width=160, Height=120)
        stream.BitsPerComponent, stream.ColorSpace = 8, Array([Name.Indexed, Name.DeviceCMYK, len(colors) - 1, table])
        return pdf.make_indirect(stream)

    return page(85, 55).resource("XObject", "P", make).raw(b"q 40.83 0 0 30.47 60.37 50.11 cm /P Do Q")


AT_THE_LIMIT = ((255, 255, 255, 0), (0, 255, 255, 255), (191, 191, 191, 192), (200, 210, 155, 200))
"""300 % each."""


def test_a_picture_whose_darkest_colours_are_at_the_limit_keeps_it(tmp_path: Path) -> None:
    """It read 303 % over all of it: PDFium's scaling rounds each ink up."""
    found, plates = plated(picture_of_colors(*AT_THE_LIMIT), tmp_path, Question(ink_limits_percent=(300, 298)))
    assert found.ink_max_percent == 300.0
    assert plates.area_beyond_limit_mm2(300) == 0
    assert [one.limit_percent for one in plates.heavy_ink] == [298]


def test_a_picture_of_a_little_more_does_not(tmp_path: Path) -> None:
    a_little_more = tuple((*inks[:3], min(inks[3] + 6, 255)) for inks in AT_THE_LIMIT if inks[3] < 255)
    found, plates = plated(picture_of_colors(*a_little_more), tmp_path, Question(ink_limits_percent=(300,)))
    assert found.ink_max_percent == 302.4
    assert plates.area_beyond_limit_mm2(300) > 100
    assert plates.heavy_ink


def test_a_finishing_ink_adds_nothing_to_the_total(tmp_path: Path) -> None:
    made = page(85, 55).fill(cyan=1, magenta=1, black=0.5)
    made.resource("ExtGState", "Over", Dictionary(OP=True, op=True, OPM=1)).raw(b"/Over gs").fill(
        (10, 10, 30, 25), spot=("Foil 3", 1)
    )
    assert plated(made, tmp_path)[0].ink_max_percent == pytest.approx(350, abs=0.5)
    found, plates = plated(made, tmp_path, Question(finishing_inks=("foil 3",)))
    assert found.ink_max_percent == pytest.approx(250, abs=0.5)
    assert plates.left_out == ("Foil 3",)


def test_what_lies_in_the_slug_is_not_counted(tmp_path: Path) -> None:
    heavy = {"cyan": 1, "magenta": 1, "yellow": 1, "black": 1}
    made = page(85, 55, slug=7).fill((10, -9, 30, -4), **heavy).fill((0, 0, 85, 55), black=1)
    assert plated(made, tmp_path)[0].ink_max_percent == 100
    assert plated(made.without_bleed_box(), tmp_path)[0].ink_max_percent == 100
    inside = page(85, 55).fill((10, -2.5, 30, -0.5), **heavy)
    assert plated(inside, tmp_path)[0].ink_max_percent == 400


# --- Coverage, blank pages, empty plates ---


def test_coverage_is_the_mean_over_the_trimmed_page(tmp_path: Path) -> None:
    made = page(80, 50).fill((-3, -3, 40, 53), cyan=0.6).fill((-3, -3, 83, 0), black=1)
    inks = {one.ink: one for one in plated(made, tmp_path)[1].inks}
    assert inks["Cyan"].percent == pytest.approx(30, abs=0.3)
    assert inks["Black"].percent == pytest.approx(0, abs=0.6)
    assert not inks["Black"].empty


@pytest.mark.parametrize(
    ("made", "blank"),
    [
        (page(85, 55), True),
        (page(85, 55).fill(cyan=0), True),
        (page(85, 55, slug=7).crop_marks(offset=3), True),
        (page(85, 55).fill(cyan=1).fill((0, 0, 85, 55), cyan=0), True),
        (page(85, 55).text("4", 6, (40, 50)), False),
        (page(85, 55).fill(cyan=0.02), False),
        (page(85, 55).line((10, 10), (30, 10), 0.1, black=1), False),
    ],
    ids=["nothing", "white", "marks", "covered up", "a page number", "2 %", "a hairline"],
)
def test_a_page_without_ink_inside_the_trim_is_blank(made: PageBuilder, blank: bool, tmp_path: Path) -> None:
    assert plated(made, tmp_path)[1].blank == blank


def empty(made: PageBuilder, folder: Path) -> set[str]:
    return {one.ink for one in plated(made, folder)[1].inks if one.empty}


def test_a_plate_is_empty_where_all_of_its_ink_is_covered_up_or_in_the_slug(tmp_path: Path) -> None:
    copper = {"spot": ("Copper", 1)}
    assert empty(page(85, 55).fill((10, 10, 20, 20), **copper), tmp_path) == set()
    assert empty(page(85, 55).fill((10, 10, 20, 20), **copper).fill((5, 5, 25, 25), black=1), tmp_path) == {"Copper"}
    assert empty(page(85, 55, slug=7).fill((10, -9, 20, -5), **copper).fill((5, 5, 25, 25), black=1), tmp_path) == {"Copper"}
    assert empty(page(85, 55).fill((10, 10, 20, 20), spot=("Copper", 0.01)), tmp_path) == set()


# --- Without plates, and odd ones ---


# --- Pictures ---


def framed(ink: Callable[[int, int], bool], keys: dict[str, Any], at: tuple[float, float, float, float]) -> PageBuilder:
    """A picture of 100 × 100 samples, black where there is ink and white elsewhere."""
    rows = [bytes(0 if ink(column, row) else 255 for column in range(100)) for row in range(100)]

    def make(pdf: Pdf) -> Any:
        made = Stream(pdf, b"".join(rows), Type=Name.XObject, Subtype=Name.Image, Width=100, Height=100, BitsPerComponent=8)
        made.ColorSpace = Name.DeviceGray
        for key, value in keys.items():
            made[key] = value(pdf, b"".join(rows)) if callable(value) else value
        return pdf.make_indirect(made)

    x0, y0, x1, y1 = (side * 72 / 25.4 for side in at)
    placed = b"q %.4f 0 0 %.4f %.4f %.4f cm /P Do Q" % (x1 - x0, y1 - y0, x0 + 3 * 72 / 25.4, 58 * 72 / 25.4 - y1)
    return page(85, 55).resource("XObject", "P", make).raw(placed)


def soft_mask(pdf: Pdf, samples: bytes) -> Any:
    clear = bytes(255 - one for one in samples)
    keys = {"Type": Name.XObject, "Subtype": Name.Image, "Width": 100, "Height": 100, "BitsPerComponent": 8}
    return pdf.make_indirect(Stream(pdf, clear, ColorSpace=Name.DeviceGray, **keys))


@pytest.mark.parametrize(
    "keys", [{}, {"/SMask": soft_mask}, {"/Mask": Array([255, 255])}], ids=["white rim", "clear rim", "key of white"]
)
def test_a_picture_leaves_ink_where_its_samples_do(keys: dict[str, Any], tmp_path: Path) -> None:
    """Its frame of 20 × 20 mm begins 1 mm inside the trim, its ink 8 mm further in."""
    made = framed(lambda column, row: 40 <= column < 60 and row >= 20, keys, (1, 10, 21, 30))
    _, facts = plated(made, tmp_path)
    (ink,) = facts.picture_ink_mm
    assert ink == pytest.approx((9, 14, 13, 30), abs=0.3)
    assert ink is not None
    assert ink.y1 == pytest.approx(30, abs=0.001)  # where it goes on to the frame's edge that is told


def test_a_picture_without_ink_and_one_far_from_the_trim(tmp_path: Path) -> None:
    _, white = plated(framed(lambda _column, _row: False, {}, (1, 10, 21, 30)), tmp_path)
    assert white.picture_ink_mm == (None,)
    _, bleeding = plated(framed(lambda _column, _row: False, {}, (-3, -3, 88, 58)), tmp_path)
    assert bleeding.picture_ink_mm[0] == pytest.approx((-3, -3, 88, 58), abs=0.001)


def test_without_plates_the_page_says_why(tmp_path: Path) -> None:
    found, _ = plated(page(85, 55), tmp_path)
    why = Unmeasured("The page's separations cannot be made: it is too large.")
    without = with_plates(found, why, NOTHING)
    assert (without.plates, without.bleed_reach_mm, without.ink_max_percent) == (why, why, why)


def by_hand(shape: tuple[int, int], area: Box, inks: Iterable[str] = ("Black",)) -> Plates:
    coverage = {ink: np.full(shape, 255, dtype=np.uint8) for ink in inks}
    return Plates(area, 100, coverage, converted=False, picture_steps_percent={})


@pytest.mark.parametrize("shape", [(1, 1), (1, 400), (400, 1), (3, 2)])
def test_plates_of_hardly_any_pixels_are_no_fault(shape: tuple[int, int], tmp_path: Path) -> None:
    found, _ = plated(page(85, 55), tmp_path)
    measured = with_plates(found, by_hand(shape, found.boxes_mm.media), Question(ink_limits_percent=(50,)))
    assert isinstance(measured.plates, PlateFacts)
    assert not measured.plates.blank


def test_a_trim_without_room_for_a_pixel_is_no_fault(tmp_path: Path) -> None:
    found, _ = plated(page(85, 55), tmp_path)
    sliver = replace(found.boxes_mm, trim=Box(0, 0, 0.01, 0.01), bleed=Box(0, 0, 0.01, 0.01))
    measured = with_plates(replace(found, boxes_mm=sliver), by_hand((240, 358), found.boxes_mm.media), NOTHING)
    assert isinstance(measured.plates, PlateFacts)
    assert (measured.ink_max_percent, measured.plates.ink_area_mm2) == (0, ())
