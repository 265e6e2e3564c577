"""What measuring is to find out for a sheet, and whether stored measurements answer another sheet too."""

from __future__ import annotations

from service.pdf.measurements import Measurements, Question, Unmeasured
from service.sheets.model import SpecSheet

GUESSED = ("crop_box", "media_minus_bleed", "media_box")
"""Sources of the trim that depend on the sizes and bleeds that were tried (design: where the trim is)."""


def question_for(sheet: SpecSheet) -> Question:
    """The sizes to try where a page declares no trim: the sheet's, turned, and both as a spread of two pages."""
    usual = Question()
    bleeds = ((sheet.bleed.minimum_mm,) if sheet.bleed and sheet.bleed.minimum_mm > 0 else ()) + usual.bleeds_mm
    bleeds = tuple(dict.fromkeys(bleeds))
    if sheet.trim is None:
        return Question(bleeds_mm=bleeds)
    width, height = sheet.trim.width_mm, sheet.trim.height_mm
    sizes = ((width, height), (height, width), (2 * width, height), (2 * height, width))
    return Question(tuple(dict.fromkeys(sizes)), bleeds)


def answers(measurements: Measurements, asked: Question, wanted: Question) -> bool:
    """Whether measuring again with the other question could find nothing else."""
    if asked == wanted or isinstance(measurements.pages, Unmeasured):
        return True
    return all(page.trim_source not in GUESSED for page in measurements.pages)
