"""The coloured map of total ink: an order that every eye sees, stripes over the limit and nowhere else, a scale that says so."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

from service.proofs.plates.brief import PlatesBrief, plates_brief, read_plate
from service.proofs.plates.drawn import plate_png
from service.proofs.plates.ink_scale import colored, ramp, striped
from service.proofs.plates.ink_scale_brief import TOTAL_BLACK_PERCENT, ScaleBrief, scale_for
from service.proofs.plates.wishes import PlatesWishes
from service.sheets.model import ColorAsked, Finish, SpecSheet
from tests.build import PageBuilder, page
from tests.proofs.pictured import measured

Values = npt.NDArray[np.float64]

NORMAL = np.eye(3)
PROTANOPIA = np.array([[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]])
DEUTERANOPIA = np.array([[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]])
TRITANOPIA = np.array([[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]])
"""Machado, Oliveira and Fernandes, 'A physiologically-based model for simulation of color vision deficiency' (2009), Table 1,
severity 1.0, for linear RGB; from memory."""

LIMIT = ScaleBrief("Total ink", limit_percent=300.0, limit="limit 300 %", over="over", none_over="none")


def luminance(rgb: npt.NDArray[np.uint8], seen_as: Values = NORMAL) -> Values:
    """IEC 61966-2-1, with the luminance weights of ITU-R BT.709."""
    parts = rgb / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    seen: Values = np.clip(linear @ seen_as.T, 0, 1) @ np.array([0.2126, 0.7152, 0.0722])
    return seen


@pytest.mark.parametrize("seen_as", [NORMAL, PROTANOPIA, DEUTERANOPIA, TRITANOPIA])
def test_more_ink_is_darker_for_every_kind_of_colour_vision(seen_as: Values) -> None:
    """By steps of 10 %: 8 bits of a channel are coarser than a percent."""
    steps = luminance(ramp()[::10], seen_as)
    assert (np.diff(steps) < 0).all()
    assert steps[0] > 0.85
    assert steps[-1] < 0.05


def test_equal_steps_of_ink_are_about_equal_steps_of_lightness() -> None:
    lightness = 116 * np.cbrt(luminance(ramp()[::40])) - 16
    assert np.diff(lightness) == pytest.approx(-7.8, abs=1.2)


def test_the_ramp_is_one_hue_that_grows_out_of_grey() -> None:
    first, last = ramp()[0].astype(int), ramp()[-1].astype(int)
    assert np.ptp(first) <= 4
    assert np.ptp(last) >= 40
    red, green, blue = (ramp()[40:].astype(int)[:, at] for at in range(3))
    assert (red > blue).all()
    assert (blue > green).all()


def test_stripes_lie_only_where_there_is_more_than_the_limit() -> None:
    total = np.tile(np.linspace(0, 400, 401, dtype=np.float32), (40, 1))
    plain, striped_map = colored(total, None, 1.0), colored(total, 300.0, 1.0)
    assert (plain[:, :301] == striped_map[:, :301]).all()
    over = striped_map[:, 301:]
    white = (over == 255).all(axis=2)
    assert white.any()
    assert not white.all()
    assert white.mean() == pytest.approx(striped(40, 100, 1.0).mean(), abs=0.05)
    assert {tuple(one) for one in over[~white]} == {(168, 58, 8)}


def test_what_is_at_the_limit_is_not_over_it() -> None:
    """Whole percent, as 8 bits of four plates give no more."""
    row = np.array([[299.9, 300.0, 300.4, 300.6]], np.float32)
    over = (colored(row, 300.0, 1.0) != colored(row, None, 1.0)).any(axis=2)
    assert over.tolist() == [[False, False, False, True]]


def test_more_than_four_full_inks_has_the_last_colour() -> None:
    assert colored(np.array([[400, 520]], np.float32), None, 1.0).tolist() == [[ramp()[-1].tolist()] * 2]


# --- With its scale -----------------------------------------------------------------------------------------------------


def mapped(built: PageBuilder, folder: Path, scale: ScaleBrief, ppi: float = 100) -> npt.NDArray[np.uint8]:
    path = built.save(folder / "page.pdf")
    brief = plates_brief(measured(path), PlatesWishes("picture", ppi))
    assert isinstance(brief, PlatesBrief)
    brief = brief.with_scale(scale)
    data = plate_png(path, brief)
    assert isinstance(data, bytes), data
    with Image.open(io.BytesIO(read_plate(data, brief))) as image:
        return np.asarray(image)


def test_the_scale_stands_below_the_map_and_grows_with_the_resolution(tmp_path: Path) -> None:
    built = page(85, 55).fill(cyan=1)
    heights = []
    for ppi in (100, 200):
        pixels = mapped(built, tmp_path, LIMIT, ppi)
        map_height = round(71 / 25.4 * ppi)
        assert pixels.shape[1] == round(101 / 25.4 * ppi)
        assert tuple(pixels[map_height // 2, pixels.shape[1] // 2]) == tuple(ramp()[100])
        heights.append(pixels.shape[0] - map_height)
    assert heights[1] == pytest.approx(2 * heights[0], rel=0.05)


def test_the_bar_has_the_colours_of_the_map_in_order(tmp_path: Path) -> None:
    pixels = mapped(page(85, 55), tmp_path, ScaleBrief("Total ink"))
    below = pixels[round(71 / 25.4 * 100) :]
    rows = [row for row in below if len({tuple(one) for one in row} & {tuple(one) for one in ramp()}) > 150]
    assert len(rows) == 14
    order = [int(np.flatnonzero((ramp() == one).all(axis=1))[0]) for one in rows[0] if (ramp() == one).all(axis=1).any()]
    assert order[0] <= 2
    assert order[-1] >= TOTAL_BLACK_PERCENT - 2
    assert order == sorted(order)


def test_a_page_over_the_limit_is_striped_there(tmp_path: Path) -> None:
    built = page(85, 55).fill(cyan=0.5).fill(at=(10, 10, 40, 30), cyan=1, magenta=1, yellow=1, black=1)
    pixels = mapped(built, tmp_path, LIMIT)
    frame = pixels[: round(71 / 25.4 * 100)]
    rust = np.nonzero((frame == (168, 58, 8)).all(axis=2))
    assert (rust[1].min() * 0.254 - 8, (rust[1].max() + 1) * 0.254 - 8) == pytest.approx((10, 40), abs=0.6)
    assert (rust[0].min() * 0.254 - 8, (rust[0].max() + 1) * 0.254 - 8) == pytest.approx((10, 30), abs=0.6)


def test_finishing_inks_are_not_in_the_total(tmp_path: Path) -> None:
    sheet = SpecSheet(color=ColorAsked(ink_limit_percent=280), finishes=(Finish(ink="Foil"),))
    built = page(85, 55).fill(cyan=1).fill(at=(0, 0, 85, 55), spot=("Foil", 1))
    path = built.save(tmp_path / "foil.pdf")
    brief = plates_brief(measured(path), PlatesWishes("picture", 100))
    assert isinstance(brief, PlatesBrief)
    scale = scale_for(sheet, brief.inks)
    assert (scale.without, scale.limit_percent) == (("Foil",), 280)
    assert "Foil" in scale.title
    assert tuple(mapped(built, tmp_path, scale)[140, 200]) == tuple(ramp()[0])


def test_a_sheet_without_a_limit_has_none_on_the_scale() -> None:
    assert scale_for(SpecSheet(), ("Cyan",)).limit_percent is None
