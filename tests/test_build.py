"""The builder is held to what an independent renderer (PDFium) sees, so that measuring tests can trust it."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pikepdf
import pypdfium2 as pdfium
import pytest

from tests.build import PageBuilder, document, drawing, page, text_width

PIXELS_PER_MM = 4
ORANGE = {"rgb": (1, 0.5, 0)}


def looks(made: PageBuilder | bytes, x_mm: float, y_mm: float) -> tuple[int, ...]:
    """The colour at a place measured from the top-left of the media."""
    opened = pdfium.PdfDocument(made if isinstance(made, bytes) else made.bytes())
    picture = opened[0].render(scale=PIXELS_PER_MM * 25.4 / 72).to_pil().convert("RGB")
    opened.close()
    return picture.getpixel((round(x_mm * PIXELS_PER_MM), round(y_mm * PIXELS_PER_MM)))


def test_a_right_page_has_its_trim_inside_its_bleed_inside_its_media(tmp_path: Path) -> None:
    path = page(85, 55, bleed=3, slug=5).fill(cyan=1).save(tmp_path / "card.pdf")
    opened = pdfium.PdfDocument(path)
    trim, bleed = opened[0].get_trimbox(), opened[0].get_bleedbox()
    assert (trim[2] - trim[0], trim[3] - trim[1]) == pytest.approx((85 / 25.4 * 72, 55 / 25.4 * 72), abs=0.001)
    assert trim[0] - bleed[0] == pytest.approx(8.504, abs=0.001)
    assert opened[0].get_size() == pytest.approx((101 / 25.4 * 72, 71 / 25.4 * 72), abs=0.001)
    opened.close()


def test_a_fill_lies_where_its_millimetres_say() -> None:
    made = page(85, 55).fill(at=(10, 20, 30, 25), **ORANGE)
    for x, y, inside in ((10.5, 20.5, True), (29.5, 24.5, True), (9.5, 22, False), (30.5, 22, False), (20, 25.5, False)):
        assert (looks(made, x + 3, y + 3) == (255, 128, 0)) is inside


@pytest.mark.parametrize("degrees", [90, 180, 270, -90, 450])
def test_an_upright_rotated_page_shows_as_before(degrees: int) -> None:
    made = page(85, 55).fill(at=(10, 20, 30, 25), **ORANGE).rotated(degrees).origin(100, -40)
    assert looks(made, 13.5, 23.5) == (255, 128, 0)
    assert looks(made, 13.5, 29) == (255, 255, 255)


def test_a_turned_page_shows_turned_clockwise() -> None:
    made = page(85, 55, bleed=0).fill(at=(0, 0, 10, 10), **ORANGE).rotated(90, upright=False)
    assert looks(made, 50, 5) == (255, 128, 0)


def test_a_picture_has_the_pixels_that_its_resolution_needs() -> None:
    opened = pdfium.PdfDocument(page(85, 55).picture(ppi=149, at=(10, 10, 40, 30)).bytes())
    (image,) = opened[0].get_objects()
    assert image.get_px_size() == (176, 117)  # 30 mm and 20 mm at 149 ppi
    left, bottom, right, top = image.get_bounds()
    assert (right - left, top - bottom) == pytest.approx((30 / 25.4 * 72, 20 / 25.4 * 72), abs=0.01)
    opened.close()


def test_a_form_is_placed_by_its_top_left_corner_and_scaled_by_its_matrix() -> None:
    made = page(85, 55, bleed=0).form(drawing(40, 20).fill(**ORANGE), at=(30, 10), scale=0.5)
    for x, y, inside in ((30.5, 10.5, True), (49.5, 19.5, True), (51, 15, False), (40, 21, False), (29, 15, False)):
        assert (looks(made, x, y) == (255, 128, 0)) is inside


def test_text_is_as_long_as_the_fonts_own_widths_say() -> None:
    opened = pdfium.PdfDocument(page(85, 55).text("HHHHHHHHHH", size=10, at=(5, 20)).bytes())
    (run,) = opened[0].get_objects()
    left, _, right, _ = run.get_bounds()
    assert opened[0].get_textpage().get_text_bounded() == "HHHHHHHHHH"
    assert (right - left) / 72 * 25.4 == pytest.approx(text_width("HHHHHHHHHH", 10), abs=0.8)  # less the side bearings
    opened.close()


def test_user_unit_keeps_the_size_on_paper() -> None:
    with pikepdf.open(BytesIO(page(85, 55).user_unit(2).bytes())) as pdf:
        box = [float(value) for value in pdf.pages[0].obj.TrimBox]
        assert (box[2] - box[0]) * 2 / 72 * 25.4 == pytest.approx(85, abs=0.001)
        assert pdf.pages[0].obj.UserUnit == 2


def test_a_password_locks_and_a_cut_file_ends_early(tmp_path: Path) -> None:
    with pytest.raises(pikepdf.PasswordError):
        pikepdf.open(document(page(85, 55)).encrypted(user="brioche").save(tmp_path / "locked.pdf"))
    whole = document(page(85, 55), page(85, 55))
    size = len(whole.bytes())
    assert len(whole.truncated(0.5).bytes()) == size // 2
    assert len(whole.truncated(100).bytes()) == 100


def test_the_same_pages_give_the_same_bytes() -> None:
    assert page(85, 55).fill(cyan=1).bytes() == page(85, 55).fill(cyan=1).bytes()
