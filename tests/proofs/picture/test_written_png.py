"""A PNG that is written here is read by others pixel for pixel, and is one of ours to whoever takes it."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from service.proofs.picture import written_png
from service.proofs.picture.rgb_png import rgb_png
from service.proofs.picture.written_png import png

CHANCE = np.random.default_rng(3)
PHOTOGRAPH = CHANCE.normal(128, 9, (40, 30, 3)).cumsum(axis=0).astype(np.uint8)
PAPER = np.full((40, 30, 3), 255, np.uint8)


@pytest.mark.parametrize("pixels", [PHOTOGRAPH, PAPER, PHOTOGRAPH[:1], PHOTOGRAPH[:, :1], PHOTOGRAPH.transpose(1, 0, 2)])
@pytest.mark.parametrize("at_a_time", [1, 200, 1_000_000])
def test_others_read_the_very_pixels(pixels: np.ndarray, at_a_time: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(written_png, "_ROW_BYTES_AT_A_TIME", at_a_time)
    picture = Image.fromarray(np.ascontiguousarray(pixels))
    written = png(picture, 100)
    with Image.open(io.BytesIO(written)) as read:
        assert np.array_equal(np.asarray(read), pixels)
        assert read.info["dpi"] == pytest.approx((100, 100), abs=0.02)
    assert rgb_png(written, picture.size) == written


def test_flat_areas_and_steps_pack_well() -> None:
    """As what a page has most of: each row as the one above, or each pixel as the one beside it."""
    assert len(png(Image.fromarray(PAPER), 100)) < 200
    shade = np.linspace(0, 255, 400).astype(np.uint8)[:, np.newaxis, np.newaxis]
    down = np.broadcast_to(shade, (400, 300, 3))
    for shaded in (down, down.transpose(1, 0, 2)):
        assert len(png(Image.fromarray(np.ascontiguousarray(shaded)), 100)) < shaded.size / 50


def test_grey_pixels_stay_grey() -> None:
    grey = np.ascontiguousarray(PHOTOGRAPH[:, :, 0])
    with Image.open(io.BytesIO(png(Image.fromarray(grey), 100))) as read:
        assert read.mode == "L"
        assert np.array_equal(np.asarray(read), grey)
