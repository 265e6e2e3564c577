"""Process inks as PDFium shows them: each pixel by itself, however many there are."""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pypdfium2
import pytest
from pikepdf import Dictionary, Name, Stream

from service.proofs.preview.reader_color import as_pdfium_shows

CHANCE = np.random.default_rng(7)


def rendered(values: np.ndarray) -> np.ndarray:
    """As PDFium renders a page that such a picture fills, a pixel a unit."""
    rows, columns, _ = values.shape
    with pikepdf.new() as pdf:
        picture = Stream(pdf, values.tobytes(), Type=Name.XObject, Subtype=Name.Image, ColorSpace=Name.DeviceCMYK)
        picture.Width, picture.Height, picture.BitsPerComponent = columns, rows, 8
        page = pdf.add_blank_page(page_size=(columns, rows))
        page.Resources = Dictionary(XObject=Dictionary(P=picture))
        page.Contents = Stream(pdf, b"%d 0 0 %d 0 0 cm /P Do" % (columns, rows))
        file = io.BytesIO()
        pdf.save(file)
    with pypdfium2.PdfDocument(file.getvalue()) as document:
        return np.asarray(document[0].render(scale=1).to_pil().convert("RGB"))


@pytest.mark.parametrize(("rows", "columns"), [(1, 1), (2, 3), (585, 830), (292, 415), (119, 4096)])
def test_a_pixel_is_shown_as_it_is_alone_whatever_stands_beside_it(rows: int, columns: int) -> None:
    """Rows that PDFium scales, even by a hair, run into one another."""
    values = CHANCE.integers(0, 256, (rows, columns, 4), dtype=np.uint8)
    shown = as_pdfium_shows(values)
    assert shown.shape == (rows, columns, 3)
    for row in {0, rows // 2, rows - 1}:
        assert (shown[row] == as_pdfium_shows(values[row : row + 1])[0]).all()


def test_it_is_what_a_page_looks_like() -> None:
    values = CHANCE.integers(0, 256, (300, 400, 4), dtype=np.uint8)
    assert np.array_equal(as_pdfium_shows(values), rendered(values))


def test_pixels_need_not_lie_one_after_the_other() -> None:
    values = CHANCE.integers(0, 256, (60, 80, 8), dtype=np.uint8)[::2, ::2, ::2]
    assert np.array_equal(as_pdfium_shows(values), as_pdfium_shows(values.copy()))


def test_no_pixels_are_none() -> None:
    assert as_pdfium_shows(np.zeros((1, 0, 4), np.uint8)).shape == (1, 0, 3)
