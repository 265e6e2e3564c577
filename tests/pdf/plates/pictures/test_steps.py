"""How far a picture's tone goes from pixel to pixel, and which pictures of a page say so."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream
from PIL import Image

from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.plates.pictures.steps import MOST_LOOKED_AT, MOST_STEP_PERCENT, largest_step_percent
from service.pdf.question import Question
from tests.build import POINTS_PER_MM, page

Bytes = npt.NDArray[np.uint8]


def gray(rows: int, columns: int, tone: Callable[[int, int], int]) -> Bytes:
    return np.array([[[tone(row, column)] for column in range(columns)] for row in range(rows)], np.uint8)


def test_a_gradient_goes_by_small_steps_across_or_down() -> None:
    assert largest_step_percent(gray(70, 90, lambda _row, column: 2 * column), None) == pytest.approx(200 / 255)
    assert largest_step_percent(gray(90, 70, lambda row, _column: 255 - 2 * row), None) == pytest.approx(200 / 255)


def test_one_flat_colour_has_no_step_and_a_single_pixel_neither() -> None:
    assert largest_step_percent(gray(70, 90, lambda *_: 140), None) == 0
    assert largest_step_percent(gray(1, 1, lambda *_: 140), None) == 0


@pytest.mark.parametrize("row", [0, 699, 700, 1398])
def test_one_edge_in_a_tall_gradient_is_found_wherever_it_is(row: int) -> None:
    """1,400 rows are looked at in several bands; the edge lies below the row that is told."""
    tall = gray(1400, 640, lambda at, _: 120 if at > row else 100)
    assert largest_step_percent(tall, None) == pytest.approx(20 / 2.55)


def test_the_component_with_the_largest_step_counts_and_opacity_comes_on_top() -> None:
    inks = np.concatenate([gray(70, 90, lambda _row, column: column), gray(70, 90, lambda row, _column: 3 * row)], axis=2)
    assert largest_step_percent(inks, None) == pytest.approx(300 / 255)
    fading = gray(140, 90, lambda row, _column: row)[:, :, 0]
    assert largest_step_percent(inks, fading) == pytest.approx(400 / 255)


def test_an_edge_is_enough_and_a_picture_too_large_is_left_alone() -> None:
    stripes = gray(70, 90, lambda _row, column: 255 * (column % 2))
    assert (largest_step_percent(stripes, None) or 0) > MOST_STEP_PERCENT
    assert largest_step_percent(np.zeros((1, MOST_LOOKED_AT + 1, 1), np.uint8), None) is None


# --- On a page --------------------------------------------------------------------------------------------------------


def placed(tmp_path: Path, tones: Bytes, at_mm: tuple[float, float], **keys: Any) -> Any:
    """What measuring says of the picture, printed so large on a card."""
    rows, columns, _ = tones.shape

    def make(pdf: Pdf) -> Any:
        made = Stream(pdf, tones.tobytes())
        made.Type, made.Subtype, made.ColorSpace = Name.XObject, Name.Image, Name.DeviceGray
        made.Width, made.Height, made.BitsPerComponent = columns, rows, 8
        for key, value in keys.items():
            made["/" + key] = value(pdf) if callable(value) else value
        return pdf.make_indirect(made)

    width, height = (side * POINTS_PER_MM for side in at_mm)
    content = b"q %.4f 0 0 %.4f 20 20 cm /P Do Q" % (width, height)
    path = page(85, 55, bleed=3).resource("XObject", "P", make).raw(content).save(tmp_path / "picture.pdf")
    measured = measure(path, Question())
    (one,) = measured.pages[0].content.images  # type: ignore[union-attr]
    return one.step_percent


GRADIENT = gray(70, 90, lambda _row, column: 2 * column)


def test_a_gradient_that_became_a_coarse_picture_tells_its_step(tmp_path: Path) -> None:
    """90 pixels on 80 mm are 29 ppi."""
    assert placed(tmp_path, GRADIENT, (80, 50)) == pytest.approx(0.78, abs=0.005)


def test_the_samples_count_as_their_decode_makes_them(tmp_path: Path) -> None:
    half = placed(tmp_path, GRADIENT, (80, 50), Decode=[0, 0.5])
    assert half == pytest.approx(0.39, abs=0.005)


def test_a_soft_edge_counts_as_a_tone_does(tmp_path: Path) -> None:
    def mask(tone: Callable[[int, int], int]) -> Callable[[Pdf], Any]:
        size = {"Width": 90, "Height": 70, "BitsPerComponent": 8, "ColorSpace": Name.DeviceGray}
        return lambda pdf: pdf.make_indirect(
            Stream(pdf, gray(70, 90, tone).tobytes(), Dictionary(Type=Name.XObject, Subtype=Name.Image, **size))
        )

    flat = gray(70, 90, lambda *_: 80)
    assert placed(tmp_path, flat, (80, 50), SMask=mask(lambda row, _column: 2 * row)) == pytest.approx(0.78, abs=0.005)
    assert placed(tmp_path, flat, (80, 50), SMask=mask(lambda row, _column: 255 * (row > 30))) == 100


def test_what_the_plates_do_not_decode_whole_is_not_measured(tmp_path: Path) -> None:
    """90 pixels on 10 mm are 229 ppi, twice what the plates have; no pixel more is decoded for this."""
    assert isinstance(placed(tmp_path, GRADIENT, (10, 6)), Unmeasured)


def test_samples_that_a_function_makes_colours_of_are_no_tones(tmp_path: Path) -> None:
    """A ramp of 256 steps that its space turns into black and white, half and half."""
    def halves(colorant: str) -> Callable[[Pdf], Any]:
        domain = {"Domain": Array([0, 1]), "Range": Array([0, 1] * 4)}
        code = b"{0.5 gt {0 0 0 1} {0 0 0 0} ifelse}"
        return lambda pdf: Array(
            [Name.Separation, Name("/" + colorant), Name.DeviceCMYK, Stream(pdf, code, Dictionary(FunctionType=4, **domain))]
        )

    assert isinstance(placed(tmp_path, GRADIENT, (80, 50), ColorSpace=halves("Bakery")), Unmeasured)
    assert placed(tmp_path, GRADIENT, (80, 50), ColorSpace=halves("Black")) == pytest.approx(0.78, abs=0.005)


@pytest.mark.parametrize(("color", "expected"), [("rgb", 3 / 2.55), ("cmyk", 4 / 2.55), ("gray", 1 / 2.55), ("lab", None)])
def test_colours_step_as_their_components_do(color: str, expected: float | None, tmp_path: Path) -> None:
    """A ramp of bytes, 3 of them a pixel in RGB; in Lab a byte of a* or b* is more than an eye overlooks."""
    path = page(85, 55).picture((5, 5, 65, 45), pixels=(20, 16), color=color).save(tmp_path / "ramp.pdf")
    (one,) = measure(path, Question()).pages[0].content.images  # type: ignore[union-attr]
    found = None if isinstance(one.step_percent, Unmeasured) else one.step_percent
    assert found == (None if expected is None else pytest.approx(expected, abs=0.005))


def test_an_inline_picture_is_not_measured(tmp_path: Path) -> None:
    path = page(85, 55).picture((5, 5, 45, 35), pixels=(70, 70), color="gray", inline=True).save(tmp_path / "inline.pdf")
    (one,) = measure(path, Question()).pages[0].content.images  # type: ignore[union-attr]
    assert one.object_number is None
    assert isinstance(one.step_percent, Unmeasured)


def test_of_two_pictures_on_a_page_each_has_its_own_step(tmp_path: Path) -> None:
    """A photograph's edges are not the gradient's, though they have as many pixels."""
    def jpeg(tones: Bytes) -> Callable[[Pdf], Any]:
        out = io.BytesIO()
        Image.fromarray(tones[:, :, 0]).save(out, "JPEG", quality=95)

        def make(pdf: Pdf) -> Any:
            keys = {"Width": 90, "Height": 70, "BitsPerComponent": 8, "ColorSpace": Name.DeviceGray, "Filter": Name.DCTDecode}
            return pdf.make_indirect(Stream(pdf, out.getvalue(), Dictionary(Type=Name.XObject, Subtype=Name.Image, **keys)))

        return make

    edges = gray(70, 90, lambda row, column: 220 if (row // 12 + column // 12) % 2 else 30)
    made = page(85, 55, bleed=3).resource("XObject", "A", jpeg(edges)).resource("XObject", "B", jpeg(GRADIENT))
    path = made.raw(b"q 100 0 0 80 20 20 cm /A Do Q q 100 0 0 80 130 20 cm /B Do Q").save(tmp_path / "two.pdf")
    first, second = measure(path, Question()).pages[0].content.images  # type: ignore[union-attr]
    assert first.step_percent > MOST_STEP_PERCENT  # type: ignore[operator]
    assert second.step_percent < 2  # type: ignore[operator]
