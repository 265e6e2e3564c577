"""What measuring is to find out for a sheet, and whether stored measurements answer another sheet too."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from service.pdf.facts.ink_names import same_ink
from service.pdf.facts.unknown import Unmeasured
from service.pdf.question import Question
from service.sheets.model import SpecSheet

if TYPE_CHECKING:
    from service.pdf.facts.measurements import Measurements
    from service.pdf.facts.page import Page

GUESSED = ("crop_box", "media_minus_bleed", "media_box")
"""Sources of the trim that depend on the sizes and bleeds that were tried (design: where the trim is)."""


def question_for(sheet: SpecSheet) -> Question:
    """The sizes to try where a page declares no trim: the sheet's, turned, and both as a spread of two pages."""
    usual = Question()
    bleeds = ((sheet.bleed.minimum_mm,) if sheet.bleed and sheet.bleed.minimum_mm > 0 else ()) + usual.bleeds_mm
    limit = sheet.color.ink_limit_percent if sheet.color else None
    asked = Question(
        bleeds_mm=tuple(dict.fromkeys(bleeds)),
        ink_limits_percent=() if limit is None else (limit,),
        finishing_inks=tuple(one.ink for one in sheet.finishes),
    )
    if sheet.trim is None:
        return asked
    width, height = sheet.trim.width_mm, sheet.trim.height_mm
    sizes = ((width, height), (height, width), (2 * width, height), (2 * height, width))
    return replace(asked, trim_sizes_mm=tuple(dict.fromkeys(sizes)))


def answers(measurements: Measurements, asked: Question, wanted: Question) -> bool:
    """Whether measuring again with the other question could find nothing that matters to a verdict: where a page is over another
    limit of total ink is known only in part.
    """
    if asked == wanted or isinstance(measurements.pages, Unmeasured):
        return True
    same_trims = (asked.trim_sizes_mm, asked.bleeds_mm) == (wanted.trim_sizes_mm, wanted.bleeds_mm)
    finishing = {same_ink(ink) for ink in wanted.finishing_inks}
    return all((same_trims or page.trim_source not in GUESSED) and _leaves_out(page, finishing) for page in measurements.pages)


def _leaves_out(page: Page, finishing: set[str]) -> bool:
    """Whether the total of its inks is without these, and without these only."""
    if isinstance(page.plates, Unmeasured):
        return True
    return all((same_ink(one.ink) in finishing) == (one.ink in page.plates.left_out) for one in page.plates.inks)
