"""Type, lines, overprint, transparency and damaged fonts against other programs: their files, their readings, their plates.

* Sizes of type: pdfminer.six reads the same files (reportlab, typst, WeasyPrint).
* Widths of lines, overprint and opacity: reportlab was told what to write.
* White that vanishes: Ghostscript's tiffsep device makes the cyan plate (ISO 32000-2:2020, 8.6.7).
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path

import pikepdf
import pytest
import typst
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTChar, LTComponent
from PIL import Image
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from service.pdf.facts.painted.content import Content
from service.pdf.measure import measure
from tests.outside_tools import drawing_package, tool

SHEET = (85 * mm, 55 * mm)


def content_of(data: bytes, folder: Path) -> Content:
    path = folder / "file.pdf"
    path.write_bytes(data)
    measured = measure(path)
    assert isinstance(measured.pages, tuple)
    content = measured.pages[0].content
    assert isinstance(content, Content)
    return content


def drawn(draw: Callable[[Canvas], object]) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=SHEET, invariant=True)
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


# --- Sizes of type ----------------------------------------------------------------------------------------------------


def type_by_reportlab() -> bytes:
    def draw(canvas: Canvas) -> None:
        for size, y in ((4, 10), (7.5, 20), (24, 30)):
            canvas.setFont("Helvetica", size)
            canvas.drawString(10 * mm, y * mm, "rye")
        canvas.scale(0.5, 0.5)
        canvas.setFont("Times-Roman", 9)
        canvas.drawString(40 * mm, 80 * mm, "halved")

    return drawn(draw)


def type_by_typst() -> bytes:
    made = typst.compile(
        b"#set page(width: 85mm, height: 55mm, margin: 5mm)\n#text(size: 5pt)[small] #text(size: 11pt)[large]"
        b" #scale(60%)[#text(size: 10pt)[scaled]]",
        format="pdf",
    )
    assert isinstance(made, bytes)
    return made


def type_by_weasyprint() -> bytes:
    html = "<style>@page { size: 85mm 55mm; margin: 5mm } p { margin: 0 }</style>"
    html += "<p style='font-size: 4.5pt'>small<p style='font-size: 12pt'>large<p style='font-size: 2mm'>metric"
    made = drawing_package("weasyprint").HTML(string=html).write_pdf()
    assert made is not None
    return bytes(made)


@pytest.mark.parametrize("make", [type_by_reportlab, type_by_typst, type_by_weasyprint])
def test_sizes_agree_with_pdfminer(make: Callable[[], bytes], tmp_path: Path) -> None:
    data = make()
    ours = {round(run.size_pt, 1) for run in content_of(data, tmp_path).text_runs if run.text.strip()}
    theirs = {
        round(character.size, 1)
        for layout in extract_pages(io.BytesIO(data))
        for character in characters(layout)
        if character.get_text().strip()
    }
    assert len(ours) >= 3
    assert ours == theirs


def characters(component: LTComponent) -> Iterator[LTChar]:
    if isinstance(component, LTChar):
        yield component
    for inner in component if hasattr(component, "__iter__") else ():
        yield from characters(inner)


# --- Lines ------------------------------------------------------------------------------------------------------------


def test_widths_of_lines_as_reportlab_was_told(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        for width, y in ((0, 5), (0.1, 10), (0.25, 15), (2, 20)):
            canvas.setLineWidth(width)
            canvas.line(10 * mm, y * mm, 70 * mm, y * mm)
        canvas.scale(0.25, 0.25)
        canvas.setLineWidth(0.5)
        canvas.line(40 * mm, 120 * mm, 200 * mm, 120 * mm)

    widths = sorted(line.width_pt for line in content_of(drawn(draw), tmp_path).lines)
    assert widths == pytest.approx([0, 0.1, 0.125, 0.25, 2], abs=0.001)


# --- Overprint --------------------------------------------------------------------------------------------------------


def white_on_cyan(mode: int) -> bytes:
    """A white panel set to overprint in a cyan one."""

    def draw(canvas: Canvas) -> None:
        canvas.setFillColorCMYK(1, 0, 0, 0)
        canvas.rect(0, 0, *SHEET, fill=1, stroke=0)
        canvas.setFillOverprint(True)
        canvas.setOverprintMask(mode)
        canvas.setFillColorCMYK(0, 0, 0, 0)
        canvas.rect(20 * mm, 15 * mm, 40 * mm, 25 * mm, fill=1, stroke=0)

    return drawn(draw)


@pytest.mark.parametrize("mode", [0, 1])
def test_white_vanishes_where_it_vanishes_from_the_plate(mode: int, tmp_path: Path) -> None:
    content = content_of(white_on_cyan(mode), tmp_path)
    tool("gs")(
        "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiffsep", "-r72", f"-sOutputFile={tmp_path}/plate.tif",
        tmp_path / "file.pdf",
    )
    with Image.open(tmp_path / "plate(Cyan).tif") as plate:
        middle = plate.convert("L").getpixel((plate.width // 2, plate.height // 2))
    cyan_stays = middle == 0
    assert [use.case for use in content.overprints] == (["white vanishes"] if cyan_stays else [])
    assert cyan_stays == (mode == 1)


def test_black_text_of_reportlab_on_a_panel(tmp_path: Path) -> None:
    def draw(overprint: bool) -> Callable[[Canvas], None]:
        def page(canvas: Canvas) -> None:
            canvas.setFillColorCMYK(0, 0, 0.4, 0)
            canvas.rect(0, 0, *SHEET, fill=1, stroke=0)
            canvas.setFillOverprint(overprint)
            canvas.setOverprintMask(1 if overprint else 0)
            canvas.setFillColorCMYK(0, 0, 0, 1)
            canvas.setFont("Helvetica", 7)
            canvas.drawString(10 * mm, 20 * mm, "opening hours")

        return page

    cases = [[use.case for use in content_of(drawn(draw(over)), tmp_path).overprints] for over in (True, False)]
    assert cases == [["black overprints"], ["black knocks out"]]


# --- Transparency, links and form fields ------------------------------------------------------------------------------


def test_opacity_of_reportlab_is_live_transparency(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFillAlpha(0.4)
        canvas.rect(10, 10, 50, 50, fill=1, stroke=0)

    assert [(use.kind, use.detail) for use in content_of(drawn(draw), tmp_path).transparency] == [("alpha", "0.4")]


def test_links_and_form_fields_of_reportlab(tmp_path: Path) -> None:
    """A text field of reportlab has the flag Print and appearances of its own; a link has neither."""

    def draw(canvas: Canvas) -> None:
        canvas.linkURL("https://bakery.example", (10 * mm, 10 * mm, 40 * mm, 15 * mm))
        canvas.acroForm.textfield(name="name", x=10 * mm, y=30 * mm, width=40 * mm, height=8 * mm)

    path = tmp_path / "file.pdf"
    path.write_bytes(drawn(draw))
    measured = measure(path)
    assert isinstance(measured.pages, tuple)
    found = measured.pages[0].annotations
    assert isinstance(found, tuple)
    assert sorted((one.label, one.prints, one.has_appearance) for one in found) == [
        ("form field", True, True),
        ("link", False, False),
    ]


# --- Damaged fonts ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("make", [type_by_typst, type_by_weasyprint])
def test_a_font_whose_program_is_cut_off(make: Callable[[], bytes], tmp_path: Path) -> None:
    """Sound as the producer wrote it, damaged when a third of its program is left."""
    sound = content_of(make(), tmp_path)
    assert [font.damage for font in sound.fonts if font.embedded] == [None] * len(sound.fonts)
    with pikepdf.open(io.BytesIO(make())) as pdf:
        for one in pdf.objects:
            for key in ("/FontFile", "/FontFile2", "/FontFile3"):
                if isinstance(one, pikepdf.Dictionary) and key in one:
                    program = one[key].read_bytes()
                    one[key].write(program[: len(program) // 3])
        pdf.save(out := io.BytesIO())
    damaged = content_of(out.getvalue(), tmp_path)
    assert damaged.fonts
    assert all(isinstance(font.damage, str) for font in damaged.fonts)
