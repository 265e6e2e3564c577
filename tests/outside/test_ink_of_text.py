"""Where the ink of text ends, against Ghostscript's bbox device, which paints the page and says around what (4000 dpi).

One piece of text a page, by the kind of font program; blanks at its ends, of which Ghostscript tells the place,
are left out. Agreement means: each side within 0.1 mm.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import reportlab
import typst
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Pdf, Stream
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont as EmbeddedTrueType
from reportlab.pdfgen.canvas import Canvas

from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import MM_PER_POINT, Box, Matrix
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.streams import page_streams
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Mark, ShownText, Walk
from tests.outside_tools import MOST_SECONDS, drawing_package, program

FONTS = Path(reportlab.__file__).parent / "fonts"
NEAR_PT = 0.1 / MM_PER_POINT
EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)
WORDS = ("Fresh", "jolly gay", "OVEN", "Äpfel, 3.20", "'Quick'")
BOX_SAID = re.compile(r"%%HiResBoundingBox: (\S+) (\S+) (\S+) (\S+)")


def ours(data: bytes) -> list[Box]:
    """Around the ink of each page's text, in points."""
    boxes = []
    with pikepdf.open(io.BytesIO(data)) as pdf:
        shared = Shared(pdf)
        for page in pdf.pages:
            inks: list[Box] = []

            def listen(mark: Mark, inks: list[Box] = inks) -> None:
                if isinstance(mark.detail, ShownText) and mark.detail.ink is not None:
                    assert isinstance(mark.detail.ink, Box), (mark.detail.text, mark.detail.ink)
                    inks.append(mark.detail.ink)

            walk = Walk(HANDLERS, Matrix(), EVERYWHERE, shared, [listen])
            for content in page_streams(page.obj):
                walk.run(content, Resources(inherited(page.obj, "/Resources"), shared))
            boxes.append(Box.around([*((box.x0, box.y0) for box in inks), *((box.x1, box.y1) for box in inks)]))
    return boxes


def by_ghostscript(data: bytes, folder: Path) -> list[Box]:
    path = folder / "text.pdf"
    path.write_bytes(data)
    command = [program("gs"), "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=bbox", str(path)]
    done = subprocess.run(command, capture_output=True, timeout=MOST_SECONDS, check=True, text=True)
    return [Box(*(float(one) for one in sides)) for sides in BOX_SAID.findall(done.stderr)]


# --- Files, a piece of text a page ---


def by_canvas(font: str, words: tuple[str, ...] = WORDS) -> bytes:
    """As set, stretched and raised, turned by a right angle, turned askew, and as an outline."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(600, 600), invariant=True)
    for at, word in enumerate(words):
        text = canvas.beginText(0, 0)
        text.setFont(font, 60)
        if at == 1:
            text.setHorizScale(70)
            text.setRise(20)
        canvas.translate(200, 200)
        canvas.rotate({2: 90, 3: 37}.get(at, 0))
        if at == 4:
            canvas.setLineWidth(1)
            text.setTextRenderMode(2)
        text.textOut(word)
        canvas.drawText(text)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def true_type() -> bytes:
    pdfmetrics.registerFont(EmbeddedTrueType("VeraItalic", FONTS / "VeraIt.ttf"))
    return by_canvas("VeraItalic")


def type_1() -> bytes:
    face = pdfmetrics.EmbeddedType1Face(str(FONTS / "DarkGardenMK.afm"), str(FONTS / "DarkGardenMK.pfb"))
    pdfmetrics.registerTypeFace(face)
    pdfmetrics.registerFont(pdfmetrics.Font("DarkGarden", face.name, "WinAnsiEncoding"))
    return by_canvas("DarkGarden", ("Fresh", "jolly gay", "OVEN", "Rolls", "Quick"))


def standard() -> bytes:
    return by_canvas("Helvetica")


def compact_cid() -> bytes:
    """New Computer Modern, which typst brings: CFF with CIDs."""
    pages = "#pagebreak()".join(f"#rotate({at * 17}deg)[{word.strip()}]" for at, word in enumerate(WORDS))
    source = f"#set page(width: 600pt, height: 600pt)\n#set text(size: 60pt)\n#set align(center+horizon)\n{pages}"
    made = typst.compile(source.encode(), format="pdf")
    assert isinstance(made, bytes)
    return made


def true_type_cid() -> bytes:
    """Whatever sans serif the machine has, as WeasyPrint subsets it."""
    paragraphs = "".join(f"<p style='page-break-after: always; padding: 60pt'>{word}" for word in WORDS)
    html = f"<style>@page {{ size: 600pt 600pt }} p {{ font: 60pt DejaVu Sans, sans-serif }}</style>{paragraphs}"
    made = drawing_package("weasyprint").HTML(string=html).write_pdf()
    assert made is not None
    return bytes(made)


def compact() -> bytes:
    """Vera's letters as CFF with an encoding of its own (Type1C), which the font dictionary leaves to the program."""
    source = TTFont(FONTS / "Vera.ttf")
    glyphs, names = source.getGlyphSet(), [".notdef", *"Freshjolyga"]
    names = list(dict.fromkeys(names))
    outlines = {}
    for name in names:
        pen = T2CharStringPen(glyphs[name].width, glyphs)
        glyphs[name].draw(pen)
        outlines[name] = pen.getCharString()
    builder = FontBuilder(2048, isTTF=False)
    builder.setupGlyphOrder(names)
    scale = 1 / 2048
    builder.setupCFF("Crust", {"FontMatrix": [scale, 0, 0, scale, 0, 0]}, outlines, {})
    program_file = io.BytesIO()
    builder.font["CFF "].cff.compile(program_file, builder.font, isCFF2=False)
    return with_font(lambda pdf: _simple(pdf, program_file.getvalue()), [b"Fresh", b"jolly", b"gay"])


def _simple(pdf: Pdf, data: bytes) -> Any:
    stream = pdf.make_indirect(Stream(pdf, data, Subtype=Name.Type1C))
    descriptor = Dictionary(Type=Name.FontDescriptor, FontName=Name("/Crust"), Flags=4, FontFile3=stream)
    wide = {**dict.fromkeys(range(65, 123), 600)}
    made = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/Crust"), FirstChar=65, LastChar=122)
    made.Widths, made.FontDescriptor = Array(list(wide.values())), pdf.make_indirect(descriptor)
    return made


def type_3() -> bytes:
    """The stated boxes are larger than what is painted."""

    def font(pdf: Pdf) -> Any:
        procedures = Dictionary(
            a=pdf.make_indirect(Stream(pdf, b"900 0 0 -300 900 900 d1 100 200 m 500 700 l 800 200 l f")),
            b=pdf.make_indirect(Stream(pdf, b"900 0 d0 1 0 0 rg 200 -100 300 400 re f  100 470 600 60 re f")),
            c=pdf.make_indirect(Stream(pdf, b"900 0 0 0 900 900 d1")),
        )
        made = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, -1000, 1000, 3000], CharProcs=procedures)
        made.FontMatrix, made.FirstChar, made.LastChar, made.Widths = Array([0.001, 0, 0, 0.001, 0, 0]), 97, 99, [900, 900, 900]
        made.Encoding, made.Resources = Dictionary(Differences=[97, Name.a, Name.b, Name.c]), Dictionary()
        return made

    return with_font(font, [b"a", b"cabc", b"bb"])


def with_font(font: Callable[[Pdf], Any], strings: list[bytes]) -> bytes:
    pdf, out = Pdf.new(), io.BytesIO()
    made = pdf.make_indirect(font(pdf))
    for at, shown in enumerate(strings):
        turned = (b"1 0 0 1", b"0 1 -1 0", b".8 .6 -.6 .8")[at]
        page = pdf.add_blank_page(page_size=(600, 600))
        page.Resources = Dictionary(Font=Dictionary(F=made))
        page.Contents = Stream(pdf, b"BT /F 60 Tf %s 300 200 Tm (%s) Tj ET" % (turned, shown))
    pdf.save(out)
    return out.getvalue()


MAKERS = {
    "TrueType": true_type,
    "TrueType by CID": true_type_cid,
    "CFF": compact,
    "CFF by CID": compact_cid,
    "Type 1": type_1,
    "Type 3": type_3,
    "a standard font that is not embedded": standard,
}


@pytest.mark.parametrize("kind", MAKERS)
def test_the_ink_of_text_ends_where_ghostscript_paints_it(kind: str, tmp_path: Path) -> None:
    data = MAKERS[kind]()
    found, told = ours(data), by_ghostscript(data, tmp_path)
    assert len(found) == len(told) > 2
    slack = 3 * NEAR_PT if kind.startswith("a standard") else NEAR_PT  # another face of the same metrics
    for our, their in zip(found, told, strict=True):
        assert all(abs(one - other) <= slack for one, other in zip(our, their, strict=True)), (our, their)
