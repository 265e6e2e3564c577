"""How far ink reaches into the bleed, on plates drawn by hand: the true depth is worked out here.

An edge of 40 mm seen at 100 ppi, the trim at the left; `drawn` gives the ink of each point, averaged over a pixel as a
renderer with anti-aliasing would, or widened to whole pixels as PDFium does with rectangles.
"""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

import numpy as np
import numpy.typing as npt
import pytest

from service.pdf.facts.geometry import Box, Side
from service.pdf.plates.areas.reach import Objects, Reach, reach

PITCH = 0.254
BLEED = 3.0
TRIM = Box(0, 0, 30, 40)
AREA = TRIM.grown(BLEED)
Shape = Callable[[npt.NDArray[np.float64], npt.NDArray[np.float64]], npt.NDArray[np.bool_]]


def drawn(shape: Shape, percent: float = 100, slug: float = 0) -> tuple[npt.NDArray[np.uint16], Box]:
    """Coverage of 8 × 8 points a pixel. The area is a whole number of pixels."""
    columns, rows = round((AREA.width + 2 * slug) / PITCH), round((AREA.height + 2 * slug) / PITCH)
    area = Box(AREA.x0 - slug, AREA.y0 - slug, AREA.x0 - slug + columns * PITCH, AREA.y0 - slug + rows * PITCH)
    x = area.x0 + (np.arange(columns * 8) + 0.5) * PITCH / 8
    y = area.y0 + (np.arange(rows * 8) + 0.5) * PITCH / 8
    inside = shape(*np.meshgrid(x, y)).reshape(rows, 8, columns, 8).mean(axis=(1, 3))
    return np.round(inside * percent * 2.55).astype(np.uint16), area


def found(shape: Shape, percent: float = 100, side: Side = "left", objects: Objects = Objects(), slug: float = 0) -> Reach:  # noqa: B008
    total, area = drawn(shape, percent, slug)
    return reach(total, area, TRIM, side, BLEED, objects)


def box(x0: float, y0: float, x1: float, y1: float) -> Shape:
    return lambda x, y: (x >= x0) & (x <= x1) & (y >= y0) & (y <= y1)


def disc(center: float, middle: float, radius: float) -> Shape:
    return lambda x, y: (x - center) ** 2 + (y - middle) ** 2 <= radius**2


def both(one: Shape, other: Shape) -> Shape:
    return lambda x, y: one(x, y) | other(x, y)


PAGE = box(-9, -9, 40, 50)


# --- The usual ---


def test_a_full_background_reaches_and_white_paper_is_not_asked() -> None:
    assert found(PAGE) == Reach(3.0, ())
    assert found(box(5, 5, 25, 35)) == Reach(None, ())


@pytest.mark.parametrize("depth", [0.0, 0.1, 0.4, 0.75, 1.2, 1.33, 2.0, 2.4])
@pytest.mark.parametrize("percent", [2, 30, 100, 300])
def test_a_background_that_stops_is_told_to_a_fifth_of_a_millimetre(depth: float, percent: float) -> None:
    reached = found(box(-depth, -9, 40, 50), percent)
    assert reached.reach_mm == pytest.approx(depth, abs=0.2)
    (stop,) = reached.stops
    assert (stop.from_mm, stop.to_mm) == (pytest.approx(0, abs=0.3), pytest.approx(40, abs=0.3))


@pytest.mark.parametrize(
    ("side", "stops"),
    [("top", box(-9, -1.2, 50, 50)), ("right", box(-9, -9, 31.2, 50)), ("bottom", box(-9, -9, 50, 41.2)),
     ("left", box(-1.2, -9, 50, 50))],
)
def test_each_side_is_seen_from_its_own_edge(side: Side, stops: Shape) -> None:
    for other in ("top", "right", "bottom", "left"):
        assert found(stops, side=other).reach_mm == (pytest.approx(1.2, abs=0.2) if other == side else 3.0)  # type: ignore[arg-type]


@pytest.mark.parametrize(("inset", "stands"), [(0.0, True), (0.05, True), (0.3, False), (1.0, False)])
def test_artwork_that_ends_just_inside_the_trim_is_not_at_it(inset: float, stands: bool) -> None:
    assert (found(box(inset, -9, 40, 50)).reach_mm is not None) == stands


def test_the_least_depth_along_the_edge_counts_and_its_part_is_marked() -> None:
    reached = found(both(box(-9, -9, 40, 20), box(-1.2, 20, 40, 50)))
    assert reached.reach_mm == pytest.approx(1.2, abs=0.2)
    assert [(stop.from_mm, stop.to_mm) for stop in reached.stops] == [(pytest.approx(20, abs=0.6), pytest.approx(40, abs=0.6))]


@pytest.mark.parametrize(("length", "is_told"), [(0.3, False), (1.2, True)])
def test_a_stop_shorter_than_half_a_millimetre_is_no_finding(length: float, is_told: bool) -> None:
    notched = found(lambda x, y: PAGE(x, y) & ~((x < -1) & (y > 20) & (y < 20 + length)))
    assert bool(notched.stops) == is_told


def test_a_page_without_bleed_has_no_reach_beyond_it() -> None:
    total, _ = drawn(box(0, 0, 30, 40))
    trimmed = total[12:-12, 12:-12]
    area = Box(0, 0, trimmed.shape[1] * PITCH, trimmed.shape[0] * PITCH)
    assert reach(trimmed, area, area, "left", 0, Objects()) == Reach(0.0, ())
    assert reach(np.zeros_like(trimmed), area, area, "left", 0, Objects()) == Reach(None, ())
    assert reach(np.zeros((1, 1), dtype=np.uint16), area, area, "top", 0, Objects()) == Reach(None, ())


# --- Shapes that leave the page ---


@pytest.mark.parametrize("slope", [0.25, 0.5, 1, 2, 5])
def test_a_diagonal_bar_across_the_edge_does_not_stop(slope: float) -> None:
    assert found(lambda x, y: np.abs(y - 20 - slope * x) < 2).reach_mm == 3.0


@pytest.mark.parametrize("radius", [6, 20, 100])
def test_a_disc_that_goes_on_beyond_the_bleed_does_not_stop(radius: float) -> None:
    assert found(disc(radius - 4, 20, radius)).reach_mm == 3.0


@pytest.mark.parametrize("depth", [0.3, 1.2, 2.0])
def test_a_disc_that_ends_within_the_bleed_stops_at_its_outermost_part(depth: float) -> None:
    reached = found(disc(20 - depth, 20, 20))
    assert reached.reach_mm == pytest.approx(depth, abs=0.2)
    assert reached.stops[0].to_mm - reached.stops[0].from_mm < 2 * sqrt(2 * 20 * depth) + 1


def test_a_tilted_background_stops_all_the_same() -> None:
    """By one degree: as in a scan."""
    assert found(lambda x, y: x > -1.2 + 0.0175 * (y - 20)).reach_mm == pytest.approx(1.2 - 0.35, abs=0.5)


# --- Patterns, marks, frames ---


@pytest.mark.parametrize(("dark", "light"), [(0.6, 0.6), (1.2, 0.9)])
def test_stripes_along_the_edge_go_on(dark: float, light: float) -> None:
    assert found(lambda x, _: (x + 30.2) % (dark + light) < dark).reach_mm == 3.0


def test_a_frame_at_the_bleed_edge_does_not_hide_that_the_artwork_stops() -> None:
    framed = both(box(-1, -9, 40, 50), box(-3, -9, -2.8, 50))
    assert found(framed).reach_mm == pytest.approx(1, abs=0.2)


@pytest.mark.parametrize("offset", [0, 1, 3])
def test_crop_marks_are_neither_artwork_nor_bleed(offset: float) -> None:
    marks = both(box(-offset - 5, -0.05, -offset, 0.05), box(-offset - 5, 39.95, -offset, 40.05))
    assert found(marks, slug=8).reach_mm is None
    stopping = found(both(box(0, 0, 30, 40), marks), slug=8)
    assert stopping.reach_mm == pytest.approx(0, abs=0.2)
    assert found(both(PAGE, marks), slug=8).reach_mm == 3.0


def test_a_line_drawn_on_the_trim_edge_is_ink_that_stops() -> None:
    assert found(box(-0.05, 0, 0.05, 40)).reach_mm == pytest.approx(0.05, abs=0.2)


def test_ink_that_fades_to_nothing_does_not_stop() -> None:
    total, area = drawn(PAGE)
    total[:] = np.clip(np.arange(total.shape[1]) * 1.5 - 4, 0, 255)
    assert reach(total, area, TRIM, "left", BLEED, Objects()).reach_mm == 3.0


# --- What is known of the objects ---


@pytest.mark.parametrize("depth", [0.05, 0.3, 0.9, 1.2, 1.45, 2.7])
def test_a_rectangle_widened_to_whole_pixels_is_told_by_its_own_edge(depth: float) -> None:
    total, area = drawn(box(-depth, -9, 40, 50))
    total[total > 0] = 255
    artwork = Box(-depth, -3, 33, 43)
    assert reach(total, area, TRIM, "left", BLEED, Objects(edges=[artwork])).reach_mm == pytest.approx(depth, abs=0.01)
    assert reach(total, area, TRIM, "left", BLEED, Objects()).reach_mm == pytest.approx(depth, abs=0.2)


def test_an_object_somewhere_else_along_the_edge_says_nothing() -> None:
    total, area = drawn(box(-1.2, 20, 40, 50))
    total[total > 0] = 255
    elsewhere = Box(-1.1, 0, 30, 10)
    assert reach(total, area, TRIM, "left", BLEED, Objects(edges=[elsewhere])).reach_mm == pytest.approx(1.2, abs=0.2)


def cloudy(x: npt.NDArray[np.float64], y: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
    """A sky: ink beyond a wavy outline that comes and goes."""
    return (x > -1.2 + 0.6 * np.sin(y * 1.7)) | (x > 10)


def test_a_torn_edge_stops_where_it_is_least() -> None:
    assert found(cloudy).reach_mm == pytest.approx(0.6, abs=0.2)


def test_white_clouds_in_a_photograph_are_painted() -> None:
    photograph = Objects(may_be_white=[AREA])
    assert found(cloudy, objects=photograph) == Reach(3.0, ())


def test_a_photograph_that_stops_is_found_by_its_box() -> None:
    stops = Box(-1.2, -3, 33, 43)
    reached = found(
        lambda x, y: cloudy(x, y) & box(*stops)(x, y), objects=Objects(may_be_white=[stops], edges=[stops])
    )
    assert reached.reach_mm == pytest.approx(1.2, abs=0.2)


def test_a_picture_with_a_white_rim_stops_where_the_rim_begins() -> None:
    reached = found(box(-1.2, -9, 40, 50), objects=Objects(may_be_white=[AREA]))
    assert reached.reach_mm == pytest.approx(1.2, abs=0.2)
    short = found(both(box(-1.2, 10, 40, 15), box(4, -9, 40, 50)), objects=Objects(may_be_white=[AREA]))
    assert short.reach_mm == 3.0
