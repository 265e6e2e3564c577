"""cairo: RGB with alpha, text as subsets or as outlines."""

from __future__ import annotations

import io
from pathlib import Path

import cairocffi as cairo
from PIL import Image
from reportlab.lib.units import mm

from tests.outside.desk.making.words import LINES, NAME, SCRIPT_FAMILY, crest_png, picture_jpeg


def _surface(path: Path, width: float, height: float) -> tuple[cairo.PDFSurface, cairo.Context]:
    surface = cairo.PDFSurface(str(path), width * mm, height * mm)
    return surface, cairo.Context(surface)


def _write(context: cairo.Context, x: float, y: float, text: str, size: float, family: str = "DejaVu Sans") -> None:
    context.select_font_face(family)
    context.set_font_size(size)
    context.move_to(x * mm, y * mm)
    context.show_text(text)


def _photo(context: cairo.Context, png: bytes, x: float, y: float, width: float) -> None:
    image = cairo.ImageSurface.create_from_png(io.BytesIO(png))
    context.save()
    context.translate(x * mm, y * mm)
    context.scale(width * mm / image.get_width(), width * mm / image.get_width())
    context.set_source_surface(image)
    context.paint()
    context.restore()


def poster(path: Path) -> None:
    surface, context = _surface(path, 297, 420)
    context.set_source_rgb(0.97, 0.93, 0.82)
    context.paint()
    out = io.BytesIO()
    Image.open(io.BytesIO(picture_jpeg(1300, 900, in_cmyk=False))).save(out, "PNG")
    _photo(context, out.getvalue(), 40, 120, 217)
    context.set_source_rgba(0.1, 0.3, 0.4, 0.5)
    context.rectangle(40 * mm, 240 * mm, 217 * mm, 30 * mm)
    context.fill()
    context.set_source_rgb(0, 0, 0)
    _write(context, 40, 90, "Bread fair", 110, SCRIPT_FAMILY)
    _write(context, 40, 320, LINES[0], 24)
    surface.finish()


def card_outlines(path: Path) -> None:
    """Type as outlines, room for bleed, a crest whose frame is near the edge."""
    surface, context = _surface(path, 91, 61)
    _photo(context, crest_png(), 4, 4, 24)
    context.select_font_face(SCRIPT_FAMILY)
    context.set_font_size(26)
    context.move_to(10 * mm, 40 * mm)
    context.text_path(NAME)
    context.set_source_rgb(0.54, 0.29, 0.12)
    context.fill()
    context.set_source_rgb(0, 0, 0)
    _write(context, 10, 54, LINES[0], 6)
    surface.finish()


def sticker(path: Path) -> None:
    """RGB all through, with a thin line where it is to be cut: no spot, no bleed."""
    surface, context = _surface(path, 60, 60)
    context.set_source_rgb(0.54, 0.29, 0.12)
    context.arc(30 * mm, 30 * mm, 30 * mm, 0, 6.2832)
    context.fill()
    context.set_source_rgb(1, 1, 1)
    _write(context, 12, 32, "Halyard Lane", 15)
    context.set_source_rgb(1, 0, 1)
    context.set_line_width(0.2)
    context.arc(30 * mm, 30 * mm, 29.9 * mm, 0, 6.2832)
    context.stroke()
    surface.finish()


FILES = {
    "poster-a3": (poster, "poster-a3"),
    "card-outlines": (card_outlines, "business-card-85x55"),
    "sticker": (sticker, "sticker-round-60"),
}


def make(folder: Path) -> dict[str, str]:
    for name, (draw, _) in FILES.items():
        draw(folder / f"cairo-{name}.pdf")
    return {f"cairo-{name}.pdf": sheet for name, (_, sheet) in FILES.items()}
