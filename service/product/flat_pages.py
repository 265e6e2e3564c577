"""A product as it lies flat before anything is printed on it: what its sheet alone says of its size, edges, folds and areas.

All in mm from the top-left corner of the trimmed page, y downwards, as places in findings. A cover needs its height and its
spine, which only the order may know; a sheet without a size gives no page at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.language.spoken import to_say
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.product.covers import spine_asked_mm, spine_folds
from service.product.folds import fold_across
from service.product.kept_clear import area_on
from service.sheets.model import Fold, FoldType, KeepClearArea, Part, SpecSheet
from service.sheets.variants import variants, with_parts_of

_MOST_SINGLE_PAGES = 4
"""A product of more pages without folds is bound, and its pages face each other."""

Turn = Literal["away", "towards"]
"""How what lies beyond the fold moves, as seen from the page's own side."""


@dataclass(frozen=True)
class FoldAcross:
    line_mm: Box
    turn: Turn | None
    """None where the sheet does not say how the product folds."""


@dataclass(frozen=True)
class FlatPage:
    """One side of the product, or two pages that face each other (`gutter_mm`)."""

    numbers: tuple[int, ...]
    """Of the pages that look like this one."""
    trim_mm: Box
    bleed_mm: float
    margin_mm: float | None
    folds: tuple[FoldAcross, ...] = ()
    areas: tuple[KeepClearArea, ...] = ()
    spine_mm: Box | None = None
    gutter_mm: float | None = None
    """x where two pages meet in the fold."""
    part: str | None = None
    """Name of the pages that have this size of their own."""


NO_SIZE = to_say("The sheet asks for no trimmed size, so there is nothing to draw.")
NO_HEIGHT = to_say("The sheet does not say how high the cover is.")
NO_SPINE = to_say("How wide the spine is follows from the order: say how many inner pages there are and how thick a leaf is.")


def flat_pages(sheet: SpecSheet) -> tuple[FlatPage, ...] | Unmeasured:
    """Front and back where they differ, one page where all are alike, or why the sheet gives none. Of several sizes the first;
    pages at the beginning that have a size of their own come first.
    """
    sheet = variants(sheet)[0]
    if sheet.spine is not None:
        return _cover(sheet)
    if sheet.trim is None:
        return Unmeasured(NO_SIZE)
    trim = Box(0, 0, *_upright(sheet.trim.width_mm, sheet.trim.height_mm, sheet.trim.orientation))
    parts = tuple(_part(sheet, part, tuple(range(1, part.first + 1))) for part in sheet.trim.parts if part.first)
    if _is_bound(sheet):
        return (*parts, _facing(sheet, trim))
    numbers = [number for number in range(1, _sides_told(sheet) + 1) if not sheet.trim.part_on(number)]
    sides = [_side(sheet, trim, number) for number in numbers]
    return (*parts, *_alike_once(sides))


def single_page(sheet: SpecSheet, number: int, count: int) -> FlatPage | Unmeasured:
    """The page of this number, in a file of so many, as the file holds it: of a bound product one page alone."""
    sheet = with_parts_of(variants(sheet)[0], count)
    if sheet.spine is not None:
        cover = _cover(sheet)
        return cover if isinstance(cover, Unmeasured) else cover[0]
    if sheet.trim is None:
        return Unmeasured(NO_SIZE)
    if (part := sheet.trim.part_on(number)) is not None:
        return _part(sheet, part, (number,))
    size = _upright(sheet.trim.width_mm, sheet.trim.height_mm, sheet.trim.orientation)
    return _side(sheet, Box(0, 0, *size), number)


def _upright(width_mm: float, height_mm: float, orientation: str) -> tuple[float, float]:
    shape = {"portrait": (min, max), "landscape": (max, min)}.get(orientation)
    return (shape[0](width_mm, height_mm), shape[1](width_mm, height_mm)) if shape else (width_mm, height_mm)


def _is_bound(sheet: SpecSheet) -> bool:
    pages = sheet.pages
    if pages is None or sheet.folds:
        return False
    most = max(pages.allowed, default=pages.maximum)
    return pages.multiple_of is not None and pages.multiple_of > 1 if most is None else most > _MOST_SINGLE_PAGES


def _sides_told(sheet: SpecSheet) -> int:
    pages = sheet.pages
    most = max(pages.allowed, default=pages.maximum or 2) if pages else 2
    return min(2, most)


def _alike_once(sides: list[FlatPage]) -> tuple[FlatPage, ...]:
    if len(sides) == 2 and (sides[0].folds, sides[0].areas) == (sides[1].folds, sides[1].areas):
        return (FlatPage((1, 2), sides[0].trim_mm, sides[0].bleed_mm, sides[0].margin_mm, sides[0].folds, sides[0].areas),)
    return tuple(sides)


def _side(sheet: SpecSheet, trim: Box, number: int) -> FlatPage:
    return FlatPage(
        numbers=(number,),
        trim_mm=trim,
        bleed_mm=_bleed(sheet),
        margin_mm=_margin(sheet),
        folds=_folds(sheet, trim, number),
        areas=tuple(area for area in sheet.keep_clear if area.pages is None or number in area.pages),
    )


def _part(sheet: SpecSheet, part: Part, numbers: tuple[int, ...]) -> FlatPage:
    """Folds are those of the other pages. Pages that are told at once show the areas of each of them."""
    trim = Box(0, 0, part.width_mm, part.height_mm)
    named = (area for area in sheet.keep_clear if area.pages is None or set(numbers) & set(area.pages))
    areas = tuple(area_on(area, sheet.trim, numbers[0]) for area in named)
    return FlatPage(numbers, trim, _bleed(sheet), _margin(sheet), areas=areas, part=part.name)


def _facing(sheet: SpecSheet, single: Box) -> FlatPage:
    """Two pages inside the product: the left one's number is even, but behind a single page that holds two."""
    apart = max((part.first or 0 for part in sheet.trim.parts), default=0) if sheet.trim else 0
    return FlatPage(
        numbers=(apart + 2, apart + 3),
        trim_mm=single._replace(x1=2 * single.x1),
        bleed_mm=_bleed(sheet),
        margin_mm=_margin(sheet),
        areas=tuple(area for area in sheet.keep_clear if area.pages is None),
        gutter_mm=single.x1,
    )


def _cover(sheet: SpecSheet) -> tuple[FlatPage, ...] | Unmeasured:
    assert sheet.spine is not None
    height = sheet.trim.height_mm if sheet.trim else sheet.spine.page_height_mm
    if height is None:
        return Unmeasured(NO_HEIGHT)
    spine = spine_asked_mm(sheet.spine)
    if spine is None:
        return Unmeasured(NO_SPINE)
    page = sheet.spine.page_width_mm
    back = Box(page, 0, page + spine, height)
    folds = tuple(FoldAcross(line, "away") for line in spine_folds(back))
    trim = Box(0, 0, 2 * page + spine, height)
    return (FlatPage((1,), trim, _bleed(sheet), _margin(sheet), folds, sheet.keep_clear, spine_mm=back),)


def _bleed(sheet: SpecSheet) -> float:
    return sheet.bleed.advised_mm if sheet.bleed else 0.0


def _margin(sheet: SpecSheet) -> float | None:
    return sheet.margin.minimum_mm if sheet.margin else None


def _folds(sheet: SpecSheet, trim: Box, number: int) -> tuple[FoldAcross, ...]:
    kind = sheet.folding.type if sheet.folding else None
    turns = _turns(sheet.folds, kind)
    lines = ((fold_across(fold, trim, number), turn) for fold, turn in zip(sheet.folds, turns, strict=True))
    return tuple(FoldAcross(line, _seen_from(turn, number)) for line, turn in lines if line is not None)


def _turns(folds: tuple[Fold, ...], kind: FoldType | None) -> list[Turn | None]:
    """As seen from the outside, page 1: a zigzag turns to and fro, all others always away. Common practice, no source."""
    if kind is None:
        return [None] * len(folds)
    order = {fold.at_mm: at for at, fold in enumerate(sorted(folds, key=lambda one: one.at_mm))}
    return ["towards" if kind == "zigzag" and order[fold.at_mm] % 2 else "away" for fold in folds]


def _seen_from(turn: Turn | None, number: int) -> Turn | None:
    if turn is None or number % 2:
        return turn
    return "towards" if turn == "away" else "away"
