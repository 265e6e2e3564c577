"""Draws, with reportlab, a plausible file that is right for a sheet. It uses none of our measuring.

A light background with bleed where nothing must stay clear, a picture and a line of text in the first free place of each page
(clear of the margin, folds, spine and areas), the cutting line where the sheet asks for one.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pikepdf
import reportlab
from PIL import Image
from reportlab.lib.colors import CMYKColor, CMYKColorSep, Color
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from service.demo.pen import binary_streams
from service.sheets.model import EdgesAsked, Fold, SpecSheet
from service.sheets.variants import variants

Box = tuple[float, float, float, float]
"""Left, top, right, bottom: mm from the top-left corner of the trim."""

Draws = Callable[[Canvas], None]

HEIGHT_MM = 210.0
"""Of what the sheet gives no height for."""
WORDS = "Halyard Lane Bakery"
PIECE_MM = 4.0
"""How far inside its line what stands on a piece is."""
_MOST_COARSE_PX = 90
"""A picture of fewer than 64 pixels either way is exempt from the rules on resolution, a coarse one of a banner too."""


@dataclass(frozen=True)
class Plan:
    width: float
    height: float
    bleed: float
    pages: int
    ppi: float
    rgb: bool = False
    font: str = "Vera"
    size: float = 0.0
    """Of the words, pt; 0: large enough for the sheet."""
    words: str = WORDS
    quality: int = 95
    """Of the picture's JPEG."""
    ground: float = 0.0
    """How far beyond the trim the background goes on; right: as far as the bleed."""
    drawn_pages: int = 1_000_000
    """Further pages are left white."""
    words_color: Color = CMYKColor(0, 0, 0, 1)  # noqa: RUF009  (never changed)
    with_parts: bool = True
    """Whether pages that have a size of their own are drawn in it."""
    cut_line: str | None = None
    pieces: bool = False
    """Whether it cuts pieces out of the page, instead of the page."""
    corner: float = 0.0
    """Radius of the product's corners."""
    encrypted: bool = False


def made_for(sheet: SpecSheet) -> bytes:
    """The file as bytes. A cover needs a sheet with the order's facts filled in."""
    sheet = variants(sheet)[0]
    return drawn(sheet, right_plan(sheet))


def drawn(sheet: SpecSheet, plan: Plan, more: Draws | None = None) -> bytes:
    """`more` draws upon the first page when all else stands there."""
    out = io.BytesIO()
    pdfmetrics.registerFont(TTFont("Vera", str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
    with binary_streams():
        canvas = Canvas(out, initialFontName="Vera", invariant=1)
        for number in range(1, plan.pages + 1):
            _page(canvas, plan_on(plan, sheet, number), sheet, number)
            if more and number == 1:
                more(canvas)
            canvas.showPage()
        canvas.save()
    return _rewritten(out.getvalue(), plan, sheet)


def plan_on(plan: Plan, sheet: SpecSheet, number: int) -> Plan:
    """Of one page: those of a part have its size."""
    for part in sheet.trim.parts if sheet.trim and plan.with_parts else ():
        if number <= (part.first or 0) or number > plan.pages - (part.last or 0):
            return replace(plan, width=part.width_mm, height=part.height_mm)
    return plan


def right_plan(sheet: SpecSheet) -> Plan:
    width, height = (sheet.trim.width_mm, sheet.trim.height_mm) if sheet.trim else (2 * HEIGHT_MM / 1.414, HEIGHT_MM)
    if sheet.spine:
        assert sheet.spine.inner_pages, "a cover needs its order"
        assert sheet.spine.caliper_mm
        width = 2 * sheet.spine.page_width_mm + sheet.spine.inner_pages / 2 * sheet.spine.caliper_mm
        width += 2 * sheet.spine.cover_caliper_mm
        height = sheet.spine.page_height_mm or height
    asked = sheet.images.contone if sheet.images else None
    return Plan(
        width,
        height,
        sheet.bleed.advised_mm if sheet.bleed else 0.0,
        _pages(sheet),
        max((asked.preferred_ppi or 0, asked.minimum_ppi or 0)) if asked else 300,
        ground=sheet.bleed.advised_mm if sheet.bleed else 0.0,
        rgb=sheet.purpose == "client-preview",
        cut_line=_cut_line(sheet),
        pieces=any(one.kind == "kiss-cut" for one in sheet.finishes),
        corner=(sheet.trim.corner_radius_mm if sheet.trim else None) or (_shaped(sheet) * min(width, height) / 8),
    )


def _cut_line(sheet: SpecSheet) -> str | None:
    """The ink of the line that cuts the product out; of a product without one, the first that draws lines on it."""
    cuts = [one.ink for one in sheet.finishes if one.kind in ("cut", "kiss-cut")]
    return next(iter([*cuts, *(one.ink for one in sheet.finishes)]), None)


def _shaped(sheet: SpecSheet) -> bool:
    return bool(sheet.finishes) and not any(one.kind == "kiss-cut" for one in sheet.finishes)


def _pages(sheet: SpecSheet) -> int:
    if sheet.pages is None:
        return 1
    step, least = sheet.pages.multiple_of or 1, sheet.pages.minimum or 2
    return max(sheet.pages.allowed) if sheet.pages.allowed else -(-least // step) * step


# --- One page ---------------------------------------------------------------------------------------------------------


def _page(canvas: Canvas, plan: Plan, sheet: SpecSheet, number: int) -> None:
    """White margins of the sheet = its bleed, so that MediaBox and BleedBox are one."""
    b, w, h = plan.bleed, plan.width, plan.height
    whole = ((w + 2 * b) * mm, (h + 2 * b) * mm)
    canvas.setPageSize(whole)
    canvas.setBleedBox((0, 0, *whole))
    canvas.setTrimBox((b * mm, b * mm, (b + w) * mm, (b + h) * mm))
    if number > plan.drawn_pages:
        return
    if has_ground(sheet):
        canvas.setFillColor(CMYKColor(0, 0.04, 0.12, 0))
        out = b - plan.ground
        canvas.rect(out * mm, out * mm, (w + 2 * plan.ground) * mm, (h + 2 * plan.ground) * mm, stroke=0, fill=1)
    size, side = words_size(plan, sheet), picture_side(plan)
    x0, y0, _, _ = first_place(plan, sheet, number)
    pixels = max(64, -(-side / 25.4 * plan.ppi // 1)) if plan.ppi else 64
    picture = _picture(int(pixels), plan.rgb, plan.quality)
    canvas.drawImage(picture, (b + x0) * mm, (b + h - y0 - side) * mm, side * mm, side * mm)
    if plan.rgb and sheet.purpose == "client-preview":
        canvas.setFillColorRGB(0, 0, 0)
    else:
        canvas.setFillColor(plan.words_color)
        canvas.setFillOverprint(True)
        canvas.setOverprintMask(True)  # in DeviceCMYK only the inks that are named print (ISO 32000-2:2020, 8.6.7)
    canvas.setFont(plan.font, size)
    canvas.drawString((b + x0) * mm, (b + h - y0 - side - 1.5) * mm - size * 0.8, plan.words)
    canvas.setFillOverprint(False)
    if plan.cut_line:
        canvas.setStrokeOverprint(True)
        canvas.setStrokeColor(CMYKColorSep(0, 1, 0, 0, spotName=plan.cut_line))
        canvas.setLineWidth(0.5)
        for x0, y0, x1, y1 in pieces_on(plan, sheet, number) if plan.pieces else [(0.0, 0.0, w, h)]:
            corner = 3.0 if plan.pieces else plan.corner
            canvas.roundRect((b + x0) * mm, (b + h - y1) * mm, (x1 - x0) * mm, (y1 - y0) * mm, corner * mm, stroke=1, fill=0)


def pieces_on(plan: Plan, sheet: SpecSheet, number: int) -> list[Box]:
    """One around the picture and its words, and one beside it."""
    x0, y0, x1, y1 = first_place(plan, sheet, number)
    one = (x0 - PIECE_MM, y0 - PIECE_MM, x1 + PIECE_MM, y1 + PIECE_MM)
    return [one, (one[0], one[3] + 4, one[2], one[3] + 24)]


def has_ground(sheet: SpecSheet) -> bool:
    return sheet.bleed is not None and not sheet.keep_clear


def words_size(plan: Plan, sheet: SpecSheet) -> float:
    return plan.size or max(8.0, (sheet.text.minimum_size_pt or 0) if sheet.text else 0)


def picture_side(plan: Plan) -> float:
    return min(max(18.0, _MOST_COARSE_PX / plan.ppi * 25.4 if plan.ppi else 0), plan.width / 5, plan.height / 4)


def first_place(plan: Plan, sheet: SpecSheet, number: int) -> Box:
    """Where the picture stands, with the words below it."""
    size, side = words_size(plan, sheet), picture_side(plan)
    words = pdfmetrics.stringWidth(plan.words, plan.font, size) / mm
    return free_place(plan, sheet, number, (max(words, side) + 1, side + 2 + size / mm))


def free_place(plan: Plan, sheet: SpecSheet, number: int, size: tuple[float, float], beside: Box | None = None) -> Box:
    """Clear of everything that the sheet names, and of what stands `beside` it already."""
    taken = [*_taken(plan, sheet, number), *([beside] if beside else [])]
    edge = max(4.0, *_depths(sheet.margin)) + (5 if plan.cut_line else 0.5)
    y = edge
    while y + size[1] <= plan.height - edge:
        x = edge
        while x + size[0] <= plan.width - edge:
            box = (x, y, x + size[0], y + size[1])
            if not any(_meet(box, one) for one in taken) and _keeps_out_of_the_corners(box, plan, edge):
                return box
            x += 1
        y += 1
    raise AssertionError(f"{sheet.id} leaves no room for {size} on page {number}")


def _keeps_out_of_the_corners(box: Box, plan: Plan, free: float) -> bool:
    """Each corner of the box is so far inside the rounded page."""
    for x, y in ((box[0], box[1]), (box[2], box[1]), (box[0], box[3]), (box[2], box[3])):
        across = max(plan.corner - x, x - plan.width + plan.corner, 0)
        down = max(plan.corner - y, y - plan.height + plan.corner, 0)
        if across and down and (across**2 + down**2) ** 0.5 > plan.corner - free:
            return False
    return True


def _depths(asked: EdgesAsked | None) -> list[float]:
    """Every depth that is asked or preferred along an edge."""
    if asked is None:
        return [0.0, 0.0]
    keys = ("minimum_mm", "preferred_mm", "binding_mm", "outer_mm", "head_mm", "foot_mm")
    return [0.0, *(getattr(asked, key, None) or 0.0 for key in keys)]


def _taken(plan: Plan, sheet: SpecSheet, number: int) -> Iterator[Box]:
    for area in sheet.keep_clear:
        if area.pages is None or number in area.pages:
            yield area.box_mm
    for fold in sheet.folds:
        at = fold_at(fold, plan, number)
        yield (at - 4, 0, at + 4, plan.height) if fold.axis == "vertical" else (0, at - 4, plan.width, at + 4)
    if sheet.spine:
        yield (sheet.spine.page_width_mm - 4, 0, plan.width - sheet.spine.page_width_mm + 4, plan.height)


def fold_at(fold: Fold, plan: Plan, number: int) -> float:
    """The inside of a leaflet is the mirror image of the outside."""
    return fold.at_mm if number % 2 or fold.axis == "horizontal" else plan.width - fold.at_mm


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@cache
def _picture(pixels: int, rgb: bool, quality: int) -> ImageReader:
    """A soft gradient with some grain, as a JPEG."""
    grey = Image.linear_gradient("L").resize((pixels, pixels))
    turned = grey.transpose(Image.Transpose.ROTATE_90)
    bands = (
        (grey, turned, grey)
        if rgb
        else (grey.point(lambda v: v // 3), turned.point(lambda v: v // 2), grey, Image.new("L", grey.size, 0))
    )
    out = io.BytesIO()
    Image.merge("RGB" if rgb else "CMYK", bands).save(out, "JPEG", quality=quality)
    return ImageReader(io.BytesIO(out.getvalue()))


def _rewritten(made: bytes, plan: Plan, sheet: SpecSheet) -> bytes:
    """Encrypted or linearized by pikepdf, where it must be."""
    linearized = sheet.file is not None and sheet.file.linearized == "required"
    if not plan.encrypted and not linearized:
        return made
    out = io.BytesIO()
    lock = pikepdf.Encryption(owner="copperbeck", user="halyard") if plan.encrypted else False
    with pikepdf.open(io.BytesIO(made)) as pdf:
        pdf.save(out, linearize=linearized, encryption=lock)
    return out.getvalue()
