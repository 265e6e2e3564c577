"""Every glyph's place, width and character against PDFium's text page, glyph by glyph.

Agreement means: the same origin within 0.1 mm, and the same character after compatibility decomposition (PDFium takes
ligatures and presentation forms apart). Since every glyph but the first stands where the advances before it lead, places also
prove widths; the right edges are compared too, where PDFium's loose box is not widened by an outline beyond the advance.
"""

from __future__ import annotations

import ctypes
import io
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from reportlab.pdfgen.canvas import Canvas

from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import MM_PER_POINT, Box, Matrix
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import page_streams
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Mark, ShownText, Walk
from tests.outside.producers import by_cairo, by_typst, by_weasyprint
from tests.outside.test_corpus import CORPUS
from tests.outside_tools import drawing_package

NEAR_PT = 0.1 / MM_PER_POINT
EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)


class Glyph(NamedTuple):
    text: str
    x: float
    y: float
    end_x: float
    end_y: float


def walked(pdf: pikepdf.Pdf, index: int) -> list[Glyph]:
    """Our glyphs: start and end of each on the baseline, in points of default user space. Vertical writing is left out."""
    found: list[Glyph] = []

    def listen(mark: Mark) -> None:
        if isinstance(mark.detail, ShownText) and not mark.detail.font.vertical:
            shown = mark.detail
            for text, start, end in shown.spans:
                found.append(Glyph(text, *shown.matrix.point(start, shown.rise), *shown.matrix.point(end, shown.rise)))

    page = pdf.pages[index].obj
    walk = Walk(HANDLERS, Matrix(), EVERYWHERE, Shared(pdf), [listen])
    resources = Resources(inherited(page, "/Resources"), walk.shared)
    for data in page_streams(page):
        walk.run(data, resources)
    return found


def by_pdfium(pdf: pypdfium2.PdfDocument, index: int) -> Iterator[Glyph]:
    """PDFium's: origin, and the right edge of the loose box (advance) for upright text; blanks that it makes up left out."""
    page = pdf[index]
    text = page.get_textpage()
    x, y, box = ctypes.c_double(), ctypes.c_double(), pdfium.FS_RECTF()
    for number in range(text.count_chars()):
        character = chr(min(pdfium.FPDFText_GetUnicode(text, number), 0x10FFFF))
        if pdfium.FPDFText_IsGenerated(text, number) or not character.isprintable() or character.isspace():
            continue
        pdfium.FPDFText_GetCharOrigin(text, number, ctypes.byref(x), ctypes.byref(y))
        pdfium.FPDFText_GetLooseCharBox(text, number, ctypes.byref(box))
        yield Glyph(character, x.value, y.value, box.right, y.value)


def agreement(ours: list[Glyph], theirs: Iterator[Glyph]) -> Counter[str]:
    """How many of PDFium's glyphs have one of ours at their place, with the same character, with the same advance."""
    places: dict[tuple[int, int], list[Glyph]] = defaultdict(list)
    for one in ours:
        places[round(one.x), round(one.y)].append(one)
    counts: Counter[str] = Counter()
    for their in theirs:
        counts["glyphs"] += 1
        around = [(round(their.x) + dx, round(their.y) + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)]
        near = [one for key in around for one in places.get(key, ()) if _same_place(one, their)]
        counts["place"] += bool(near)
        counts["character"] += any(_same_character(one.text, their.text) for one in near)
        upright = [one for one in near if abs(one.end_y - one.y) < 0.01 and one.end_x > one.x]
        counts["upright"] += bool(upright)
        counts["advance"] += any(abs(one.end_x - their.end_x) <= NEAR_PT for one in upright)
    return counts


def _same_place(one: Glyph, other: Glyph) -> bool:
    return abs(one.x - other.x) <= NEAR_PT and abs(one.y - other.y) <= NEAR_PT


def _same_character(ours: str, theirs: str) -> bool:
    flat = unicodedata.normalize("NFKD", ours)
    return unicodedata.normalize("NFKD", theirs) in flat


def by_reportlab() -> bytes:
    """Spacing, scaling, rise, a turned and a scaled line, two encodings."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(400, 300))
    text = canvas.beginText(20, 250)
    text.setFont("Helvetica", 11)
    text.setCharSpace(0.7)
    text.setWordSpace(2)
    text.textLine("Rye, spelt & barley: 3,20 €")
    text.setHorizScale(80)
    text.setRise(3)
    text.textLine("narrow and raised")
    canvas.drawText(text)
    canvas.saveState()
    canvas.translate(200, 60)
    canvas.rotate(30)
    canvas.scale(1.5, 0.8)
    canvas.setFont("Times-Italic", 9)
    canvas.drawString(0, 0, "Opening times")
    canvas.restoreState()
    canvas.setFont("Courier-Bold", 7)
    canvas.drawString(20, 40, "Copperbeck Press 1047")
    canvas.save()
    return out.getvalue()


def long_text() -> bytes:
    words = "Sourdough rises slowly; efficient fire waits. " * 60
    made = drawing_package("weasyprint").HTML(string=f"<p style='text-align: justify'>{words}").write_pdf()
    assert made is not None
    return bytes(made)


PRODUCERS = {
    "reportlab": by_reportlab,
    "weasyprint": lambda: by_weasyprint(3),
    "weasyprint, justified": long_text,
    "typst": by_typst,
    "cairo": by_cairo,
}


@pytest.mark.parametrize("producer", PRODUCERS)
def test_glyphs_stand_where_pdfium_finds_them(producer: str) -> None:
    data = PRODUCERS[producer]()
    with pikepdf.open(io.BytesIO(data)) as ours, pypdfium2.PdfDocument(data) as theirs:
        counts = agreement(walked(ours, 0), by_pdfium(theirs, 0))
    assert counts["glyphs"] > 10
    assert counts["place"] == counts["character"] == counts["glyphs"], counts
    assert counts["advance"] / counts["upright"] > 0.94, counts


def test_glyphs_of_third_party_files_stand_where_pdfium_finds_them() -> None:
    """Seen: 125,000 glyphs of 200 files. What is left are fonts without any map to characters (PDFium guesses from the program),
    predefined CJK maps (their CIDs stay unknown here, so widths are the default) and files that are broken on purpose.
    """
    if not CORPUS.is_dir():
        pytest.skip("the folder of third-party PDFs is not there")
    total: Counter[str] = Counter()
    for path in sorted(CORPUS.glob("*.pdf")):
        total += _of_file(path)
    assert total["glyphs"] > 100_000
    assert total["place"] / total["glyphs"] > 0.99, total
    assert total["character"] / total["glyphs"] > 0.98, total
    assert total["advance"] / total["upright"] > 0.95, total


def _of_file(path: Path) -> Counter[str]:
    try:
        with pikepdf.open(path) as ours, pypdfium2.PdfDocument(path) as theirs:
            counts: Counter[str] = Counter()
            for index in range(min(len(ours.pages), len(theirs), 2)):
                counts += agreement(walked(ours, index), by_pdfium(theirs, index))
            return counts
    except (*READING_ERRORS, pypdfium2.PdfiumError):
        return Counter()
