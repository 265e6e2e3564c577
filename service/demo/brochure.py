"""The bakery's brochure: twelve A5 pages, as single pages, as reader spreads, and as a light preview for e-mail."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from service.demo.pen import BOLD, BUTTER, COCOA, CREAM, CRUST, ITALIC, PdfFile, Pen

A5 = (148.0, 210.0)
FULL_BLEED_MM = (A5[0] + 6, A5[1] + 6)
SPREADS = ((1,), (2, 3), (4, 5), (6, 7), (8, 9), (10, 11), (12,))
"""As a reader turns them: the covers stand alone."""

Photos = Mapping[str, bytes]
"""A JPEG for each scene, made to fill a page with its bleed."""

BREADS = (
    ("Lane sourdough", "Wheat and rye, two days in the making", "4.80"),
    ("Tidewick tin", "Soft white, for toast and for crusts off", "3.20"),
    ("Baguette", "Out of the oven at seven and at eleven", "1.90"),
    ("Seeded batch", "Linseed, sunflower and pumpkin", "4.40"),
    ("Harbour rye", "Dense and dark; keeps for a week", "5.10"),
    ("Evening bun", "Cardamom, butter, a little salt", "2.10"),
)


def as_single_pages(path: Path, photos: Photos) -> Path:
    pdf = PdfFile(path, "Halyard Lane Bakery: our bread")
    for number in range(1, 13):
        _draw(pdf.page(*A5), number, photos)
        pdf.end_page()
    return pdf.save()


def as_spreads(path: Path, photos: Photos, bleed: float = 3) -> Path:
    pdf = PdfFile(path, "Halyard Lane Bakery: our bread (spreads)")
    for numbers in SPREADS:
        sheet = pdf.page(A5[0] * len(numbers), A5[1], bleed)
        for place, number in enumerate(numbers):
            pen = Pen(sheet.canvas, *A5, bleed, left_mm=A5[0] * place)
            inner = (0 if place == 1 else -3, -3, A5[0] + (0 if place == 0 and len(numbers) == 2 else 3), A5[1] + 3)
            with pen.only(inner):
                _draw(pen, number, photos)
        pdf.end_page()
    return pdf.save()


def _draw(pen: Pen, number: int, photos: Photos) -> None:
    PAGES[number - 1](pen, photos)
    if 1 < number < 12:
        x, align = (16.0, "left") if number % 2 == 0 else (A5[0] - 16, "right")
        pen.text(str(number), x, A5[1] - 7, 7, CREAM if number in FULL_PICTURES else CRUST, align=align)


FULL_PICTURES = (2, 5, 7, 10)


def _cover(pen: Pen, photos: Photos) -> None:
    pen.picture(photos["boule"], pen.with_bleed)
    pen.wheat(74, 34, 20, BUTTER)
    pen.text("Halyard Lane", 74, 48, 24, CREAM, BOLD, align="middle")
    pen.text("BAKERY", 74, 56, 11, BUTTER, spacing=5, align="middle")
    pen.text("Our bread, and how it is made", 74, 196, 10, CREAM, ITALIC, align="middle")


def _picture(scene: str, words: str) -> Callable[[Pen, Photos], None]:
    def draw(pen: Pen, photos: Photos) -> None:
        pen.picture(photos[scene], pen.with_bleed)
        pen.area((40, 18, 108, 30), COCOA)
        pen.text(words, 74, 25.6, 13, CREAM, ITALIC, align="middle")

    return draw


def _story(heading: str, scene: str, *paragraphs: str) -> Callable[[Pen, Photos], None]:
    """A heading and text below half a page of picture."""

    def draw(pen: Pen, photos: Photos) -> None:
        pen.area(pen.with_bleed, CREAM)
        x0, y0, x1, _ = pen.with_bleed
        with pen.only((x0, y0, x1, 112)):
            pen.picture(photos[scene], pen.with_bleed)
        pen.area((x0, 112, x1, 113.2), BUTTER)
        pen.text(heading, 16, 131, 17, COCOA, BOLD)
        pen.rule(16, 136, 40, CRUST)
        y = 148.0
        for paragraph in paragraphs:
            y = pen.paragraph(paragraph, 16, y, 116, 11, COCOA) + 3

    return draw


def _prices(pen: Pen, _photos: Photos) -> None:
    pen.area(pen.with_bleed, CREAM)
    x0, y0, _, y1 = pen.with_bleed
    pen.area((x0, y0, 8, y1), CRUST)
    pen.text("What we bake", 20, 30, 20, COCOA, BOLD)
    pen.rule(20, 36, 44, CRUST)
    for n, (name, about, price) in enumerate(BREADS):
        y = 54 + 23 * n
        pen.text(name, 20, y, 12, COCOA, BOLD)
        pen.text(price, 134, y, 12, CRUST, BOLD, align="right")
        pen.text(about, 20, y + 6, 9, COCOA, ITALIC)
        pen.rule(20, y + 11.5, 134, BUTTER, 0.5)


def _hours(pen: Pen, _photos: Photos) -> None:
    pen.area(pen.with_bleed, COCOA)
    pen.wheat(74, 60, 26, BUTTER)
    pen.text("Come and find us", 74, 82, 18, CREAM, BOLD, align="middle")
    lines = ("Tuesday to Friday   7–14", "Saturday   7–13", "Closed on Sunday and Monday", "", "14 Halyard Lane, Tidewick")
    for n, line in enumerate((*lines, "bread@halyard-lane.example")):
        pen.text(line, 74, 100 + 8 * n, 10, CREAM, align="middle")
    pen.text("Printed by Copperbeck Press", 74, 196, 7, BUTTER, align="middle")


PAGES: tuple[Callable[[Pen, Photos], None], ...] = (
    _cover,
    _picture("wheat", "It begins in a field"),
    _story(
        "Flour from three farms",
        "wheat",
        "Our wheat grows within a morning's walk of the mill. We know the farmers, the fields and the weather the ears stood in.",
        "Each harvest bakes a little differently. We taste, we change the water, we wait.",
    ),
    _story(
        "Two days, no shortcuts",
        "kneading",
        "On the first day flour, water and the old leaven meet. Nothing else happens, slowly.",
        "On the second day we shape by hand, and the dough rests once more in linen.",
    ),
    _picture("kneading", "Rest is an ingredient"),
    _prices,
    _picture("baguettes", "At seven and at eleven"),
    _story(
        "The oven",
        "baguettes",
        "It was built from local brick by the grandfather of the present baker, and has been warm ever since.",
        "Stone gives its heat from below, steam makes the crust. The cuts decide where the loaf opens.",
    ),
    _story(
        "For the table",
        "buns",
        "Buns by the dozen, loaves for the long table, something with candles: tell us two days ahead.",
        "We deliver on foot as far as the harbour and by bicycle beyond.",
    ),
    _picture("buns", "By the dozen"),
    _story(
        "Evenings in the lane",
        "lights",
        "On the first Friday of the month the shop stays open, and there is soup with yesterday's bread.",
        "Bring a bowl. The children stir.",
    ),
    _hours,
)
