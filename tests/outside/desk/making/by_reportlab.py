"""Print files as a careful designer's program writes them: CMYK, spots, page boxes and crop marks (reportlab)."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

from reportlab.lib.colors import CMYKColor, CMYKColorSep
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from tests.outside.desk.making.words import (
    ADDRESS,
    BODY,
    CREAM,
    CRUST,
    LINES,
    NAME,
    SEA,
    crest_png,
    picture_jpeg,
    tall_face,
    vera,
)

SLUG = 10.0
BLACK, WHITE = CMYKColor(0, 0, 0, 1), CMYKColor(0, 0, 0, 0)


class Sheet:
    """A canvas in mm from the trim's bottom-left corner."""

    def __init__(self, path: Path, width: float, height: float, bleed: float = 3, slug: float = SLUG) -> None:
        self.width, self.height, self.bleed, self.slug = width, height, bleed, slug
        media = (width + 2 * slug) * mm, (height + 2 * slug) * mm
        self.canvas = Canvas(str(path), pagesize=media, invariant=True, pageCompression=1)
        self.begin()

    def begin(self) -> None:
        trim = (self.slug * mm, self.slug * mm, (self.slug + self.width) * mm, (self.slug + self.height) * mm)
        grown = self.bleed * mm
        self.canvas.setTrimBox(trim)
        self.canvas.setBleedBox((trim[0] - grown, trim[1] - grown, trim[2] + grown, trim[3] + grown))
        self.canvas.translate(self.slug * mm, self.slug * mm)

    def next_page(self) -> None:
        self.canvas.showPage()
        self.begin()

    def ground(self, cmyk: tuple[float, ...]) -> None:
        color = CMYKColor(cmyk[0], cmyk[1], cmyk[2], cmyk[3])
        self.box(-self.bleed, -self.bleed, self.width + 2 * self.bleed, self.height + 2 * self.bleed, color)

    def box(self, x: float, y: float, width: float, height: float, color: CMYKColor) -> None:
        self.canvas.setFillColor(color)
        self.canvas.rect(x * mm, y * mm, width * mm, height * mm, stroke=0, fill=1)

    def words(self, x: float, y: float, text: str, font: str, size: float, color: CMYKColor = BLACK) -> None:
        self.canvas.setFillColor(color)
        self.canvas.setFont(font, size)
        self.canvas.drawString(x * mm, y * mm, text)

    def photo(self, x: float, y: float, width: float, height: float, ppi: float = 300, in_cmyk: bool = True) -> None:
        pixels = round(width / 25.4 * ppi), round(height / 25.4 * ppi)
        data = io.BytesIO(picture_jpeg(*pixels, in_cmyk=in_cmyk))
        self.canvas.drawImage(ImageReader(data), x * mm, y * mm, width * mm, height * mm)

    def marks(self, color: CMYKColor, *, as_one_path: bool = False) -> None:
        path, offset, length = self.canvas.beginPath(), 4.0, 5.0
        for x, outwards in ((0.0, -1), (self.width, 1)):
            for y, upwards in ((0.0, -1), (self.height, 1)):
                for start, end in (
                    ((x + outwards * offset, y), (x + outwards * (offset + length), y)),
                    ((x, y + upwards * offset), (x, y + upwards * (offset + length))),
                ):
                    path.moveTo(start[0] * mm, start[1] * mm)
                    path.lineTo(end[0] * mm, end[1] * mm)
                    if not as_one_path:
                        self._stroke(path, color)
                        path = self.canvas.beginPath()
        if as_one_path:
            self._stroke(path, color)

    def _stroke(self, path: object, color: CMYKColor) -> None:
        self.canvas.setStrokeColor(color)
        self.canvas.setLineWidth(0.25)
        self.canvas.drawPath(path, stroke=1, fill=0)

    def save(self) -> None:
        self.canvas.save()


def spot(name: str, looks: tuple[float, ...], tint: float = 1) -> CMYKColorSep:
    return CMYKColorSep(looks[0], looks[1], looks[2], looks[3], spotName=name, density=tint)


def registration(tint: float = 1) -> CMYKColorSep:
    return spot("All", (1, 1, 1, 1), tint)


def fonts(folder: Path) -> None:
    pdfmetrics.registerFont(TTFont("Vera", vera()))
    pdfmetrics.registerFont(TTFont("Tall", tall_face(folder)))


def card(path: Path) -> None:
    sheet = Sheet(path, 85, 55)
    sheet.ground(CREAM)
    sheet.words(8, 36, NAME, "Vera", 15)
    for at, line in enumerate(ADDRESS[1:]):
        sheet.words(8, 18 - 5 * at, line, "Vera", 7)
    sheet.marks(registration())
    sheet.next_page()
    sheet.ground(CRUST)
    sheet.words(8, 26, NAME, "Vera", 15, WHITE)
    sheet.marks(registration())
    sheet.save()


def card_marks_one_path(path: Path) -> None:
    sheet = Sheet(path, 85, 55)
    sheet.words(8, 36, NAME, "Vera", 15)
    sheet.words(8, 14, ADDRESS[1], "Vera", 7)
    sheet.marks(registration(), as_one_path=True)
    sheet.save()


def card_marks_black_overprint(path: Path) -> None:
    """Crop marks in black as one path, a picture in the middle: the bounds of the marks enclose it."""
    sheet = Sheet(path, 85, 55)
    sheet.photo(20, 12, 45, 30)
    sheet.words(8, 46, NAME, "Vera", 12)
    sheet.marks(BLACK, as_one_path=True)
    sheet.save()


def card_edge_type(path: Path) -> None:
    """Type near each edge: its ink 3.4 mm inside or more, its type boxes and spaces beyond; one line is really too near."""
    sheet = Sheet(path, 85, 55)
    sheet.words(6, 46, "Fresh", "Tall", 18)
    sheet.words(6, 4, NAME, "Tall", 9)
    sheet.words(50, 26, "Open today" + " " * 30, "Vera", 8)
    sheet.words(4, 3.4, "OVEN", "Vera", 14)
    sheet.words(55, 1.2, "too near", "Vera", 8)
    sheet.save()


def flyer(path: Path) -> None:
    sheet = Sheet(path, 148, 210)
    sheet.photo(-3, 60, 154, 153, ppi=250)
    sheet.box(-3, -3, 154, 63, CMYKColor(*CREAM))
    sheet.words(12, 180, "Harvest", "Vera", 54, WHITE)
    sheet.words(12, 80, "Saturday at the mill", "Vera", 30)
    sheet.words(12, 66, "small black type on the picture", "Vera", 8)
    for at, line in enumerate(LINES):
        sheet.words(12, 40 - 7 * at, line, "Vera", 9)
    sheet.marks(registration())
    sheet.save()


def flyer_black_on_flat_tint(path: Path) -> None:
    """Black type, small and large, on a flat tint and half across its edge; black artwork on white."""
    sheet = Sheet(path, 148, 210)
    sheet.box(-3, 100, 154, 113, CMYKColor(*CREAM))
    sheet.words(12, 170, "Harvest", "Vera", 60)
    sheet.words(12, 150, LINES[0], "Vera", 9)
    sheet.words(12, 92, "Across", "Vera", 60)
    for row in range(10):
        for column in range(10):
            sheet.box(40 + 4 * column, 20 + 4 * row, 2, 2, BLACK)
    sheet.save()


def flyer_overprinting_black(path: Path) -> None:
    sheet = Sheet(path, 148, 210)
    sheet.photo(-3, 60, 154, 153, ppi=250)
    sheet.canvas.setFillOverprint(True)
    sheet.canvas.setOverprintMask(1)
    sheet.words(12, 100, "MILL", "Vera", 90)
    sheet.words(12, 30, "ALONE", "Vera", 60)
    sheet.words(12, 66, LINES[0], "Vera", 8)
    sheet.save()


def spots_at_nought(path: Path) -> None:
    """White letters in a spot at 0 % on the same spot, a halo in registration at 0 %, marks in registration."""
    sheet = Sheet(path, 148, 210)
    copper = (0.1, 0.55, 0.8, 0.2)
    sheet.box(-3, 100, 154, 113, spot("Copper", copper))
    sheet.words(12, 150, NAME, "Vera", 28, spot("Copper", copper, 0))
    sheet.canvas.setFillOverprint(True)
    sheet.words(12, 130, NAME, "Vera", 28, spot("Copper", copper, 0))
    sheet.canvas.setFillOverprint(False)
    sheet.words(12, 115, "halo", "Vera", 24, registration(0))
    sheet.words(12, 60, LINES[0], "Vera", 10)
    sheet.marks(registration())
    sheet.save()


def sticker(path: Path, *, overprint: bool = True, product: float = 60, trim: float = 60) -> None:
    sheet = Sheet(path, trim, trim)
    middle = trim / 2
    sheet.canvas.setFillColor(CMYKColor(*CRUST))
    sheet.canvas.circle(middle * mm, middle * mm, (product / 2 + 3) * mm, stroke=0, fill=1)
    sheet.words(middle - 17, middle - 2, "Halyard Lane", "Vera", 14, WHITE)
    sheet.canvas.setStrokeOverprint(overprint)
    sheet.canvas.setStrokeColor(spot("Cutting", (0, 1, 0, 0)))
    sheet.canvas.setLineWidth(0.5)
    sheet.canvas.circle(middle * mm, middle * mm, product / 2 * mm, stroke=1, fill=0)
    sheet.save()


def booklet(path: Path, *, spreads: bool) -> None:
    sheet = Sheet(path, 296 if spreads else 148, 210)
    pages = 4 if spreads else 8
    for number in range(1, pages + 1):
        if number == 1:
            sheet.photo(-3, -3, sheet.width + 6, 216, ppi=200)
            sheet.words(15, 170, "Baking year", "Vera", 32, WHITE)
        for column in range(2 if spreads and number > 1 else 1):
            for at, line in enumerate(LINES * 4 if number > 1 else ()):
                sheet.words(15 + 148 * column, 185 - 8 * at, line, "Vera", 9)
            if number > 1:
                sheet.words(70 + 148 * column, 8, str(number), "Vera", 8)
        if number < pages:
            sheet.next_page()
    sheet.save()


def letterhead(path: Path) -> None:
    """A slug with the studio's notes outside the trim."""
    sheet = Sheet(path, 210, 297)
    sheet.box(20, 275, 60, 8, CMYKColor(*SEA))
    sheet.words(22, 277, NAME, "Vera", 14, WHITE)
    for at, line in enumerate(ADDRESS):
        sheet.words(150, 282 - 4 * at, line, "Vera", 7)
    sheet.words(0, 301, "Lorem ipsum job 0012 sheet 1 of 1 placeholder", "Vera", 6)
    sheet.box(0, 198, 5, 0.09, BLACK)
    sheet.marks(BLACK)
    sheet.save()


def poster(path: Path) -> None:
    sheet = Sheet(path, 297, 420)
    sheet.canvas.saveState()
    sheet.canvas.linearGradient(0, 0, 0, 420 * mm, (CMYKColor(*CREAM), CMYKColor(*SEA)), extend=True)
    sheet.canvas.restoreState()
    sheet.photo(40, 120, 217, 145, ppi=160)
    sheet.canvas.setFillAlpha(0.6)
    sheet.box(40, 120, 217, 30, BLACK)
    sheet.canvas.setFillAlpha(1)
    sheet.words(40, 300, "Bread fair", "Vera", 120)
    sheet.words(48, 130, "Saturday, ten till four, Port Aldmere", "Vera", 28, WHITE)
    sheet.marks(registration())
    sheet.save()


def picture_frames(path: Path) -> None:
    """A crest with room around it: the frame is 1 mm from the edge, its ink 10 mm; and a picture really too near."""
    sheet = Sheet(path, 105, 148)
    sheet.canvas.drawImage(ImageReader(io.BytesIO(crest_png())), 1 * mm, 115 * mm, 30 * mm, 30 * mm, mask="auto")
    sheet.photo(60, 1, 40, 30)
    sheet.words(12, 90, NAME, "Vera", 16)
    sheet.save()


def office_rgb(path: Path) -> None:
    """A4 of one page, RGB, base fonts not embedded, no boxes but the media: what an office sends."""
    canvas = Canvas(str(path), pagesize=(210 * mm, 297 * mm), invariant=True)
    canvas.setFillColorRGB(0.54, 0.29, 0.12)
    canvas.rect(0, 260 * mm, 210 * mm, 37 * mm, stroke=0, fill=1)
    canvas.setFillColorRGB(0, 0, 0)
    canvas.setFont("Helvetica", 11)
    words = BODY.split()
    for at in range(len(words) // 12):
        canvas.drawString(25 * mm, (240 - 6 * at) * mm, " ".join(words[12 * at : 12 * at + 12]))
    canvas.save()


FILES: dict[str, tuple[Callable[[Path], None], str | None]] = {
    "card": (card, "business-card-85x55"),
    "card-marks-one-path": (card_marks_one_path, "business-card-85x55"),
    "card-marks-black-one-path": (card_marks_black_overprint, "business-card-85x55"),
    "card-edge-type": (card_edge_type, "business-card-85x55"),
    "flyer-a5": (flyer, "flyer-a5"),
    "flyer-a5-black-on-flat-tint": (flyer_black_on_flat_tint, "flyer-a5"),
    "flyer-a5-overprinting-black": (flyer_overprinting_black, "flyer-a5"),
    "flyer-a5-spots-at-nought": (spots_at_nought, "flyer-a5"),
    "sticker": (sticker, "sticker-round-60"),
    "sticker-knocks-out": (lambda path: sticker(path, overprint=False), "sticker-round-60"),
    "sticker-trim-with-bleed": (lambda path: sticker(path, trim=62), "sticker-round-60"),
    "booklet-a5-spreads": (lambda path: booklet(path, spreads=True), "booklet-a5-stapled"),
    "booklet-a5": (lambda path: booklet(path, spreads=False), "booklet-a5-stapled"),
    "letterhead-slug": (letterhead, "letterhead-a4"),
    "poster-a3": (poster, "poster-a3"),
    "postcard-a6-picture-frames": (picture_frames, "postcard-a6"),
    "office-a4-rgb": (office_rgb, "flyer-a4"),
}


def make(folder: Path) -> dict[str, str | None]:
    """File → the sheet that it was made for."""
    fonts(folder)
    for name, (draw, _) in FILES.items():
        draw(folder / f"reportlab-{name}.pdf")
    (folder / "HalyardTall.ttf").unlink()
    return {f"reportlab-{name}.pdf": sheet for name, (_, sheet) in FILES.items()}
