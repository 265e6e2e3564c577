"""Labels, cartons, tickets and covers with their cut lines, creases and inks that are no colours (reportlab)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from reportlab.lib.colors import CMYKColor
from reportlab.lib.units import mm

from tests.outside.desk.making.by_reportlab import BLACK, WHITE, Sheet, fonts, registration, spot
from tests.outside.desk.making.words import CREAM, CRUST, LINES, NAME, SEA

MAGENTA, CYAN = (0, 1, 0, 0), (1, 0, 0, 0)


def _lines_in(sheet: Sheet, ink: str, looks: tuple[float, ...], width_pt: float = 0.5) -> None:
    sheet.canvas.setStrokeOverprint(True)
    sheet.canvas.setLineWidth(width_pt)
    sheet.canvas.setStrokeColor(spot(ink, looks))


def label_on_film(path: Path) -> None:
    """White below the colours, which overprint it, and a rounded cut line."""
    sheet = Sheet(path, 90, 120)
    sheet.canvas.setFillColor(spot("White", (0.1, 0, 0, 0)))
    sheet.canvas.rect(-3 * mm, -3 * mm, 96 * mm, 126 * mm, stroke=0, fill=1)
    sheet.canvas.setFillOverprint(True)
    sheet.box(-3, -3, 96, 126, CMYKColor(*CREAM))
    sheet.canvas.setFillOverprint(False)
    sheet.words(10, 90, NAME, "Vera", 18)
    sheet.words(10, 20, LINES[0], "Vera", 6)
    _lines_in(sheet, "Cutting", MAGENTA)
    sheet.canvas.roundRect(0, 0, 90 * mm, 120 * mm, 4 * mm, stroke=1, fill=0)
    sheet.save()


def carton(path: Path) -> None:
    sheet = Sheet(path, 200, 150)
    sheet.ground(CREAM)
    sheet.words(20, 100, NAME, "Vera", 20)
    sheet.words(20, 20, LINES[1], "Vera", 8)
    _lines_in(sheet, "DieCut", MAGENTA)
    sheet.canvas.rect(0, 0, 200 * mm, 150 * mm, stroke=1, fill=0)
    _lines_in(sheet, "Crease", CYAN)
    sheet.canvas.setDash(3, 3)
    for x in (50, 100, 150):
        sheet.canvas.line(x * mm, 0, x * mm, 150 * mm)
    sheet.canvas.setDash()
    sheet.marks(registration())
    sheet.save()


def ticket(path: Path) -> None:
    sheet = Sheet(path, 210, 99)
    sheet.ground(CREAM)
    sheet.words(12, 60, "Bread tasting", "Vera", 22)
    sheet.words(165, 60, "No 014", "Vera", 12)
    _lines_in(sheet, "Perforation", (0, 0, 0, 1), 0.2)
    sheet.canvas.setDash(2, 2)
    sheet.canvas.line(155 * mm, 0, 155 * mm, 99 * mm)
    sheet.canvas.setFillColor(BLACK)
    for at in range(40):
        sheet.canvas.rect((170 + at * 0.7) * mm, 15 * mm, (0.25 + 0.25 * (at % 3 == 0)) * mm, 20 * mm, stroke=0, fill=1)
    sheet.save()


def rounded_card(path: Path) -> None:
    sheet = Sheet(path, 85, 55)
    sheet.ground(SEA)
    sheet.words(10, 30, NAME, "Vera", 14, WHITE)
    _lines_in(sheet, "Cut contour", MAGENTA, 0.1)
    sheet.canvas.roundRect(0, 0, 85 * mm, 55 * mm, 3 * mm, stroke=1, fill=0)
    sheet.save()


def book_cover(path: Path) -> None:
    """Back, a spine of 8 mm and front; the picture begins within the spine."""
    sheet = Sheet(path, 148 * 2 + 8, 210)
    sheet.photo(153, -3, 154, 216)
    sheet.box(-3, -3, 156, 216, CMYKColor(*CRUST))
    sheet.words(20, 150, LINES[0], "Vera", 11, WHITE)
    sheet.words(170, 150, "Baking year", "Vera", 34, WHITE)
    sheet.save()


def invitation(path: Path) -> None:
    sheet = Sheet(path, 105, 148)
    canvas = sheet.canvas
    canvas.saveState()
    room = canvas.beginPath()
    room.rect(-3 * mm, -3 * mm, 111 * mm, 154 * mm)
    canvas.clipPath(room, stroke=0)
    canvas.linearGradient(0, -3 * mm, 0, 151 * mm, (CMYKColor(*CREAM), CMYKColor(*CRUST)))
    canvas.restoreState()
    sheet.words(15, 100, "You are invited", "Vera", 24)
    sheet.words(15, 40, LINES[2], "Vera", 7, WHITE)
    sheet.save()


def fitted(path: Path) -> None:
    """A flyer that 'fit to page' has shrunk."""
    sheet = Sheet(path, 148 * 0.943, 210 * 0.943, bleed=0, slug=0)
    sheet.box(0, 0, sheet.width, sheet.height, CMYKColor(*CREAM))
    sheet.words(12, 150, NAME, "Vera", 20)
    sheet.save()


def night(path: Path) -> None:
    """Rich black, white type that is too small in it, and a box of all inks at full strength."""
    sheet = Sheet(path, 210, 297)
    sheet.box(-3, -3, 216, 303, CMYKColor(0.6, 0.5, 0.5, 1))
    sheet.words(20, 200, "Night bake", "Vera", 60, WHITE)
    sheet.words(20, 40, LINES[0], "Vera", 5, WHITE)
    sheet.box(20, 100, 60, 40, CMYKColor(1, 1, 1, 1))
    sheet.save()


FILES: dict[str, tuple[Callable[[Path], None], str | None]] = {
    "label-on-film": (label_on_film, "label-bottle-90x120"),
    "carton": (carton, None),
    "ticket-perforated": (ticket, "postcard-dl"),
    "card-rounded": (rounded_card, "business-card-85x55"),
    "book-cover": (book_cover, "book-a5-cover"),
    "invitation-gradient": (invitation, "invitation-a6"),
    "flyer-fit-to-page": (fitted, "flyer-a5"),
    "poster-rich-black": (night, "poster-a4"),
}


def make(folder: Path) -> dict[str, str | None]:
    fonts(folder)
    for name, (draw, _) in FILES.items():
        draw(folder / f"packaging-{name}.pdf")
    (folder / "HalyardTall.ttf").unlink()
    return {f"packaging-{name}.pdf": sheet for name, (_, sheet) in FILES.items()}
