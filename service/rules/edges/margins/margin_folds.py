"""Rules on folds: what lies across a fold, or in the spine of a cover."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import first_few, millimetres, on_pages, quoted
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from service.product.covers import laid_flat, spine_area, spine_folds
from service.product.folds import fold_line
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.margins.margin import ink_of, seen_text, texts
from service.rules.seen import NotMeasured, PagesWithContent, Seen, contents_of, knowing_gaps, not_measured_on
from service.sheets.model import Block, Fold, Level, SpecSheet, SpineAsked, TrimAsked

SPINE_FREE_MM = 1.5
"""How far text keeps from the folds of the spine. Common practice, no source."""

NARROWEST_SPINE_WITH_TEXT_MM = 5.0
"""A thinner spine takes no text: it drifts by a millimetre or two. Common practice, no source (5 to 6 mm)."""


# --- Folds ------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class FoldsAsked(Block):
    folds: tuple[Fold, ...]
    size: TrimAsked | None
    free_mm: float
    """How far text keeps from a fold: the margin's minimum; 0 where the sheet has none."""


def _folds_asked(sheet: SpecSheet) -> FoldsAsked | None:
    if not sheet.folds:
        return None
    level: Level | None = "should" if all(fold.level == "should" for fold in sheet.folds) else None
    free_mm = sheet.margin.minimum_mm if sheet.margin else 0.0
    return FoldsAsked(folds=sheet.folds, size=sheet.trim, free_mm=free_mm, level=level)


@rule(
    "margin.fold",
    needs=contents_of,
    asks=_folds_asked,
    asked_by="folds; the margin's minimum says how far text keeps away",
    level="must",
    source="common practice, no source; the folds are the printer's",
    measured={"texts": "the texts, the first ones", "runs": "how many pieces of text", "pictures": "how many pictures",
              **LEFT_OUT},
    required={"at_mm": "where the fold lies", "axis": "vertical or horizontal", "free_mm": "how far text keeps from it"},
)
def margin_fold(pages: PagesWithContent, asked: FoldsAsked) -> Iterator[Outcome]:
    """No text lies across a fold.

    Why: ink cracks in the fold, letters break, and the fold itself wanders by about a millimetre.
    Remedy: keep text within its panel. Pictures may run across, with nothing in the fold that must not be creased.
    Knows: the outlines of text and the bounds of pictures against the sheet's folds; on even pages (the back) upright folds are
    counted from the other edge. A picture across a fold is an observation, and one that ends at the fold is none.
    Cannot know: whether the crease meets a face, or whether a line of text is meant to run across two panels.
    """
    unknown: list[tuple[int, Unmeasured]] = []
    for fold in asked.folds:
        runs, pictures = [], []
        for page, content in pages:
            line = fold_line(fold, page)
            if line is not None and not (asked.size and asked.size.part_on(page.number)):
                near = [run for run in seen_text(page, content.text_runs) if _lies_on(ink_of(run), line.grown(asked.free_mm))]
                runs += [(page.number, run) for run in near if not isinstance(run.ink_mm, Unmeasured)]
                unknown += [(page.number, run.ink_mm) for run in near if isinstance(run.ink_mm, Unmeasured)]
                pictures += [(page.number, one.visible_box_mm) for one in content.images if _lies_on(one.visible_box_mm, line)]
        if runs:
            yield _text_on_fold(fold, runs, asked.free_mm)
        if pictures:
            yield _pictures_on_fold(fold, pictures)
    for number, why in dict(unknown).items():
        yield not_measured_on((number,), why)


def _lies_on(box: Box, strip: Box) -> bool:
    """Whether it reaches into the strip, or across the line, by more than the slack on both sides."""
    return (
        box.x0 + SLACK_MM < strip.x1
        and strip.x0 < box.x1 - SLACK_MM
        and box.y0 + SLACK_MM < strip.y1
        and strip.y0 < box.y1 - SLACK_MM
    )


def _where_it_lies(fold: Fold, pages: tuple[int, ...]) -> str:
    """As one measures it on these pages: on the back, upright folds count from the right."""
    distance = millimetres(fold.at_mm)
    if fold.axis == "horizontal":
        return say("{distance} from the top", distance=distance)
    sides = {number % 2 for number in pages}
    if sides == {0, 1}:
        return say("{distance} from the left (on even pages, the back, from the right)", distance=distance)
    if sides == {1}:
        return say("{distance} from the left", distance=distance)
    return say("{distance} from the right", distance=distance)


def _text_on_fold(fold: Fold, runs: list[tuple[int, TextRun]], free_mm: float) -> Finding:
    pages, said = tuple(sorted({page for page, _ in runs})), texts(run for _, run in runs)
    found = say_many(
        "{count} piece of text {on_pages} lies across or near the fold {where}: {texts}",
        "{count} pieces of text {on_pages} lie across or near the fold {where}: {texts}",
        len(runs),
        on_pages=on_pages(pages),
        where=_where_it_lies(fold, pages),
        texts=first_few([quoted(one) for one in said], 3),
    )
    return Finding(
        message=say("{found}; text should stay {free} clear of it.", found=found, free=millimetres(free_mm))
        if free_mm
        else say("{found}; text should not lie across it.", found=found),
        remedy=say("Move the text into one panel, or narrow its frame."),
        measured={"runs": len(runs), "texts": said},
        required={"at_mm": fold.at_mm, "axis": fold.axis, "free_mm": free_mm},
        pages=pages,
        places=tuple(Place(page, ink_of(run)) for page, run in runs),
        level=fold.level,
        note=fold.note,
    )


def _pictures_on_fold(fold: Fold, pictures: list[tuple[int, Box]]) -> Finding:
    pages = tuple(sorted({page for page, _ in pictures}))
    return Finding(
        message=say_many(
            "{count} picture {on_pages} runs across the fold {where}: see that no face or detail lies in the crease.",
            "{count} pictures {on_pages} run across the fold {where}: see that no face or detail lies in the crease.",
            len(pictures),
            on_pages=on_pages(pages),
            where=_where_it_lies(fold, pages),
        ),
        remedy=say("Move the picture, or its crop, so that nothing important lies in the fold; a plain background may stay."),
        measured={"pictures": len(pictures)},
        required={"at_mm": fold.at_mm, "axis": fold.axis},
        pages=pages,
        places=tuple(Place(page, box) for page, box in pictures),
        level="should",
        note=fold.note,
    )


# --- The spine --------------------------------------------------------------------------------------------------------


@rule(
    "margin.spine",
    needs=knowing_gaps(contents_of),
    asks=lambda sheet: sheet.spine,
    asked_by="spine; spine.text_free says how far text keeps away",
    level="must",
    source="common practice, no source",
    measured={"texts": "the texts, the first ones", "runs": "how many pieces of text", "pictures": "how many pictures",
              "spine_mm": "width of the spine that the cover leaves", **LEFT_OUT},
    required={"free_mm": "how far text keeps from the folds of the spine", "narrowest_mm": "narrowest spine that takes text"},
)
def margin_spine(seen: Seen[PagesWithContent], spine: SpineAsked) -> Iterator[Outcome]:
    """Text stays on the back, the front, or well inside the spine.

    Why: the spine drifts by a millimetre or two in binding; what stands at its folds turns the corner, and text on a thin
    spine lands on the front.
    Remedy: centre the title on the spine with room on both sides, and leave a spine thinner than 5 mm without text.
    Knows: the outlines of text and the bounds of pictures against what the cover leaves between two pages of the asked width. A
    picture that begins or ends in the spine is an observation; one that wraps round it is none.
    Cannot know: where the printer really folds, and whether a face in a wrapped picture lies in the spine.
    """
    free_mm = SPINE_FREE_MM if spine.text_free_mm is None else spine.text_free_mm
    covers = laid_flat((page for page, _ in seen.known), spine)
    areas = {page.number: area for page in covers if (area := spine_area(page, spine)) is not None}
    if not areas:
        if not seen.missing:
            yield NotMeasured(say("No page is wide enough for back, spine and front: where the spine lies cannot be told."))
        return
    folds: list[tuple[int, TextRun]] = []
    thin: list[tuple[int, TextRun]] = []
    pictures: list[tuple[int, Box]] = []
    unknown: dict[int, Unmeasured] = {}
    for page, content in seen.known:
        area = areas.get(page.number)
        if area is None:
            continue
        for run in seen_text(page, content.text_runs):
            ink, at_fold = ink_of(run), _meets_fold(ink_of(run), area, free_mm)
            if not at_fold and not (area.width < NARROWEST_SPINE_WITH_TEXT_MM - SLACK_MM and _lies_on(ink, area)):
                continue
            if isinstance(run.ink_mm, Unmeasured):
                unknown[page.number] = run.ink_mm
            else:
                (folds if at_fold else thin).append((page.number, run))
        boxes = (one.visible_box_mm for one in content.images)
        pictures += [(page.number, box) for box in boxes if _begins_or_ends_in(box, area)]
    for number, why in sorted(unknown.items()):
        yield not_measured_on((number,), why)
    width_mm = next(iter(areas.values())).width
    if folds:
        yield _text_in_spine(folds, width_mm, free_mm, too_thin=False)
    if thin:
        yield _text_in_spine(thin, width_mm, free_mm, too_thin=True)
    if pictures:
        yield _pictures_in_spine(pictures, width_mm)


def _meets_fold(box: Box, area: Box, free_mm: float) -> bool:
    return any(_lies_on(box, fold.grown(free_mm)) for fold in spine_folds(area))


def _begins_or_ends_in(box: Box, area: Box) -> bool:
    """An edge of the picture stands between the folds; one that ends at a fold does not."""
    inside = [area.x0 + SLACK_MM < x < area.x1 - SLACK_MM for x in (box.x0, box.x1)]
    return any(inside) and not all(inside)


def _text_in_spine(runs: list[tuple[int, TextRun]], spine_mm: float, free_mm: float, *, too_thin: bool) -> Finding:
    """Text on a spine that takes none, or at the folds of one that does."""
    pages, said = tuple(sorted({page for page, _ in runs})), texts(run for _, run in runs)
    where = on_pages(pages)
    told = first_few([quoted(one) for one in said], 3)
    return Finding(
        message=say(
            "Text {on_pages} stands on a spine of {width}, too thin for text: {texts}.",
            on_pages=where,
            width=millimetres(spine_mm),
            texts=told,
        )
        if too_thin
        else say("Text {on_pages} stands at the folds of the spine: {texts}.", on_pages=where, texts=told),
        remedy=say(
            "Keep text {free} away from both folds of the spine; on a spine thinner than {narrowest} leave it out.",
            free=millimetres(free_mm),
            narrowest=millimetres(NARROWEST_SPINE_WITH_TEXT_MM),
        ),
        measured={"runs": len(runs), "texts": said, "spine_mm": round(spine_mm, 2)},
        required={"narrowest_mm": NARROWEST_SPINE_WITH_TEXT_MM} if too_thin else {"free_mm": free_mm},
        pages=pages,
        places=tuple(Place(page, ink_of(run)) for page, run in runs),
    )


def _pictures_in_spine(pictures: list[tuple[int, Box]], spine_mm: float) -> Finding:
    pages = tuple(sorted({page for page, _ in pictures}))
    return Finding(
        message=say_many(
            "{count} picture {on_pages} begins or ends inside the spine of {width}: a drift in binding shows its edge on the "
            "back or the front.",
            "{count} pictures {on_pages} begin or end inside the spine of {width}: a drift in binding shows its edge on the "
            "back or the front.",
            len(pictures),
            on_pages=on_pages(pages),
            width=millimetres(spine_mm),
        ),
        remedy=say("End the picture at the fold, or let it run round the spine."),
        measured={"pictures": len(pictures), "spine_mm": round(spine_mm, 2)},
        required={"free_mm": SPINE_FREE_MM},
        pages=pages,
        places=tuple(Place(page, box) for page, box in pictures),
        level="should",
    )
