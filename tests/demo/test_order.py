"""The demo's files are what their names say, as an independent reader (PDFium) sees them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from service.demo.order import ORDER
from service.sheets.catalogue import stored_sheets

MM = 25.4 / 72


@pytest.fixture
def folder(bakery_order: Path) -> Path:
    return bakery_order


@contextmanager
def opened(path: Path) -> Iterator[pdfium.PdfDocument]:
    document = pdfium.PdfDocument(path)
    yield document
    document.close()


def sizes(box: tuple[float, float, float, float]) -> tuple[float, float]:
    return round((box[2] - box[0]) * MM, 1), round((box[3] - box[1]) * MM, 1)


def test_every_file_of_the_order_is_made_and_every_sheet_exists(folder: Path) -> None:
    assert {one.file for one in ORDER} == {file.name for file in folder.iterdir()}
    assert {one.spec for one in ORDER} <= stored_sheets().keys()


def test_the_right_card_has_its_trim_and_3_mm_of_bleed(folder: Path) -> None:
    with opened(folder / "card-right.pdf") as card:
        assert len(card) == 2
        assert sizes(card[0].get_trimbox()) == (85, 55)
        assert sizes(card[0].get_bleedbox()) == sizes(card[0].get_mediabox()) == (91, 61)


def test_the_card_without_bleed_ends_at_its_trim(folder: Path) -> None:
    with opened(folder / "card-no-bleed.pdf") as card:
        assert sizes(card[0].get_mediabox()) == sizes(card[0].get_trimbox()) == (85, 55)


def test_the_card_from_the_web_has_a_photograph_of_120_ppi(folder: Path) -> None:
    with opened(folder / "card-rgb-low-resolution.pdf") as card:
        (photo,) = (one for one in card[0].get_objects() if isinstance(one, pdfium.PdfImage))
        assert round(photo.get_px_size()[0] / (91 / 25.4)) == 120
        assert photo.get_metadata().colorspace == 2  # FPDF_COLORSPACE_DEVICERGB


def test_the_scaled_card_is_94_3_percent_of_its_size(folder: Path) -> None:
    with opened(folder / "card-wrong-size.pdf") as card:
        assert sizes(card[0].get_trimbox()) == (round(85 * 0.943, 1), round(55 * 0.943, 1))


def test_the_spreads_are_two_pages_wide_between_single_covers(folder: Path) -> None:
    with opened(folder / "brochure-as-spreads.pdf") as spreads:
        assert [sizes(page.get_trimbox())[0] for page in spreads] == [148, 296, 296, 296, 296, 296, 148]


def test_the_preview_is_light_and_the_print_file_is_not(folder: Path) -> None:
    assert (folder / "brochure-email-preview.pdf").stat().st_size < 600_000
    assert (folder / "brochure-12-pages.pdf").stat().st_size > 10_000_000


def test_the_specimen_letter_is_text_that_can_be_found(folder: Path) -> None:
    with opened(folder / "letterhead-guide-copy.pdf") as letterhead:
        assert "Lorem ipsum dolor" in letterhead[0].get_textpage().get_text_bounded()


def test_drawing_again_gives_the_same_bytes(folder: Path, demo_run: Path) -> None:
    """In another process, where the demo has drawn them for itself."""
    for file in folder.iterdir():
        assert (demo_run / "demo-results" / file.name).read_bytes() == file.read_bytes(), file.name
