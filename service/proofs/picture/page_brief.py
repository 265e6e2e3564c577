"""What whoever draws the picture of a page is told, and what it covers: plain records, so that callers need no PDF library.

* A picture covers `picture_area`; a place of the ruler (mm) stands at (x − area.x0) · ppi / 25.4 pixels, and likewise down.
* Its size in pixels is `size_px`, with or without what is drawn upon it; a legend is added below.
* A very large page is shown coarser (`ppi_of`), worked out here, so that whoever asks knows the size beforehand.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, sqrt
from typing import Literal, get_args

from service.pdf.facts.geometry import MM_PER_INCH, Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import inks_of
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.rgb_png import rgb_png
from service.sheets.model import Level

PICTURE = "service.proofs.picture.page_picture:page_picture"
"""Where it is made: one line of `Made`, then a PNG."""

AROUND_MM = 5.0
"""Shown around the bleed: enough to see that the sheet goes on, or that it ends, and to set markers beside the artwork;
no more, so that the page stays large. Ours, no source."""

MOST_PIXELS = 16_000_000
"""Of one picture: A3 with its bleed at 220 ppi. What cannot be packed at all, noise, then still is within
`service.jobs.children.drawing.MOST_DRAWN_BYTES`."""

LineStyle = Literal["trim", "bleed", "quiet", "fold"]
"""Solid; long dashes; dots; dash and dot."""

MadeOf = Literal["plates", "rendering"]
"""Of the page's ink plates; rendered as in a reader where these cannot be made."""
ScreenColorsFrom = Literal["output intent", "common reader"]
"""What turned process inks into screen colours: the profile of the file's output intent, else what a common reader shows."""


@dataclass(frozen=True)
class PageToShow:
    """A page as it was measured, with all that its picture needs."""

    number: int
    inks: tuple[str, ...] | None
    """None: what it paints could not be followed, so that it is shown as PDFium shows it."""
    media_mm: Box
    """The paper; beyond it is desk."""


@dataclass(frozen=True)
class Line:
    """A box of the page, or a fold, to draw upon the artwork."""

    style: LineStyle
    box_mm: Box
    label: str = ""
    """For the legend."""


@dataclass(frozen=True)
class Mark:
    """One finding on one page."""

    number: int
    """Its position in the check's list of findings, from 1."""
    level: Level
    boxes_mm: tuple[Box, ...]
    label: str = ""
    """For the legend."""


@dataclass(frozen=True)
class Made:
    """How a picture was made; told by its first line."""

    of: MadeOf
    colors: ScreenColorsFrom


@dataclass(frozen=True)
class Frame:
    """What a picture covers, and how fine: the way from the ruler to its pixels."""

    area_mm: Box
    ppi: float

    @property
    def size_px(self) -> tuple[int, int]:
        return size_px(self.area_mm, self.ppi)

    def px(self, box_mm: Box) -> Box:
        """The same box in pixels from the picture's top-left corner."""
        x, y, by = self.area_mm.x0, self.area_mm.y0, self.ppi / MM_PER_INCH
        return Box((box_mm.x0 - x) * by, (box_mm.y0 - y) * by, (box_mm.x1 - x) * by, (box_mm.y1 - y) * by)

    def pixels_within(self, box_mm: Box) -> tuple[slice, slice]:
        """Rows and columns whose middles lie in the box; none of them where it lies beside the picture."""
        (width, height), box = self.size_px, self.px(box_mm)
        return _middles(box.y0, box.y1, height), _middles(box.x0, box.x1, width)


@dataclass(frozen=True)
class PictureBrief:
    """A page's picture; bare where `legend` is False."""

    page: PageToShow
    frame: Frame
    legend: bool = False
    """With what is drawn upon it and said of it; so are the next ones."""
    lines: tuple[Line, ...] = ()
    marks: tuple[Mark, ...] = ()
    marks_heading: str = ""
    notes: tuple[str, ...] = ()
    if_rendered: str = ""
    """Added where its ink plates cannot be made."""


def page_to_show(page: Page) -> PageToShow:
    inks = None if isinstance(page.content, Unmeasured) else inks_of(page.content)
    return PageToShow(page.number, inks, page.boxes_mm.media)


def picture_area(page: Page) -> Box:
    """What the picture of a page covers, ruler mm: trim and bleed with `AROUND_MM` around, paper or not."""
    return page.boxes_mm.trim.union(page.boxes_mm.bleed).grown(AROUND_MM)


def ppi_of(area_mm: Box, ppi: float, most_pixels: int = MOST_PIXELS) -> float:
    """As it is wished, or as fine as the area can be shown."""
    square_inches = max(area_mm.width, 0.1) * max(area_mm.height, 0.1) / MM_PER_INCH**2
    return min(float(ppi), sqrt(most_pixels / square_inches))


def size_px(area_mm: Box, ppi: float) -> tuple[int, int]:
    """Width and height."""
    return max(1, round(area_mm.width / MM_PER_INCH * ppi)), max(1, round(area_mm.height / MM_PER_INCH * ppi))


def _middles(start: float, stop: float, most: int) -> slice:
    first, last = (min(max(ceil(edge - 0.5), 0), most) for edge in (start, stop))
    return slice(first, max(first, last))


# --- What comes back ---------------------------------------------------------------------------------------------------


def made_to_line(made: Made) -> bytes:
    return f"{made.of}; {made.colors}\n".encode()


def read_picture(data: bytes, brief: PictureBrief) -> tuple[Made, bytes]:
    """How it was made, and the PNG. Raises ValueError where the bytes are not what ours draws: see `rgb_png`."""
    for of in get_args(MadeOf):
        for colors in get_args(ScreenColorsFrom):
            line = made_to_line(Made(of, colors))
            if data.startswith(line):
                return Made(of, colors), rgb_png(data[len(line) :], None if brief.legend else brief.frame.size_px)
    raise ValueError(f"this does not say how it was made: {data[:40]!r}")
