"""The picture of a built page, looked at by places of the ruler."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.proofs.picture.markers.page_markup import picture_brief
from service.proofs.picture.page_brief import Made, PictureBrief, read_picture
from service.proofs.picture.page_picture import page_picture
from service.proofs.picture.wishes import SHOWN, PictureWishes, Shown
from service.rules.base import Finding, Place
from service.rules.judgement import JudgedFinding
from service.sheets.model import BleedAsked, Level, MarginAsked, SpecSheet, TrimAsked
from tests.build import DocumentBuilder, PageBuilder

Rgb = tuple[int, int, int]
INK: Rgb = (38, 35, 31)
RUST: Rgb = (168, 58, 8)
BLUE: Rgb = (11, 92, 143)
CARD_SHEET = SpecSheet(
    trim=TrimAsked(width_mm=85, height_mm=55), bleed=BleedAsked(minimum_mm=3), margin=MarginAsked(minimum_mm=4)
)


def finding(*boxes: Box, level: Level = "must", rule: str = "trim.size", page: int = 1) -> JudgedFinding:
    places = tuple(Place(page, box) for box in boxes)
    made = Finding(message="", remedy="", measured={}, required={}, pages=(page,), places=places)
    return JudgedFinding(rule, level, made, None)


def measured(path: Path, number: int = 1) -> Page:
    pages = measure(path).pages
    assert not isinstance(pages, Unmeasured), pages
    return pages[number - 1]


class Pictured:
    def __init__(
        self, built: PageBuilder | DocumentBuilder, folder: Path, findings: Sequence[JudgedFinding] = (), ppi: int = 100,
        sheet: SpecSheet = CARD_SHEET, shown: tuple[Shown, ...] = SHOWN,
    ) -> None:
        self.path = built.save(folder / "page.pdf")
        self.page = measured(self.path)
        self.brief: PictureBrief = picture_brief(self.page, sheet, findings, PictureWishes(ppi, shown))
        data = page_picture(self.path, self.brief)
        assert isinstance(data, bytes), data
        self.made: Made
        self.made, png = read_picture(data, self.brief)
        with Image.open(io.BytesIO(png)) as image:
            assert image.mode == "RGB"
            self.pixels: npt.NDArray[np.uint8] = np.asarray(image)

    @property
    def artwork(self) -> npt.NDArray[np.uint8]:
        """Without the legend."""
        width, height = self.brief.frame.size_px
        return self.pixels[:height, :width]

    def at(self, x_mm: float, y_mm: float) -> Rgb:
        spot = self.brief.frame.px(Box(x_mm, y_mm, x_mm, y_mm))
        red, green, blue = (int(one) for one in self.pixels[int(spot.y0), int(spot.x0)])
        return red, green, blue

    def within(self, box_mm: Box) -> npt.NDArray[np.uint8]:
        return self.artwork[self.brief.frame.pixels_within(box_mm)]

    def has(self, color: Rgb, box_mm: Box) -> bool:
        return bool((self.within(box_mm) == color).all(axis=2).any())


def columns_of(pixels: npt.NDArray[np.uint8], color: Rgb) -> list[int]:
    """Those that have the colour in at least half of their rows."""
    found = (pixels == color).all(axis=2).mean(axis=0)
    return [int(one) for one in np.flatnonzero(found >= 0.5)]
