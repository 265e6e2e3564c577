"""Maps of ink and tints of a plate: on made pages, the truth worked out beside them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pikepdf import Dictionary

from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_map import InkMap
from service.pdf.facts.page import Page
from service.pdf.facts.plates import FinishingPlate, PlateFacts
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.plates.areas.ink_squares import MOST_SQUARES, ink_map, tinted_regions
from service.pdf.plates.separation import Plates
from service.pdf.question import Question
from tests.build import PageBuilder, page

LETTER, AREA = (210.0, 297.0), Box(25, 100, 190, 270)


def measured(made: PageBuilder, folder: Path, *finishing: str) -> Page:
    pages = measure(made.save(folder / "page.pdf"), Question(finishing_inks=finishing)).pages
    assert not isinstance(pages, Unmeasured)
    return pages[0]


def mapped(made: PageBuilder, folder: Path) -> InkMap:
    plates = measured(made, folder).plates
    assert isinstance(plates, PlateFacts)
    assert isinstance(plates.ink_map, InkMap)
    return plates.ink_map


def frame(made: PageBuilder) -> PageBuilder:
    """One path in the shape of an L, along the head and the left side, as far as the area."""
    corners = [(-3, -3), (213, -3), (213, 100), (25, 100), (25, 300), (-3, 300)]
    points = [b"%.4f %.4f" % (made._x(x), made._y(y)) for x, y in corners]
    return made.raw(b"q 1 0 0 0 k", points[0], b"m", b" l ".join(points[1:]), b"l f Q")


@pytest.mark.parametrize(
    ("made", "inked"),
    [
        (page(*LETTER), False),
        (frame(page(*LETTER)), False),
        (page(*LETTER).fill(cyan=1).fill((25, 100, 190, 270), cyan=0), False),
        (page(*LETTER).fill((60, 150, 90, 180), gray=1), False),
        (page(*LETTER).fill(cyan=0.02), True),
        (page(*LETTER).text(".", 6, (100, 200)), True),
        (page(*LETTER).line((30, 200), (180, 200), 0.25, black=1), True),
        (page(*LETTER).fill((60, 150, 61, 151), rgb=(0.9, 0.9, 1)), True),
        (page(*LETTER).fill((60, 150, 60.1, 150.1), black=1), True),
        (page(*LETTER).rotated(90).text(".", 6, (100, 200)), True),
    ],
    ids=["bare", "around", "cut out", "white on white", "2 %", "full stop", "hairline", "light blue", "speck", "rotated"],
)
def test_whether_ink_lies_in_an_area(made: PageBuilder, inked: bool, tmp_path: Path) -> None:
    found = mapped(made, tmp_path)
    assert found.holds_ink(AREA, AREA) is inked
    assert bool(found.inked_boxes(AREA)) is inked


def test_ink_is_told_where_it_lies(tmp_path: Path) -> None:
    found = mapped(page(*LETTER).fill((50, 120, 80, 140), magenta=0.3).fill((100, 200, 130, 210), black=1), tmp_path)
    assert found.inked_boxes(AREA) == (
        pytest.approx(Box(50, 120, 80, 140), abs=1.1), pytest.approx(Box(100, 200, 130, 210), abs=1.1),
    )
    assert found.inked_boxes(AREA, found.touched_by([Box(49, 119, 81, 141)])) == (
        pytest.approx(Box(100, 200, 130, 210), abs=1.1),
    )
    assert found.holds_ink(AREA, Box(51, 121, 55, 125)) is True
    assert found.holds_ink(AREA, Box(51, 121, 55, 125), found.touched_by([Box(49, 119, 81, 141)])) is None
    assert found.holds_ink(AREA, Box(51, 121, 95, 125), found.touched_by([Box(49, 119, 81, 141)])) is False
    assert found.holds_ink(AREA, Box(85, 121, 95, 125)) is False


def test_no_square_tells_of_what_ends_at_the_edge_or_lies_off_the_sheet(tmp_path: Path) -> None:
    found = mapped(page(*LETTER).fill((0, 0, 210, 100.3), cyan=1), tmp_path)
    assert found.holds_ink(AREA, Box(25, 100, 190, 100.3)) is None
    assert found.holds_ink(Box(300, 0, 400, 90), Box(300, 0, 400, 90)) is None
    assert found.inked_boxes(Box(300, 0, 400, 90)) == ()
    assert found.holds_ink(Box(10, 10, 10.5, 10.5), Box(10, 10, 10.5, 10.5)) is None


# --- The map itself ---


@given(st.lists(st.lists(st.booleans(), min_size=13, max_size=13), min_size=1, max_size=12))
def test_boxes_cover_the_inked_squares_and_nothing_else(squares: list[list[bool]]) -> None:
    amount = np.kron(np.array(squares, dtype=np.uint16) * 255, np.ones((4, 4), dtype=np.uint16))
    coverage = {"Black": amount.astype(np.uint8)}
    plates = Plates(Box(0, 0, 13, len(squares)), 101.6, coverage, converted=False, picture_steps_percent={})
    found = ink_map(amount, plates)
    covered = np.zeros((len(squares), 13), dtype=int)
    for x0, y0, x1, y1 in found.inked_boxes(Box(-1, -1, 20, 20)):
        covered[round(y0) : round(y1), round(x0) : round(x1)] += 1
    assert (covered == np.array(squares)).all()


@pytest.mark.parametrize("shape", [(1, 1), (1, 400), (5, 3), (4000, 6500)])
def test_a_map_stays_small(shape: tuple[int, int]) -> None:
    plate = np.full(shape, 255, dtype=np.uint8)
    area = Box(0, 0, shape[1] * 0.254, shape[0] * 0.254)
    found = ink_map(plate, Plates(area, 100, {"Black": plate}, converted=False, picture_steps_percent={}))
    assert found.columns * len(found.rows) <= MOST_SQUARES + found.columns + len(found.rows)
    assert found.columns * found.square_mm == pytest.approx(area.width, abs=found.square_mm)
    assert found.holds_ink(area.grown(5), area) is True


def test_rows_that_are_alike_are_written_once(tmp_path: Path) -> None:
    assert sum(map(len, mapped(page(*LETTER).fill(cyan=1), tmp_path).rows)) < 200


def test_a_page_that_names_no_ink_has_an_empty_map(tmp_path: Path) -> None:
    found = mapped(page(*LETTER), tmp_path)
    assert (found.columns * found.square_mm, len(found.rows) * found.square_mm) == pytest.approx((216, 303), abs=1)
    assert found.inked_boxes(Box(-3, -3, 213, 300)) == ()


# --- Finishing plates ---


def finishing(made: PageBuilder, folder: Path) -> FinishingPlate:
    plates = measured(made, folder, "Foil").plates
    assert isinstance(plates, PlateFacts)
    (found,) = plates.finishing
    return found


def test_a_solid_finish_has_a_map_of_its_own_and_no_tints(tmp_path: Path) -> None:
    made = page(85, 55).fill((10, 10, 30, 25), spot=("Foil", 1)).text("Bread", 9, (40, 40), spot=("Foil", 1))
    made.line((5, 5), (80, 50), 0.25, spot=("Foil", 1))
    found = finishing(made, tmp_path)
    assert (found.ink, found.tint_least_percent, found.tinted_boxes_mm) == ("Foil", None, ())
    assert found.ink_map.holds_ink(Box(5, 5, 35, 30), Box(12, 12, 28, 20)) is True
    plates = measured(made, tmp_path, "Foil").plates
    assert isinstance(plates, PlateFacts)
    assert isinstance(plates.ink_map, InkMap)
    assert plates.ink_map.inked_boxes(Box(-3, -3, 88, 58)) == ()


def test_a_picture_in_a_finish_leaves_tints(tmp_path: Path) -> None:
    found = finishing(page(85, 55).picture((10, 10, 40, 30), color="Foil"), tmp_path)
    assert found.tint_least_percent is not None
    assert 5 <= found.tint_least_percent < 95
    whole = Box(10, 10, 40, 30).grown(0.5)
    assert found.tinted_boxes_mm
    assert all(whole.contains(box) for box in found.tinted_boxes_mm)


def test_a_transparent_finish_is_a_tint(tmp_path: Path) -> None:
    made = page(85, 55).resource("ExtGState", "Half", Dictionary(ca=0.4)).raw(b"q /Half gs")
    found = finishing(made.fill((10, 10, 30, 25), spot=("Foil", 1)).raw(b"Q"), tmp_path)
    assert found.tint_least_percent == pytest.approx(40, abs=0.6)
    assert found.tinted_boxes_mm == (pytest.approx(Box(10, 10, 30, 25), abs=0.6),)


@pytest.mark.parametrize("shape", [(1, 1), (2, 9), (3, 3), (40, 1)])
def test_hardly_any_pixels_hold_no_tint(shape: tuple[int, int]) -> None:
    assert tinted_regions(np.full(shape, 100, dtype=np.uint8), 0.0645, 20) == (None, [])


def test_an_empty_map_of_a_record_says_nothing_is_inked() -> None:
    bare = InkMap(0, 0, 1, 50, ("",) * 50)
    assert bare.holds_ink(Box(1, 1, 20, 20), Box(3, 3, 9, 9)) is False
    assert replace(bare, rows=("", "01", "")).inked_boxes(Box(-1, -1, 9, 9)) == (Box(0, 1, 1, 3),)
