"""The rule on the panels of a folded product."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import listed, millimetres, number, page_list
from service.pdf.facts.page import Page
from service.product.folds import SHORTER_BY_MM, fold_together, is_off, panels_between
from service.product.spreads import accepts_page
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.product_asked import size_is_judged
from service.rules.seen import Pages, pages_of
from service.sheets.model import Block, Fold, FoldType, Level, SpecSheet, TrimAsked


@dataclass(frozen=True, kw_only=True)
class PanelsAsked(Block):
    folds: tuple[Fold, ...]
    type: FoldType | None
    size: TrimAsked | None
    """The product's."""
    size_is_judged: bool
    """Whether trim.size tells of pages that have another."""


def _panels_asked(sheet: SpecSheet) -> PanelsAsked | None:
    if not sheet.folds:
        return None
    folding = sheet.folding
    level: Level | None = folding.level if folding else "should" if all(fold.level == "should" for fold in sheet.folds) else None
    note = folding.note if folding else next((fold.note for fold in sheet.folds if fold.note), None)
    kind = folding.type if folding else None
    judged = size_is_judged(sheet)
    return PanelsAsked(folds=sheet.folds, type=kind, size=sheet.trim, size_is_judged=judged, level=level, note=note)


@rule(
    "fold.panels",
    needs=pages_of,
    asks=_panels_asked,
    asked_by="folds; folding.type says how",
    level="must",
    source="common practice, no source",
    measured={"panels_mm": "the panels that the folds make of the trimmed page, from the left or the top",
              "axis": "vertical or horizontal folds", **LEFT_OUT},
    required={"type": "half, zigzag, roll or gate; null where any of them will do", "at_mm": "where the folds lie",
              "shorter_by_mm": "by how much a panel that folds in is narrower, at least"},
)
def fold_panels(pages: Pages, asked: PanelsAsked) -> Iterator[Outcome]:
    """The folds that the spec sheet names make panels that can be folded.

    Why: a panel that folds inwards and is as wide as the others buckles or pushes the fold open; panels that are to lie on
    each other and differ show an edge.
    Remedy: take the panels from the printer's own layout, and give the page the size that they add up to.
    Knows: the trimmed page and where the sheet folds it. Without a type of fold the panels must suit a zigzag, a roll or a gate.
    What is not of the product's size is told by trim.size alone, and pages of a part (trim.parts) are not folded.
    Cannot know: the direction of each fold, the thickness of the paper, or panels that are meant to show a step.
    """
    groups: dict[tuple[str, tuple[float, ...]], list[Page]] = {}
    for page in pages:
        size = asked.size
        if size and (size.part_on(page.number) or (asked.size_is_judged and not accepts_page(size, page))):
            continue
        for axis, length in (("vertical", page.trim_width_mm), ("horizontal", page.trim_height_mm)):
            at = [fold.at_mm for fold in asked.folds if fold.axis == axis]
            panels = panels_between(at, length)
            if at and not fold_together(panels, asked.type):
                groups.setdefault((axis, tuple(round(one, 1) for one in panels)), []).append(page)
    for (axis, found), members in groups.items():
        yield _does_not_fold(axis, found, members, asked)


def _does_not_fold(axis: str, panels: tuple[float, ...], pages: list[Page], asked: PanelsAsked) -> Finding:
    numbers = tuple(page.number for page in pages)
    at = [fold.at_mm for fold in asked.folds if fold.axis == axis]
    folds = listed(millimetres(one) for one in at)
    return Finding(
        message=_told(axis, panels, numbers, folds, asked.type),
        remedy=say(
            "Give the page the size that the printer's panels add up to (folds at {folds}); if it has it, ask the printer about "
            "the folds of this product before you lay out.",
            folds=folds,
        ),
        measured={"panels_mm": list(panels), "axis": axis},
        required={"type": asked.type, "at_mm": at, "shorter_by_mm": SHORTER_BY_MM},
        pages=numbers,
        places=trim_places(pages),
    )


def _told(axis: str, panels: tuple[float, ...], numbers: tuple[int, ...], folds: str, wanted: FoldType | None) -> str:
    count, pages, length = len(numbers), page_list(numbers), millimetres(sum(panels))
    size = say("{length} wide", length=length) if axis == "vertical" else say("{length} high", length=length)
    if is_off(panels):
        return say_many(
            "Page {pages}, {size}, cannot be folded at {folds}: a fold lies off the page, or two lie in one place.",
            "Pages {pages}, {size}, cannot be folded at {folds}: a fold lies off the page, or two lie in one place.",
            count, pages=pages, size=size, folds=folds,
        )
    widths = listed(number(one) for one in panels)
    if wanted is None:
        return say_many(
            "Page {pages}, {size}, would fold into panels of {panels} mm: they suit no zigzag, roll or gate fold.",
            "Pages {pages}, {size}, would fold into panels of {panels} mm: they suit no zigzag, roll or gate fold.",
            count, pages=pages, size=size, panels=widths,
        )
    return say_many(
        "Page {pages}, {size}, would fold into panels of {panels} mm: {needs}.",
        "Pages {pages}, {size}, would fold into panels of {panels} mm: {needs}.",
        count, pages=pages, size=size, panels=widths, needs=_needs(wanted),
    )


def _needs(wanted: FoldType) -> str:
    """What a fold of that type needs, a clause to follow a colon."""
    narrower = millimetres(SHORTER_BY_MM)
    return {
        "half": say("a half fold needs both panels equally wide"),
        "zigzag": say("a zigzag fold needs all panels equally wide"),
        "roll": say("a roll fold needs each panel that folds in at least {mm} narrower than the next", mm=narrower),
        "gate": say("a gate fold needs two wings at least {mm} narrower than what they cover", mm=narrower),
    }[wanted]
