"""Pictures that other programs wrote, judged: Pillow's JPEG settings, and 1-bit pictures as `pdfimages -list` sees them."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image as Pixels
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.rules.judge import judge
from service.sheets.model import ImagesAsked, Resolution, SpecSheet
from tests.outside_tools import tool


def placed(picture: Pixels.Image, width: float, height: float, folder: Path, **saving: object) -> Path:
    """The picture on a page of its own, at that size in mm."""
    file = folder / "picture.pdf"
    canvas = Canvas(str(file), pagesize=(148 * mm, 105 * mm))
    if saving:
        out = io.BytesIO()
        picture.save(out, "JPEG", **saving)
        canvas.drawImage(ImageReader(io.BytesIO(out.getvalue())), 10 * mm, 10 * mm, width * mm, height * mm)
    else:
        canvas.drawInlineImage(picture, 10 * mm, 10 * mm, width * mm, height * mm)
    canvas.save()
    return file


def outcomes(file: Path, sheet: SpecSheet) -> dict[str, str]:
    return {one.rule: one.outcome for one in judge(measure(file), sheet).rules}


@pytest.mark.parametrize(
    ("quality", "expected"), [(95, "met"), (75, "met"), (60, "met"), (59, "not_met"), (40, "not_met"), (10, "not_met")]
)
def test_a_jpeg_is_judged_by_the_quality_it_was_saved_with(quality: int, expected: str, tmp_path: Path) -> None:
    photograph = Pixels.radial_gradient("L").convert("CMYK")
    file = placed(photograph, 40, 40, tmp_path, quality=quality)
    assert outcomes(file, SpecSheet())["image.compression"] == expected


@pytest.mark.parametrize(("height", "expected"), [(40, "met"), (41.9, "met"), (42.2, "not_met"), (30, "not_met")])
def test_a_square_picture_that_is_placed_oblong_is_stretched(height: float, expected: str, tmp_path: Path) -> None:
    file = placed(Pixels.radial_gradient("L"), 40, height, tmp_path, quality=90)
    assert outcomes(file, SpecSheet())["image.distorted"] == expected


@pytest.mark.parametrize(("width", "expected"), [(25.4, "met"), (26, "not_met")])
def test_one_bit_pictures_have_the_resolution_that_poppler_lists(width: float, expected: str, tmp_path: Path) -> None:
    """600 pixels on 25.4 mm are 600 ppi."""
    drawn = Pixels.radial_gradient("L").resize((600, 600)).convert("1")
    file = tmp_path / "picture.pdf"
    out = io.BytesIO()
    drawn.save(out, "PDF", resolution=600 * 25.4 / width)  # Pillow writes 1-bit pictures as CCITT
    file.write_bytes(out.getvalue())
    pages = measure(file).pages
    assert not isinstance(pages, Unmeasured)
    content = pages[0].content
    assert isinstance(content, Content)
    (ours,) = content.images
    row = tool("pdfimages")("-list", file).splitlines()[2].split()
    assert (row[3], row[4], row[7]) == ("600", "600", "1")
    assert ours.kind == "bilevel"
    assert ours.ppi == pytest.approx(float(row[-4]), abs=1)
    sheet = SpecSheet(images=ImagesAsked(bilevel=Resolution(minimum_ppi=600)))
    assert outcomes(file, sheet)["image.resolution-bilevel"] == expected
