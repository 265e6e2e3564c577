"""What is drawn upon a page's picture, and what its legend says: from the page, the sheet and the findings.

* Trim: where the page is cut. Bleed: as far as the sheet asks; where it does not ask, the bleed that the file declares.
* Safety margin: the sheet's margin inside the trim, on all sides, as the rules on margins read it.
* Folds as the sheet has them, on the back counted from the other edge.
* Findings by their number in the check's list, those that have places on this page.

Plain records in, plain records out; words in the language that is spoken.
"""

from __future__ import annotations

from collections.abc import Sequence

from service.language.spoken import say
from service.language.wording import asked_length
from service.pdf.facts.page import Page
from service.product.fitting import fitted
from service.product.folds import fold_lines
from service.proofs.picture.page_brief import Frame, Line, Mark, PictureBrief, page_to_show, picture_area, ppi_of
from service.proofs.picture.wishes import PictureWishes
from service.rules.catalogue import claim_of
from service.rules.judgement import JudgedFinding
from service.sheets.model import SpecSheet


def picture_brief(page: Page, sheet: SpecSheet, findings: Sequence[JudgedFinding], wishes: PictureWishes) -> PictureBrief:
    """The picture of a page with what is to be shown upon it; bare where that is nothing."""
    area, what = picture_area(page), wishes.shown
    frame = Frame(area, ppi_of(area, wishes.ppi))
    if not what:
        return PictureBrief(page_to_show(page), frame)
    marks = marks_on(page.number, findings) if "findings" in what else ()
    notes = [say("Screen colours are not those of the print; the printer's own proof decides.")]
    if "findings" in what and not marks:
        notes.insert(0, say("No finding has a place on this page."))
    return PictureBrief(
        page_to_show(page),
        frame,
        legend=True,
        lines=lines_of(page, sheet) if "boxes" in what else (),
        marks=marks,
        marks_heading=say("Asked for, and not met here:"),
        notes=tuple(notes),
        if_rendered=say(
            "The separations of this page cannot be made: it is shown as a common reader shows it, without overprint."
        ),
    )


def lines_of(page: Page, sheet: SpecSheet) -> tuple[Line, ...]:
    """The page's boxes and folds with their labels; the trim comes last, so that it lies on top."""
    trim, sheet = page.boxes_mm.trim, fitted(sheet, [page])
    lines = []
    if sheet.bleed:
        asked = say("Bleed, {length} as asked", length=asked_length(sheet.bleed.advised_mm))
        lines.append(Line("bleed", trim.grown(sheet.bleed.advised_mm), asked))
    elif page.bleed_declared:
        lines.append(Line("bleed", page.boxes_mm.bleed, say("Bleed of the file")))
    if sheet.margin and 2 * sheet.margin.minimum_mm < min(trim.width, trim.height):
        asked = say("Safety margin, {length}", length=asked_length(sheet.margin.minimum_mm))
        lines.append(Line("quiet", trim.grown(-sheet.margin.minimum_mm), asked))
    lines += [Line("fold", line, say("Fold")) for line in fold_lines(sheet.folds, page)]
    return (*lines, Line("trim", trim, say("Trim: cut here")))


def marks_on(page: int, findings: Sequence[JudgedFinding]) -> tuple[Mark, ...]:
    """The findings that have places on this page, numbered as in the check's list."""
    marks = []
    for number, judged in enumerate(findings, start=1):
        boxes = tuple(place.box_mm for place in judged.finding.places if place.page == page)
        if boxes:
            marks.append(Mark(number, judged.level, boxes, claim_of(judged.rule)))
    return tuple(marks)
