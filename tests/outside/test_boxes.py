"""Page boxes against poppler's pdfinfo, on files that other programs wrote, and on turned, scaled and shifted copies.

`pdfinfo -box` prints the boxes in force, in user space, rounded to 0.01 pt: a box that is not declared looks present.
Not compared: a CropBox wider than the MediaBox. There poppler 22.12 takes the media's whole width (seen), while
ISO 32000-2:2020, 14.11.2.1 takes what both cover, as we do.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import document, page
from tests.outside import producers
from tests.outside_tools import tool

ROUNDING_MM = 0.01 * 25.4 / 72 + 1e-6
"""Two values printed to 0.01 pt, each off by half of it."""

NAMES = ("media", "crop", "bleed", "trim", "art")


def built() -> bytes:
    """Boxes beyond the sheet, corners the wrong way round."""
    beyond = page(85, 55).box("BleedBox", (-9, -3, 88, 70)).box("CropBox", (30, -2, 100, 57))
    reversed_ = page(148, 105).key("TrimBox", pikepdf.Array([400, 290, 20, 12])).key("MediaBox", pikepdf.Array([440, 0, 0, 320]))
    return document(beyond, reversed_).bytes()


FILES: dict[str, Callable[[], bytes]] = {
    "reportlab": producers.by_reportlab,
    "weasyprint, 3 mm": lambda: producers.by_weasyprint(3),
    "weasyprint, 5 mm": lambda: producers.by_weasyprint(5),
    "typst": producers.by_typst,
    "cairo": producers.by_cairo,
    "beyond and reversed": built,
}


def as_it_is(_: pikepdf.Pdf) -> float:
    return 1.0


def turned(pdf: pikepdf.Pdf) -> float:
    for number, one in enumerate(pdf.pages, start=1):
        one.obj.Rotate = 90 * number + 360
    return 1.0


def turned_back(pdf: pikepdf.Pdf) -> float:
    for one in pdf.pages:
        one.obj.Rotate = -90
    return 1.0


def scaled(pdf: pikepdf.Pdf) -> float:
    for one in pdf.pages:
        one.obj.UserUnit = 2.5
    return 2.5


def shifted(pdf: pikepdf.Pdf) -> float:
    """The origin 300 pt to the right of the sheet and 1000 above it, and upside down."""
    for one in pdf.pages:
        one.obj.Rotate = 180
        for key in ("/MediaBox", "/CropBox", "/BleedBox", "/TrimBox", "/ArtBox"):
            if key in one.obj:
                x0, y0, x1, y1 = (float(value) for value in one.obj[key])
                one.obj[key] = pikepdf.Array([x0 - 300, y0 - 1000, x1 - 300, y1 - 1000])
    return 1.0


@pytest.mark.parametrize("change", [as_it_is, turned, turned_back, scaled, shifted])
@pytest.mark.parametrize("producer", FILES)
def test_boxes_agree_with_pdfinfo(producer: str, change: Callable[[pikepdf.Pdf], float], tmp_path: Path) -> None:
    pdfinfo = tool("pdfinfo")
    path = tmp_path / "file.pdf"
    with pikepdf.open(io.BytesIO(FILES[producer]())) as pdf:
        unit_mm = change(pdf) * 25.4 / 72
        pdf.save(path)
    measured = measure(path).pages
    assert not isinstance(measured, Unmeasured)
    printed = boxes_printed(pdfinfo("-box", "-f", "1", "-l", "99", path))
    assert len(printed) == len(measured) > 0
    for ours, (rotation, theirs) in zip(measured, printed, strict=True):
        assert ours.rotation == rotation
        for name in NAMES:
            expected = sides_beyond(theirs[name], theirs["trim"], rotation)
            assert sides_of(ours, name) == pytest.approx(
                [one * unit_mm for one in expected], abs=ROUNDING_MM * unit_mm * 72 / 25.4
            ), name
        trim = theirs["trim"]
        across, down = (trim.height, trim.width) if rotation % 180 else (trim.width, trim.height)
        tolerance = ROUNDING_MM * unit_mm * 72 / 25.4
        assert (ours.trim_width_mm, ours.trim_height_mm) == pytest.approx((across * unit_mm, down * unit_mm), abs=tolerance)


def boxes_printed(text: str) -> list[tuple[int, dict[str, Box]]]:
    """Rotation and boxes of each page."""
    pages: dict[int, tuple[int, dict[str, Box]]] = {}
    for number, degrees in re.findall(r"^Page +(\d+) rot: +(\d+)", text, re.MULTILINE):
        pages[int(number)] = (int(degrees), {})
    for number, name, values in re.findall(r"^Page +(\d+) (\w+)Box: +(.+)$", text, re.MULTILINE):
        pages[int(number)][1][name.lower()] = Box(*(float(one) for one in values.split()))
    return [pages[number] for number in sorted(pages)]


def sides_beyond(box: Box, trim: Box, rotation: int) -> list[float]:
    """How far the box reaches beyond the trim: top, right, bottom, left as displayed. Turned a quarter, left comes to the top."""
    sides = [box.y1 - trim.y1, box.x1 - trim.x1, trim.y0 - box.y0, trim.x0 - box.x0]
    quarters = rotation // 90
    return sides[-quarters:] + sides[:-quarters] if quarters else sides


def sides_of(measured: Page, name: str) -> list[float]:
    box = getattr(measured.boxes_mm, name)
    return [-box.y0, box.x1 - measured.trim_width_mm, box.y1 - measured.trim_height_mm, -box.x0]


def test_the_css_bleed_that_weasyprint_does_not_declare_is_seen(tmp_path: Path) -> None:
    """With `bleed: 5mm` the sheet has 5 mm beyond the trim and the BleedBox only 10 pt, 3.53 mm (seen in WeasyPrint 70)."""
    path = tmp_path / "card.pdf"
    path.write_bytes(producers.by_weasyprint(5))
    measured = measure(path).pages
    assert not isinstance(measured, Unmeasured)
    assert measured[0].bleed_declared
    assert measured[0].bleed_mm.left == pytest.approx(10 * 25.4 / 72, abs=0.01)
    assert -measured[0].boxes_mm.media.x0 == pytest.approx(5, abs=0.01)
    assert (measured[0].trim_width_mm, measured[0].trim_height_mm) == pytest.approx((85, 55), abs=0.01)
