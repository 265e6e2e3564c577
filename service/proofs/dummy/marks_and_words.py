"""What stands around the pages of a dummy: marks for cutting and folding, and sentences. They are English, whatever is spoken."""

from __future__ import annotations

from service.language.wording import plain_number
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Page
from service.product.covers import spine_area
from service.proofs.dummy.brief import Line
from service.proofs.dummy.imposition import BlanksPlace
from service.proofs.dummy.paper import Paper
from service.sheets.model import SpecSheet

MARK_FROM_MM, MARK_TO_MM = 1.0, 3.5
"""Where the marks for cutting and folding begin and end, from the trim."""
WORDS_ABOVE_MM, WORDS_BELOW_MM = 4.5, 6.5
"""Baselines of the words above and below the pages."""
MOST_STAPLED_PAGES = 64
"""On thin paper; on thicker paper fewer. Common practice, no source."""


def cut_marks(area: Box) -> list[Line]:
    marks = []
    for x, outwards_x in ((area.x0, -1), (area.x1, 1)):
        for y, outwards_y in ((area.y0, -1), (area.y1, 1)):
            marks.append(Line("cut", (x + outwards_x * MARK_FROM_MM, y), (x + outwards_x * MARK_TO_MM, y)))
            marks.append(Line("cut", (x, y + outwards_y * MARK_FROM_MM), (x, y + outwards_y * MARK_TO_MM)))
    return marks


def fold_ticks(x: float, area: Box) -> list[Line]:
    """Above and below an upright fold, so that nothing is drawn over the pages."""
    ends = ((area.y0 - MARK_TO_MM, area.y0 - MARK_FROM_MM), (area.y1 + MARK_FROM_MM, area.y1 + MARK_TO_MM))
    return [Line("fold", (x, start), (x, end)) for start, end in ends]


# --- Said beside the pages, and of the whole ------------------------------------------------------------------------------


def scale_told(paper: Paper) -> tuple[str, ...]:
    if paper.scale >= 1:
        return (f"In its real size on {paper.name}.",)
    return (f"Made smaller to fit {paper.name}: {plain_number(100 * paper.scale)} % of its real size.",)


def blanks_told(blanks: tuple[int, ...], place: BlanksPlace) -> tuple[str, ...]:
    if not blanks:
        return ()
    where = {"end": "at the end", "before-last": "before the last page", "after-first": "after the first page"}[place]
    count = "1 blank page was" if len(blanks) == 1 else f"{len(blanks)} blank pages were"
    return (f"{count} added {where}, to make the count a multiple of 4: {', '.join(map(str, blanks))}.",)


def thickness_told(count: int) -> tuple[str, ...]:
    if count <= MOST_STAPLED_PAGES:
        return ()
    told = f"{count} pages are many for one stapled booklet, which rarely has more than {MOST_STAPLED_PAGES}"
    return (f"{told}: ask the printer how it is to be bound.",)


def creep_told(creep: float, caliper_mm: float) -> tuple[str, ...]:
    if not creep:
        return ()
    return (
        f"Pages are moved towards the fold by {plain_number(caliper_mm, 3)} mm for each sheet further in, "
        f"{plain_number(creep, 2)} mm on the innermost; what reaches across the fold there is cut off.",
    )


def spine_told(page: Page, sheet: SpecSheet) -> tuple[str, ...]:
    spine = spine_area(page, sheet.spine) if sheet.spine else None
    return (f"The spine is {plain_number(spine.width)} mm wide before scaling.",) if spine else ()
