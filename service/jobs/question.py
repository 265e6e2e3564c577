"""What measuring is to find out for a sheet, and whether stored measurements answer another sheet too."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from service.pdf.facts.ink_names import same_ink
from service.pdf.facts.unknown import NotAsked, Unmeasured
from service.pdf.question import Question
from service.sheets.model import SpecSheet, SpineAsked
from service.sheets.variants import variants

if TYPE_CHECKING:
    from service.pdf.facts.measurements import Measurements
    from service.pdf.facts.page import Page

GUESSED = ("crop_box", "media_minus_bleed", "media_box")
"""Sources of the trim that depend on the sizes and bleeds that were tried (design: where the trim is)."""


SPINES_MM = tuple(half / 2 for half in range(161))
"""Those of paperbacks, up to 1,200 pages of bulky paper: common practice, no source. Steps so small that a bleed of 3 mm is never
taken for one of 1/8 in.
"""


def question_for(sheet: SpecSheet) -> Question:
    """The sizes to try where a page declares no trim: the sheet's, turned, and both as a spread; a cover's with any spine."""
    usual = Question()
    ways = variants(sheet)
    asked_mm = (depth for one in ways if one.bleed for depth in (one.bleed.advised_mm, one.bleed.minimum_mm))
    bleeds = (*(one for one in asked_mm if one > 0), *usual.bleeds_mm)
    limits = (sheet.color.ink_limit_percent, sheet.color.ink_preferred_percent) if sheet.color else ()
    asked = Question(
        bleeds_mm=tuple(dict.fromkeys(bleeds)),
        ink_limits_percent=tuple(one for one in limits if one is not None),
        finishing_inks=tuple(name for one in sheet.finishes for name in one.plate_names),
        cutting_inks=tuple(name for one in sheet.finishes if one.kind == "cut" for name in one.plate_names),
        piece_inks=tuple(name for one in sheet.finishes if one.kind == "kiss-cut" for name in one.plate_names),
        where_ink_lies=bool(sheet.keep_clear or sheet.finishes),
    )
    trims = [one.trim for one in ways if one.trim]
    sizes = [size for one in trims for size in _ways_to_lie(one.width_mm, one.height_mm)]
    sizes += [size for one in trims for part in one.parts for size in _ways_to_lie(part.width_mm, part.height_mm)]
    sizes += _covers(sheet.spine) if sheet.spine else ()
    return replace(asked, trim_sizes_mm=tuple(dict.fromkeys(sizes)))


def _ways_to_lie(width: float, height: float) -> tuple[tuple[float, float], ...]:
    return (width, height), (height, width), (2 * width, height), (2 * height, width)


def _covers(spine: SpineAsked) -> Iterator[tuple[float, float]]:
    """A cover laid out flat with any spine: its height tells the bleed. Only the order knows the spine, and may come later."""
    if spine.page_height_mm is not None:
        for thickness in SPINES_MM:
            yield 2 * spine.page_width_mm + thickness, spine.page_height_mm


def answers(measurements: Measurements, asked: Question, wanted: Question) -> bool:
    """Whether measuring again with the other question could find nothing that matters to a verdict: where a page is over another
    limit of total ink is known only in part.
    """
    if asked == wanted or isinstance(measurements.pages, Unmeasured):
        return True
    same_trims = (asked.trim_sizes_mm, asked.bleeds_mm) == (wanted.trim_sizes_mm, wanted.bleeds_mm)
    finishing = {same_ink(ink) for ink in wanted.finishing_inks}
    lines = [(asked.cutting_inks, wanted.cutting_inks), (asked.piece_inks, wanted.piece_inks)]
    followed = {ink for before, now in lines for ink in {same_ink(one) for one in before} ^ {same_ink(one) for one in now}}
    if any(_draws(page, followed) for page in measurements.pages):
        return False
    return all(
        (same_trims or page.trim_source not in GUESSED) and _leaves_out(page, finishing) and _tells_of_ink(page, wanted)
        for page in measurements.pages
    )


def _tells_of_ink(page: Page, wanted: Question) -> bool:
    """Whether no part of its ink was passed over that is asked about now."""
    if isinstance(page.plates, NotAsked):
        return not isinstance(page.content, Unmeasured) and wanted.answered_by(page.content.plain_ink_percent)
    return not wanted.where_ink_lies or isinstance(page.plates, Unmeasured) or not isinstance(page.plates.ink_map, NotAsked)


def _leaves_out(page: Page, finishing: set[str]) -> bool:
    """Whether the total of its inks is without these, and without these only."""
    if isinstance(page.plates, Unmeasured):
        return True
    return all((same_ink(one.ink) in finishing) == (one.ink in page.plates.left_out) for one in page.plates.inks)


def _draws(page: Page, inks: set[str]) -> bool:
    """Whether one of these, as `same_ink` has them, has a plate."""
    return not isinstance(page.plates, Unmeasured) and any(same_ink(one.ink) in inks for one in page.plates.inks)
