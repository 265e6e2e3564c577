"""Process inks as PDFium shows them: each pixel by itself, however many there are."""

from __future__ import annotations

import numpy as np
import pytest

from service.proofs.preview import screen_color as preview_color
from service.proofs.preview.screen_color import as_pdfium_shows


@pytest.mark.parametrize(("rows", "columns"), [(1, 1), (2, 3), (585, 830), (292, 415), (119, 4096)])
def test_a_pixel_is_shown_as_it_is_alone_whatever_stands_beside_it(rows: int, columns: int) -> None:
    """Rows that PDFium scales, even by a hair, run into one another."""
    values = np.random.default_rng(7).integers(0, 256, (rows, columns, 4), dtype=np.uint8)
    shown = as_pdfium_shows(values)
    assert shown.shape == (rows, columns, 3)
    for row in {0, rows // 2, rows - 1}:
        assert (shown[row] == as_pdfium_shows(values[row : row + 1])[0]).all()


def test_a_very_large_picture_is_shown_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    values = np.random.default_rng(7).integers(0, 256, (30, 40, 4), dtype=np.uint8)
    whole = as_pdfium_shows(values)
    monkeypatch.setattr(preview_color, "_MOST_AT_ONCE", 500)
    assert (as_pdfium_shows(values) == whole).all()
