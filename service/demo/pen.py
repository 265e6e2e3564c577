"""Draws on a page in millimetres from the top-left corner of its trim, y downwards, with the demo's inks and type."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import reportlab
from reportlab import rl_config
from reportlab.lib.colors import CMYKColor, CMYKColorSep
from reportlab.lib.units import mm
from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

Box = tuple[float, float, float, float]

CREAM = CMYKColor(0, 0.03, 0.10, 0)
BUTTER = CMYKColor(0.02, 0.16, 0.55, 0)
CRUST = CMYKColor(0.18, 0.58, 0.90, 0.22)
COCOA = CMYKColor(0.30, 0.62, 0.72, 0.62)
BLACK = CMYKColor(0, 0, 0, 1)
WHITE = CMYKColor(0, 0, 0, 0)

REGULAR, BOLD, ITALIC = "Vera", "Vera-Bold", "Vera-Italic"


def spot(name: str) -> CMYKColorSep:
    """An ink of its own, shown as a brown where there is no such ink."""
    return CMYKColorSep(0.1, 0.5, 0.8, 0.15, spotName=name)


def load_type() -> None:
    """Bitstream Vera, shipped with reportlab under a licence that lets it be embedded and shared."""
    for name, file in ((REGULAR, "Vera.ttf"), (BOLD, "VeraBd.ttf"), (ITALIC, "VeraIt.ttf")):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(Path(reportlab.__file__).parent / "fonts" / file)))


@contextmanager
def binary_streams() -> Iterator[None]:
    """Let reportlab write streams as they are, not as text a quarter longer; its own switch is one for the whole process."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


class _Jpeg:
    """An image that reportlab puts into the file without decoding it, named by what it holds."""

    def __init__(self, data: bytes) -> None:
        self._data = data

    def jpeg_fh(self) -> io.BytesIO:
        return io.BytesIO(self._data)

    def __str__(self) -> str:
        return hashlib.sha256(self._data).hexdigest()


@dataclass(frozen=True)
class Pen:
    """One page, or one half of a spread, to draw on. `left_mm` is where its trim begins, from the trim of the whole sheet."""

    canvas: Canvas
    width: float
    height: float
    bleed: float
    left_mm: float = 0.0

    def x(self, x: float) -> float:
        return (self.bleed + self.left_mm + x) * mm

    def y(self, y: float) -> float:
        return (self.bleed + self.height - y) * mm

    @property
    def with_bleed(self) -> Box:
        """What a full-bleed background covers: 3 mm outside the trim, drawn even where the file then loses them."""
        return (-3, -3, self.width + 3, self.height + 3)

    def area(self, box: Box, color: CMYKColor) -> None:
        x0, y0, x1, y1 = box
        self.canvas.setFillColor(color)
        self.canvas.rect(self.x(x0), self.y(y1), (x1 - x0) * mm, (y1 - y0) * mm, stroke=0, fill=1)

    def rule(self, x0: float, y: float, x1: float, color: CMYKColor = CRUST, width_pt: float = 0.75) -> None:
        self.canvas.setStrokeColor(color)
        self.canvas.setLineWidth(width_pt)
        self.canvas.line(self.x(x0), self.y(y), self.x(x1), self.y(y))

    def picture(self, jpeg: bytes, box: Box) -> None:
        """Fills the box; the JPEG goes into the file as it is."""
        x0, y0, x1, y1 = box
        self.canvas.drawImage(_Jpeg(jpeg), self.x(x0), self.y(y1), (x1 - x0) * mm, (y1 - y0) * mm)

    def text(
        self, string: str, x: float, y: float, size: float, color: CMYKColor = BLACK, font: str = REGULAR,
        spacing: float = 0, align: str = "left",
    ) -> None:
        """One line; `x` is its left, middle or right. `spacing`: points between letters. Black overprints, as type should."""
        length = pdfmetrics.stringWidth(string, font, size) + spacing * (len(string) - 1)
        start = self.x(x) - {"left": 0.0, "middle": length / 2, "right": length}[align]
        line = self.canvas.beginText(start, self.y(y))
        line.setFont(font, size)
        line.setCharSpace(spacing)
        line.setFillColor(color)
        line.textOut(string)
        self.canvas.saveState()
        if color == BLACK:
            self.canvas.setFillOverprint(True)
            self.canvas.setOverprintMask(1)
        self.canvas.drawText(line)
        self.canvas.restoreState()

    def paragraph(self, text: str, x: float, y: float, width: float, size: float, color: CMYKColor = BLACK) -> float:
        """Lines broken to the width, one and a half times the size apart; where the next would stand."""
        for line in simpleSplit(text, REGULAR, size, width * mm):
            self.text(line, x, y, size, color)
            y += size * 1.5 / mm
        return y

    def wheat(self, x: float, y: float, height: float, color: CMYKColor) -> None:
        """The bakery's sign: an ear of wheat standing on (x, y)."""
        c, unit = self.canvas, height / 12
        c.saveState()
        c.translate(self.x(x), self.y(y))
        c.setStrokeColor(color)
        c.setFillColor(color)
        c.setLineWidth(max(0.5, unit * 0.5 * mm))
        c.line(0, 0, 0, 9 * unit * mm)
        for n in range(4):
            for turn in (-32, 32):
                c.saveState()
                c.translate(0, (3.2 + 1.9 * n) * unit * mm)
                c.rotate(turn)
                c.ellipse(-0.62 * unit * mm, 0.3 * unit * mm, 0.62 * unit * mm, 2.9 * unit * mm, stroke=0, fill=1)
                c.restoreState()
        c.ellipse(-0.6 * unit * mm, 9.3 * unit * mm, 0.6 * unit * mm, 12 * unit * mm, stroke=0, fill=1)
        c.restoreState()

    @contextmanager
    def only(self, box: Box) -> Iterator[None]:
        """What is drawn inside the `with` shows within the box only."""
        x0, y0, x1, y1 = box
        self.canvas.saveState()
        path = self.canvas.beginPath()
        path.rect(self.x(x0), self.y(y1), (x1 - x0) * mm, (y1 - y0) * mm)
        self.canvas.clipPath(path, stroke=0, fill=0)
        yield
        self.canvas.restoreState()


class PdfFile:
    """A PDF being made: the same bytes each time."""

    def __init__(self, path: Path, title: str) -> None:
        load_type()
        self.path = path
        self._canvas = Canvas(str(path), initialFontName=REGULAR, invariant=1, pageCompression=1)  # type: ignore[arg-type]  # the stub is wrong
        self._canvas.setTitle(title)
        self._canvas.setAuthor("Halyard Lane Bakery")
        self._canvas.setCreator("Demo order of print-spec")

    def page(self, width: float, height: float, bleed: float = 3, scale: float = 1) -> Pen:
        """A new page with that trim. `scale` is for a page that was exported at the wrong size."""
        whole = ((width + 2 * bleed) * mm * scale, (height + 2 * bleed) * mm * scale)
        self._canvas.setPageSize(whole)
        self._canvas.setBleedBox((0, 0, *whole))
        edge = bleed * mm * scale
        self._canvas.setTrimBox((edge, edge, edge + width * mm * scale, edge + height * mm * scale))
        self._canvas.scale(scale, scale)
        return Pen(self._canvas, width, height, bleed)

    def end_page(self) -> None:
        self._canvas.showPage()

    def save(self) -> Path:
        self._canvas.save()
        return self.path
