"""Files as people send them, by several producers, whose filters and objects differ; drawn by rule, the same each time.

reportlab writes ASCII85 around Flate and DCT, cairo Flate alone, typst object streams and tagged text, pikepdf what it is told.
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import numpy as np
import pikepdf
from PIL import Image
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

A4 = (210 * mm, 297 * mm)
_WORDS = (
    "flour", "water", "salt", "starter", "oven", "crumb", "crust", "rye", "spelt", "barley", "morning", "market", "lane",
    "counter", "basket", "linen", "proof", "fold",
)


def picture(width: int, height: int, seed: int, mode: str = "CMYK") -> Image.Image:
    """Soft ground and grain, so that its JPEG is as large as a photograph's."""
    chance = np.random.default_rng(seed)
    channels = len(mode)
    few = Image.fromarray(chance.integers(10, 120, (9, 7, channels), dtype=np.uint8), mode)
    soft = few.resize((width, height), Image.Resampling.BICUBIC)
    grain = chance.integers(0, 10, (height, width, channels), dtype=np.uint8)
    return Image.fromarray(np.asarray(soft) // 2 + grain, mode)


def jpeg(width: int, height: int, seed: int, mode: str = "CMYK", quality: int = 90) -> io.BytesIO:
    written = io.BytesIO()
    picture(width, height, seed, mode).save(written, "JPEG", quality=quality)
    written.seek(0)
    return written


def _sentences(count: int, seed: int) -> list[str]:
    chance = np.random.default_rng(seed)
    return [" ".join(chance.choice(_WORDS, 11)).capitalize() + "." for _ in range(count)]


def _canvas(path: Path, size: tuple[float, float]) -> Canvas:
    return Canvas(str(path), pagesize=size, invariant=True)


def _jpeg_file(path: Path, *of: object) -> Path:
    if not path.exists():
        path.write_bytes(jpeg(*of).getvalue())  # type: ignore[arg-type]
    return path


def card(path: Path) -> None:
    """Two pages, two pictures."""
    drawn = _canvas(path, (91 * mm, 61 * mm))
    for side in range(2):
        drawn.setTrimBox((3 * mm, 3 * mm, 88 * mm, 58 * mm))
        drawn.setBleedBox((0, 0, 91 * mm, 61 * mm))
        drawn.setFillColorCMYK(0.1, 0.2, 0.4, 0)
        drawn.rect(0, 0, 91 * mm, 61 * mm, stroke=0, fill=1)
        kept = _jpeg_file(path.with_name(f"card-{side}.jpg"), 400, 400, side)
        drawn.drawImage(str(kept), 10 * mm, 12 * mm, 30 * mm, 30 * mm)
        drawn.setFillColorCMYK(0, 0, 0, 1)
        drawn.setFont("Helvetica", 9)
        for line, text in enumerate(_sentences(6, side)):
            drawn.drawString(44 * mm, (40 - 5 * line) * mm, text[:28])
        drawn.showPage()
    drawn.save()


def brochure(path: Path) -> None:
    """Twelve pages, six pictures of a whole page at 300 ppi."""
    drawn = _canvas(path, A4)
    for number in range(12):
        if number % 2 == 0:
            kept = _jpeg_file(path.with_name(f"brochure-{number}.jpg"), 2480, 3508, 10 + number)
            drawn.drawImage(str(kept), 0, 0, *A4)
        _text_page(drawn, number, 24)
    drawn.save()


def _text_page(drawn: Canvas, seed: int, lines: int) -> None:
    drawn.setFillColorCMYK(0, 0, 0, 1)
    drawn.setFont("Times-Roman", 10.5)
    for line, text in enumerate(_sentences(lines, seed)):
        drawn.drawString(22 * mm, (272 - 5.5 * line) * mm, text)
    drawn.showPage()


def book(path: Path, pages: int = 96) -> None:
    """Text, and nothing else."""
    drawn = _canvas(path, A4)
    for number in range(pages):
        _text_page(drawn, 100 + number, 44)
    drawn.save()


def catalogue(path: Path) -> None:
    """48 pages, each with four of forty pictures."""
    drawn = _canvas(path, A4)
    for number in range(48):
        for at in range(4):
            one = (4 * number + at) % 40
            kept = _jpeg_file(path.with_name(f"catalogue-{one}.jpg"), 1000, 1000, 200 + one)
            drawn.drawImage(str(kept), (20 + 90 * (at % 2)) * mm, (150 - 110 * (at // 2)) * mm, 80 * mm, 80 * mm)
        _text_page(drawn, 300 + number, 6)
    drawn.save()


def paths(path: Path, count: int = 100_000) -> None:
    """One page of small filled shapes, each in a colour of its own."""
    chance = np.random.default_rng(7)
    pieces = []
    for x, y, *inks in chance.random((count, 6)):
        left, low = 20 + x * 550, 20 + y * 800
        pieces.append(
            b"%.2f %.2f %.2f %.2f k %.2f %.2f m %.2f %.2f l %.2f %.2f l h f"
            % (*(one * 0.6 for one in inks), left, low, left + 3, low, left + 1.5, low + 3)
        )
    one_page(path, b"\n".join(pieces), {})


def operators(path: Path, count: int = 700_000) -> None:
    """One page of long outlines: many operators between two that paint."""
    chance = np.random.default_rng(8)
    pieces = [b"0 0 0 1 k"]
    for start in chance.random((count // 100, 2)):
        steps = np.cumsum(chance.normal(0, 2, (98, 2)), axis=0) + 100 + start * 400
        pieces.append(b"%.1f %.1f m " % tuple(steps[0]) + b" ".join(b"%.1f %.1f l" % tuple(one) for one in steps[1:]) + b" f")
    one_page(path, b"\n".join(pieces), {})


def one_page(path: Path, content: bytes, resources: dict[str, object]) -> None:
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page(page_size=A4)
        page.obj.Contents = pdf.make_stream(content)
        page.obj.Resources = pikepdf.Dictionary(resources)
        pdf.save(path, object_stream_mode=pikepdf.ObjectStreamMode.generate)


def jpeg_page(path: Path, megapixels: int) -> None:
    """A page that one picture of so many pixels fills."""
    height = round((megapixels * 1e6 * 1.414) ** 0.5)
    drawn = _canvas(path, A4)
    kept = _jpeg_file(path.with_name(f"pixels-{megapixels}.jpg"), round(height / 1.414), height, megapixels)
    drawn.drawImage(str(kept), 0, 0, *A4)
    drawn.showPage()
    drawn.save()


def photograph(path: Path, filters: Sequence[str]) -> None:
    """A page that one picture of 300 ppi fills, packed otherwise than by reportlab: JPEG, under Flate or not, or Flate alone."""
    width, height = 2480, 3508
    data = jpeg(width, height, 10).getvalue() if "DCTDecode" in filters else picture(width, height, 10).tobytes()
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page(page_size=A4)
        stream = pikepdf.Stream(pdf, zlib.compress(data, 1) if "FlateDecode" in filters else data)
        stream.Type, stream.Subtype, stream.ColorSpace = pikepdf.Name.XObject, pikepdf.Name.Image, pikepdf.Name.DeviceCMYK
        stream.Width, stream.Height, stream.BitsPerComponent = width, height, 8
        stream.Filter = pikepdf.Array([pikepdf.Name(f"/{one}") for one in filters])
        page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(P=pdf.make_indirect(stream)))
        page.obj.Contents = pdf.make_stream(b"q %f 0 0 %f 0 0 cm /P Do Q" % A4)
        pdf.save(path, object_stream_mode=pikepdf.ObjectStreamMode.generate)


def thousand(path: Path) -> None:
    """A book of 1,000 pages by typst."""
    import typst

    source = '#set page("a4", margin: 22mm)\n#set text(size: 10pt, fill: cmyk(0%, 0%, 0%, 100%))\n'
    source += "\n#pagebreak()\n".join("\n\n".join(_sentences(30, 1000 + page)) for page in range(1000))
    written = path.with_suffix(".typ")
    written.write_text(source)
    typst.compile(str(written), output=str(path))
    written.unlink()


def poster(path: Path) -> None:
    """One picture of 594 × 841 mm at 200 ppi, packed by Flate alone: 300 MB where the grain is as fine as that of film."""
    width, height = 8504, 12047
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page(page_size=(594 * mm, 841 * mm))
        chance = np.random.default_rng(5)
        packer, pieces = zlib.compressobj(1), []
        for start in range(0, height, 512):
            strip = chance.integers(0, 60, (min(512, height - start), width, 4), dtype=np.uint8)
            pieces.append(packer.compress(strip.tobytes()))
        pieces.append(packer.flush())
        stream = pikepdf.Stream(pdf, b"".join(pieces))
        stream.Type, stream.Subtype, stream.ColorSpace = pikepdf.Name.XObject, pikepdf.Name.Image, pikepdf.Name.DeviceCMYK
        stream.Width, stream.Height, stream.BitsPerComponent, stream.Filter = width, height, 8, pikepdf.Name.FlateDecode
        page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(P=pdf.make_indirect(stream)))
        page.obj.Contents = pdf.make_stream(b"q %f 0 0 %f 0 0 cm /P Do Q" % (594 * mm, 841 * mm))
        pdf.save(path)


def flyer(path: Path) -> None:
    """Glass upon glass, by cairo: groups, soft masks and shadows."""
    import cairocffi as cairo

    surface = cairo.PDFSurface(str(path), *A4)
    drawn = cairo.Context(surface)
    chance = np.random.default_rng(3)
    for x, y, size, red, green, blue in chance.random((240, 6)):
        drawn.push_group()
        middle_x, middle_y, radius = x * A4[0], y * A4[1], 20 + size * 90
        fade = cairo.RadialGradient(middle_x, middle_y, 0, middle_x, middle_y, radius)
        fade.add_color_stop_rgba(0, red, green, blue, 0.8)
        fade.add_color_stop_rgba(1, red, green, blue, 0)
        drawn.set_source(fade)
        drawn.arc(middle_x, middle_y, radius, 0, 6.3)
        drawn.fill()
        drawn.pop_group_to_source()
        drawn.paint_with_alpha(0.6)
    surface.finish()


def blank(path: Path, pages: int = 5000) -> None:
    with pikepdf.new() as pdf:
        for _ in range(pages):
            pdf.add_blank_page(page_size=A4)
        pdf.save(path)


MAKERS: dict[str, Callable[[Path], None]] = {
    "card": card, "brochure": brochure, "book": book, "catalogue": catalogue, "paths": paths, "operators": operators,
    "thousand": thousand, "poster": poster, "flyer": flyer, "blank": blank,
}
PHOTOGRAPHS: dict[str, Callable[[Path], None]] = {
    "jpeg": partial(photograph, filters=("DCTDecode",)),
    "flate": partial(photograph, filters=("FlateDecode",)),
    "flate-over-jpeg": partial(photograph, filters=("FlateDecode", "DCTDecode")),
}
"""Whose pages' pictures are timed besides."""


def made(folder: Path, name: str) -> Path:
    """The file of that name, made where it is not there yet."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{name}.pdf"
    if not path.exists():
        (MAKERS | PHOTOGRAPHS)[name](path)
        for kept in folder.glob("*.jpg"):
            kept.unlink()
    return path
