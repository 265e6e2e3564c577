"""What is not nested: each page on a side of paper, with its folds: a leaflet, a cover, a leaf."""

from __future__ import annotations

from collections.abc import Sequence

from service.language.spoken import say
from service.language.wording import number
from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.product.covers import spine_area, spine_folds
from service.product.folds import fold_lines
from service.proofs.dummy.faces import (
    MARK_TO_MM,
    WORDS_ABOVE_MM,
    WORDS_BELOW_MM,
    DummyBrief,
    DummyKind,
    Face,
    Line,
    Paper,
    Placement,
    Words,
    cut_marks,
    paper_for,
)
from service.proofs.dummy.telling import page_told, scale_told, side_told, told_dummy
from service.proofs.dummy.wishes import DummyWishes
from service.sheets.model import SpecSheet


def flat(kind: DummyKind, pages: Sequence[Page], sheet: SpecSheet, wishes: DummyWishes) -> DummyBrief:
    """Each page on a side of its own; the second of two is the back of the first."""
    paper = paper_for(max(page.trim_width_mm for page in pages), max(page.trim_height_mm for page in pages), wishes)
    notes = scale_told(paper)
    faces = []
    for at, page in enumerate(pages):
        told = side_told(at // 2 + 1, (len(pages) + 1) // 2, back=at % 2 == 1)
        told = " ".join((told, *(notes if at == 0 else ()), *(_spine_told(page, sheet) if kind == "cover" else ())))
        faces.append(_flat_face(page, _folds(kind, page, sheet), told, paper, back=at % 2 == 1))
    if len(faces) > 1 and len(faces) % 2:
        faces.append(Face((), (), ()))  # so that the next copy does not begin on the back of this one
    changes = (*notes, *((say("An empty side was added at the end."),) if len(pages) > 1 and len(pages) % 2 else ()))
    return told_dummy(kind, paper, faces, changes, ())


def _flat_face(page: Page, folds: Sequence[Box], told: str, paper: Paper, *, back: bool) -> Face:
    trim, scale = page.boxes_mm.trim, paper.scale
    x, y = (paper.width_mm - trim.width * scale) / 2, (paper.height_mm - trim.height * scale) / 2
    area = Box(x, y, x + trim.width * scale, y + trim.height * scale)

    def on_paper(place: tuple[float, float]) -> tuple[float, float]:
        return x + (place[0] - trim.x0) * scale, y + (place[1] - trim.y0) * scale

    lines = [*cut_marks(area)]
    for fold in folds:
        (x0, y0), (x1, y1) = on_paper((fold.x0, fold.y0)), on_paper((fold.x1, fold.y1))
        beyond_x, beyond_y = (0.0, MARK_TO_MM) if x0 == x1 else (MARK_TO_MM, 0.0)
        lines.append(Line("fold", (x0 - beyond_x, y0 - beyond_y), (x1 + beyond_x, y1 + beyond_y)))
    words = (
        Words(told, (area.x0, area.y0 - WORDS_ABOVE_MM), centred=False, most_mm=area.width),
        Words(page_told(page.number), ((area.x0 + area.x1) / 2, area.y1 + WORDS_BELOW_MM), centred=True, most_mm=area.width),
    )
    return Face(
        (Placement(page.number, page.boxes_mm.media, trim, (x, y)),), tuple(lines), words, back and paper.back_upside_down
    )


def _folds(kind: DummyKind, page: Page, sheet: SpecSheet) -> list[Box]:
    """Lines across the page, in its ruler mm."""
    if kind == "cover" and sheet.spine:
        spine = spine_area(page, sheet.spine)
        return [] if spine is None else [*spine_folds(spine)]
    return fold_lines(sheet.folds, page) if kind == "leaflet" else []


def _spine_told(page: Page, sheet: SpecSheet) -> tuple[str, ...]:
    spine = spine_area(page, sheet.spine) if sheet.spine else None
    return (say("The spine is {width} mm wide before scaling.", width=number(spine.width)),) if spine else ()
