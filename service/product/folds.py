"""Where a sheet folds, into which panels, and whether these fold together.

* The back of a sheet is turned over from left to right: on even pages upright folds count from the other edge.
* A roll fold needs each panel that folds in narrower than the next, a gate fold two wings narrower than what they cover; half and
  zigzag folds need panels that lie on one another. Common practice, no source.

It does not know the direction of a fold or the thickness of the paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.sheets.model import Fold, FoldType

SAME_PANEL_MM = 1.0
"""Panels that are to lie on one another differ by no more: a fold wanders by about a millimetre. Common practice, no source."""

SHORTER_BY_MM = 1.0
"""A panel that is folded into others is at least so much shorter, mostly 1 to 3 mm. Common practice, no source."""


# --- On a page --------------------------------------------------------------------------------------------------------


def fold_line(fold: Fold, page: Page) -> Box | None:
    """The fold on this page, in ruler mm; None where it lies off the page."""
    return fold_across(fold, page.boxes_mm.trim, page.number)


def fold_across(fold: Fold, trim: Box, number: int) -> Box | None:
    """The fold on a page of this number and trim; None where it lies off the page."""
    if fold.axis == "horizontal":
        line = Box(trim.x0, trim.y0 + fold.at_mm, trim.x1, trim.y0 + fold.at_mm)
    else:
        x = trim.x0 + fold.at_mm if number % 2 else trim.x1 - fold.at_mm
        line = Box(x, trim.y0, x, trim.y1)
    return line if trim.contains(line) else None


def fold_lines(folds: Iterable[Fold], page: Page) -> list[Box]:
    """All folds that lie on this page."""
    return [line for fold in folds if (line := fold_line(fold, page))]


# --- Panels -----------------------------------------------------------------------------------------------------------


def panels_between(at_mm: Iterable[float], length_mm: float) -> list[float]:
    """Widths of what folds in these places make of a page of this length, from its left or top edge."""
    edges = [0.0, *sorted(at_mm), length_mm]
    return [end - start for start, end in pairwise(edges)]


def is_off(panels: Sequence[float]) -> bool:
    """A fold lies off the page, or two lie in one place."""
    return min(panels) <= SLACK_MM


def fold_together(panels: Sequence[float], wanted: FoldType | None) -> bool:
    """Whether the panels suit the type of fold; without one, or where it makes another number of panels, any type at all."""
    if is_off(panels):
        return False
    if len(panels) == 2:
        return wanted != "half" or _same(panels)
    fitting = {"zigzag": _same(panels), "roll": _rolls(panels) or _rolls(panels[::-1]), "gate": _closes(panels)}
    return fitting[wanted] if wanted in fitting else any(fitting.values())


def _same(panels: Sequence[float]) -> bool:
    return max(panels) - min(panels) <= SAME_PANEL_MM + SLACK_MM


def _rolls(panels: Sequence[float]) -> bool:
    """From the innermost on: each one shorter than the next, but the last two lie on one another."""
    steps = [outer - inner for inner, outer in pairwise(panels)]
    return all(step >= SHORTER_BY_MM - SLACK_MM for step in steps[:-1]) and steps[-1] >= -SAME_PANEL_MM - SLACK_MM


def _closes(panels: Sequence[float]) -> bool:
    """Two wings that meet on the panel between them, or on two that fold once more."""
    if len(panels) == 3:
        return panels[0] + panels[2] <= panels[1] - SHORTER_BY_MM + SLACK_MM
    if len(panels) != 4:
        return False
    wings = panels[1] - panels[0], panels[2] - panels[3]
    return min(wings) >= SHORTER_BY_MM - SLACK_MM and _same(panels[1:3])
