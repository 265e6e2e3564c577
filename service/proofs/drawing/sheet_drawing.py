"""From a sheet to its drawing: the flat pages at one scale below each other, with what is read and not measured at the foot."""

from __future__ import annotations

from typing import Literal, get_args

from service.language.spoken import say, to_say, translated
from service.language.wording import millimetres, number, pages_named, quoted
from service.pdf.facts.geometry import MM_PER_INCH
from service.pdf.facts.unknown import Unmeasured
from service.product.flat_pages import FlatPage, Turn, flat_pages
from service.proofs.drawing.face import Face, Length
from service.proofs.drawing.measures import words_width
from service.proofs.drawing.shapes import SMALL_TYPE_MM, TYPE_MM, Shape, SheetDrawing, Words
from service.proofs.report.sheet import sheet_part, sheet_titled
from service.sheets.model import SpecSheet

Units = Literal["mm", "in"]
UNITS: tuple[Units, ...] = get_args(Units)

_LARGEST_MM = 170.0
"""The product's longer side on paper, so that a drawing with its measures goes onto A4."""
REDUCTIONS = (1, 2, 5, 10, 20, 50, 100)
"""Scales of drawings: 1 : 1, 1 : 2, 1 : 5 … (ISO 5455, from memory)."""
_EDGE_MM = 4.0


def sheet_drawing(sheet: SpecSheet, units: Units = "mm") -> SheetDrawing | Unmeasured:
    """The drawing in the spoken language, or why the sheet gives none."""
    pages = flat_pages(sheet)
    if isinstance(pages, Unmeasured):
        return pages
    reduction = _reduction(pages)
    length: Length = millimetres if units == "mm" else _inches
    faces = [Face(page, _title(page, sheet), 1 / reduction, length) for page in pages]
    shapes: list[Shape] = []
    y = _EDGE_MM
    for face in faces:
        shapes += face.shapes(_EDGE_MM, y)
        y += face.size_mm()[1] + _EDGE_MM
    foot = _foot(pages, reduction)
    said = max(words_width(line, SMALL_TYPE_MM) for line in foot)
    width = max(said, *(face.size_mm()[0] for face in faces)) + 2 * _EDGE_MM
    for line in foot:
        y += TYPE_MM * 1.5
        shapes.append(Words(line, (_EDGE_MM, y), anchor="start", size_mm=SMALL_TYPE_MM))
    return SheetDrawing(width, y + _EDGE_MM, sheet_titled(sheet), _in_words(sheet), tuple(shapes))


def _reduction(pages: tuple[FlatPage, ...]) -> int:
    longest = max(max(page.trim_mm.width, page.trim_mm.height) for page in pages)
    return next((one for one in REDUCTIONS if longest / one <= _LARGEST_MM), REDUCTIONS[-1])


def _title(page: FlatPage, sheet: SpecSheet) -> str:
    if page.part is not None:
        return say("{pages}: {name}", pages=pages_named(page.numbers), name=quoted(translated(page.part)))
    if page.spine_mm is not None:
        return say("Cover laid flat: back, spine, front")
    if page.gutter_mm is not None:
        return say("Two pages that face each other; the file holds each page on its own")
    if len(page.numbers) > 1 or (sheet.pages and sheet.pages.allowed == (1,)):
        return say("Every page")
    names = {1: say("Page 1, the outside"), 2: say("Page 2, the inside")} if sheet.folds else {}
    return names.get(page.numbers[0]) or say("Page {number}", number=page.numbers[0])


def _foot(pages: tuple[FlatPage, ...], reduction: int) -> list[str]:
    scale = say("Scale 1 : {reduction}.", reduction=reduction)
    folds = [say("Dashed: a fold.")] if any(page.folds or page.gutter_mm for page in pages) else []
    said = [" ".join((scale, *folds, say("What lies in the bleed is cut off; the printer's own terms decide.")))]
    for page in pages:
        said += _turned(page)
    if pages[0].spine_mm is not None:
        width = number(pages[0].spine_mm.width, 2)
        said.append(say("The spine is {width} mm wide by the order; the printer confirms it.", width=width))
    return said


def _turned(page: FlatPage) -> list[str]:
    """Which way each fold goes, read from the left."""
    if page.spine_mm is not None or not any(fold.turn for fold in page.folds):
        return []
    folds = sorted(page.folds, key=lambda fold: (fold.line_mm.x0, fold.line_mm.y0))
    turns = ", ".join(say(_TURNS[fold.turn]) for fold in folds if fold.turn)
    return [say("The folds of {page}, from the left or top: {turns}.", page=pages_named(page.numbers), turns=turns)]


_TURNS: dict[Turn, str] = {"away": to_say("away from you"), "towards": to_say("towards you")}


def _inches(mm: float) -> str:
    return f"{number(mm / MM_PER_INCH, 3)} in"


def _in_words(sheet: SpecSheet) -> str:
    asks = sheet_part(sheet).asks
    return " ".join(say("{about}: {source}", about=one.name, source=one.value) + "." for one in asks)
