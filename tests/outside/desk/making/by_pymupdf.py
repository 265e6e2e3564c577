"""PyMuPDF: what scripts and small services make of cards, flyers and sheets, RGB and base fonts included."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pymupdf

from tests.outside.desk.making.words import BODY, LINES, NAME, picture_jpeg, vera

PT = 72 / 25.4
BLACK, WHITE, CREAM, SEA = (0, 0, 0, 1), (0, 0, 0, 0), (0.02, 0.06, 0.2, 0), (0.85, 0.4, 0.3, 0.1)


class Sheet:
    """One page in mm from the corner of its bleed."""

    def __init__(self, width: float, height: float, bleed: float = 3) -> None:
        self.document = pymupdf.open()
        self.page = self.document.new_page(width=(width + 2 * bleed) * PT, height=(height + 2 * bleed) * PT)
        if bleed:
            self.page.set_trimbox(self.box(bleed, bleed, width + bleed, height + bleed))
            self.page.set_bleedbox(self.page.rect)
        self.page.insert_font("Vera", str(vera()))

    @staticmethod
    def box(x0: float, y0: float, x1: float, y1: float) -> pymupdf.Rect:
        return pymupdf.Rect(x0 * PT, y0 * PT, x1 * PT, y1 * PT)

    def ground(self, color: tuple[float, ...]) -> None:
        self.page.draw_rect(self.page.rect, color=None, fill=color)

    def words(self, x: float, y: float, text: str, size: float, color: tuple[float, ...] = BLACK, **more: int) -> None:
        self.page.insert_text((x * PT, y * PT), text, fontsize=size, color=color, fontname="Vera", **more)


def postcard() -> Sheet:
    """A picture that is too small, and type under the minimum."""
    made = Sheet(148, 105)
    made.ground(CREAM)
    made.page.insert_image(made.box(0, 0, 80, 111), stream=picture_jpeg(500, 694, in_cmyk=True), keep_proportion=False)
    made.words(95, 40, NAME, 11)
    made.words(95, 60, LINES[0], 4.5)
    return made


def from_html() -> Sheet:
    made = Sheet(210, 297, bleed=0)
    items = "".join(f"<li>{line}</li>" for line in LINES)
    link = '<a href="https://halyard-lane.example">Order</a>'
    made.page.insert_htmlbox(made.box(20, 20, 190, 275), f"<h1>{NAME}</h1><p>{BODY}</p><ul>{items}</ul>{link}")
    return made


def commented() -> Sheet:
    made = Sheet(85, 55)
    made.ground(SEA)
    made.words(12, 30, NAME, 12, WHITE)
    made.page.add_text_annot((20 * PT, 20 * PT), "Bigger?")
    field = pymupdf.Widget()
    field.field_type, field.field_name, field.field_value = pymupdf.PDF_WIDGET_TYPE_TEXT, "name", "Ada"
    field.rect = made.box(12, 40, 60, 48)
    made.page.add_widget(field)
    return made


def turned() -> Sheet:
    """Rotated by its dictionary, half clear, in RGB and a base font."""
    made = Sheet(148, 210)
    made.ground((1, 0.95, 0.8))
    made.page.draw_circle((77 * PT, 100 * PT), 60 * PT, color=(0.5, 0.3, 0.1), fill=(0.9, 0.6, 0.2), fill_opacity=0.5, width=0.1)
    made.page.insert_text((20 * PT, 40 * PT), "Harvest loaf", fontsize=28)
    made.page.set_rotation(90)
    return made


def layers() -> Sheet:
    made = Sheet(50, 150)
    made.ground((0, 0.2, 0.5, 0))
    for name, words, on in (("English", "Bakery", True), ("Deutsch", "Bäckerei", False)):
        made.words(10, 40, words, 14, oc=made.document.add_ocg(name, on=on))
    return made


FILES: dict[str, tuple[Callable[[], Sheet], str]] = {
    "postcard-a6": (postcard, "postcard-a6"),
    "flyer-a4-from-html": (from_html, "flyer-a4"),
    "card-comments": (commented, "business-card-85x55"),
    "flyer-a5-turned": (turned, "flyer-a5"),
    "bookmark-layers": (layers, "bookmark-50x150"),
}


def make(folder: Path) -> dict[str, str]:
    for name, (draw, _) in FILES.items():
        draw().document.save(folder / f"pymupdf-{name}.pdf", no_new_id=True)
    return {f"pymupdf-{name}.pdf": sheet for name, (_, sheet) in FILES.items()}
