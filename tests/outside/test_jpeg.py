"""Estimated JPEG quality against the setting with which Pillow (libjpeg) wrote the file."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from service.pdf.content.jpeg import jpeg_quality

PICTURE = Image.linear_gradient("L").resize((48, 32))


def saved(mode: str, quality: int, **more: bool) -> bytes:
    out = io.BytesIO()
    PICTURE.convert(mode).save(out, "JPEG", quality=quality, **more)
    return out.getvalue()


@pytest.mark.parametrize("mode", ["L", "RGB", "CMYK"])
def test_every_quality_is_found(mode: str) -> None:
    wrong = {quality: found for quality in range(1, 101) if (found := jpeg_quality(saved(mode, quality))) != quality}
    assert wrong == {}


def test_progressive_and_rgb_files_are_found_too() -> None:
    assert jpeg_quality(saved("RGB", 72, progressive=True, optimize=True)) == 72
    assert jpeg_quality(saved("RGB", 72, keep_rgb=True)) == 72


@pytest.mark.parametrize("preset", ["web_low", "web_medium", "web_high", "low", "medium", "high", "maximum"])
def test_tables_of_another_encoder_are_rated_by_their_sums(preset: str) -> None:
    """Pillow's presets are tables of another make: the estimate stands between its neighbours on the usual scale."""
    out = io.BytesIO()
    PICTURE.convert("RGB").save(out, "JPEG", quality=preset)
    found = jpeg_quality(out.getvalue())
    assert isinstance(found, int)
    assert steps(saved("RGB", min(100, found + 1))) <= steps(out.getvalue()) <= steps(saved("RGB", max(1, found - 1)))


def steps(data: bytes) -> int:
    """How coarse the tables are on the whole, as Pillow reads them."""
    with Image.open(io.BytesIO(data)) as read:
        return sum(sum(table) for table in read.quantization.values())  # type: ignore[attr-defined]
