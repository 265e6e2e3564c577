"""Pictures of third-party files against two readers: pixels and ppi by `pdfimages -list`, places by PyMuPDF.

Agreement is counted; what is left is explained beside the number. The folder is that of `test_corpus`.
"""

from __future__ import annotations

import subprocess
from collections import Counter
from pathlib import Path

import pymupdf
import pytest

from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.images import Image
from service.pdf.facts.unknown import Unmeasured
from tests.outside.conftest import MeasuredOnce
from tests.outside.test_corpus import FILES
from tests.outside_tools import Tool, tool
from tests.sweeps import WHOLE

pytestmark = pytest.mark.skipif(not FILES, reason="no folder of other people's PDFs; set PRINT_SPEC_CORPUS")

FIRST_PAGES = 5
Key = tuple[int, int]
"""Width and height in pixels."""


def first_pages(pages: tuple[Page, ...] | Unmeasured) -> list[tuple[Page, Content]]:
    if isinstance(pages, Unmeasured):
        return []
    return [(page, page.content) for page in pages[:FIRST_PAGES] if isinstance(page.content, Content)]


def test_ppi_is_what_poppler_lists(measured_once: MeasuredOnce) -> None:
    """Whole ppi. Beyond ours it lists what lies outside the media, annotations that do not print, and masks as rows."""
    counts: Counter[str] = Counter()
    for path in FILES:
        listed = _listed(tool("pdfimages"), path)
        for page, content in first_pages(measured_once(path).pages):
            theirs = Counter(listed.get(page.number, []))
            for one in content.images:
                counts["ours"] += 1
                row = next((row for row in theirs if theirs[row] > 0 and _same_ppi(row, one)), None)
                if row:
                    theirs[row] -= 1
                    counts["agree"] += 1
            counts["theirs alone"] += sum(theirs.values())
    assert counts["ours"] > (250 if WHOLE else 20)
    assert counts["agree"] / counts["ours"] > 0.985, counts
    assert counts["theirs alone"] / counts["ours"] < 0.12, counts


def _listed(pdfimages: Tool, path: Path) -> dict[int, list[tuple[int, int, float, float]]]:
    rows: dict[int, list[tuple[int, int, float, float]]] = {}
    try:
        output = pdfimages("-list", "-l", str(FIRST_PAGES), path)
    except subprocess.CalledProcessError:
        return rows
    for line in output.splitlines()[2:]:
        cells = line.split()
        if cells[2] not in ("smask", "mask"):
            rows.setdefault(int(cells[0]), []).append((int(cells[3]), int(cells[4]), float(cells[-4]), float(cells[-3])))
    return rows


def _same_ppi(row: tuple[int, int, float, float], ours: Image) -> bool:
    near = all(abs(their - our) <= max(1.0, our * 0.01) for their, our in zip(row[2:], (ours.ppi_x, ours.ppi_y), strict=True))
    return row[:2] == (ours.width_px, ours.height_px) and near


def test_places_are_where_pymupdf_finds_them(measured_once: MeasuredOnce) -> None:
    """PyMuPDF (1.28) counts from the CropBox, lists pictures in annotations never and clipped ones always."""
    counts: Counter[str] = Counter()
    for path in FILES:
        pages = first_pages(measured_once(path).pages)
        if not any(content.images for _, content in pages):
            continue
        with pymupdf.open(path) as reader:
            for page, content in pages:
                if page.number <= reader.page_count:
                    counts += _placed(reader[page.number - 1], page, content)
    assert counts["pictures"] > (250 if WHOLE else 20)
    assert counts["same place"] / counts["pictures"] > (0.97 if WHOLE else 0.9), counts


def _placed(reader: pymupdf.Page, page: Page, content: Content) -> Counter[str]:
    """How many of our pictures PyMuPDF has with the same pixels in the same box, within 0.1 mm."""
    counts: Counter[str] = Counter()
    crop, unit = page.boxes_mm.crop, 25.4 / 72 * page.user_unit
    theirs = [(info["width"], info["height"], [value * unit for value in info["bbox"]]) for info in reader.get_image_info()]
    for one in content.images:
        counts["pictures"] += 1
        x0, y0, x1, y1 = one.box_mm
        box = (x0 - crop.x0, y0 - crop.y0, x1 - crop.x0, y1 - crop.y0)
        counts["same place"] += any(
            (width, height) == (one.width_px, one.height_px) and all(abs(a - b) <= 0.1 for a, b in zip(box, other, strict=True))
            for width, height, other in theirs
        )
    return counts
