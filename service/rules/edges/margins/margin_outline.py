"""The rule on text near the outline of a product of another shape than a rectangle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from service.language.spoken import say
from service.language.wording import asked_length, just_short, millimetres, on_pages, on_which, quoted
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.margins.margin import ink_of, seen_text, texts
from service.rules.edges.short_artwork import SIDES, depth_inside
from service.rules.seen import PagesWithContent, contents_of, not_measured_on
from service.sheets.model import Block, SpecSheet

WITHIN_MM = 0.3
"""How exactly an outline is known from its plate: half a pixel at 100 ppi, and the line's own width."""
_SAMPLES = tuple(at / 8 for at in range(9))


@dataclass(frozen=True, kw_only=True)
class OutlineAsked(Block):
    minimum_mm: float
    corner_radius_mm: float | None
    by_line: bool
    """Whether the sheet names a cutting line."""


def _outline_asked(sheet: SpecSheet) -> OutlineAsked | None:
    margin, radius = sheet.margin, sheet.trim.corner_radius_mm if sheet.trim else None
    by_line = any(one.kind in ("cut", "kiss-cut") for one in sheet.finishes)
    if margin is None or not (by_line or radius):
        return None
    return OutlineAsked(
        minimum_mm=margin.minimum_mm, corner_radius_mm=radius, by_line=by_line, level=margin.level, note=margin.note
    )


_TooNear = tuple[float, int, TextRun]
"""How far inside the outline, the page, the text."""


@rule(
    "margin.outline",
    needs=contents_of,
    asks=_outline_asked,
    asked_by="margin.minimum, with trim.corner_radius or a finish of the kind cut or kiss-cut",
    level="must",
    source="common practice, no source; the safety margin and the shape are the printer's",
    measured={"distance_mm": "least distance from the outline, negative beyond it", "texts": "the texts, the first ones",
              "runs": "how many pieces of text", **LEFT_OUT},
    required={"minimum_mm": "least distance of text from the outline"},
)
def margin_outline(pages: PagesWithContent, asked: OutlineAsked) -> Iterator[Outcome]:
    """Text keeps the safety margin from rounded corners and from the line that cuts the product out.

    Why: a round sticker is smaller than its page; what stands in the corners of the page, or at the line, is cut off.
    Remedy: move the text inwards, away from the cutting line and the corners.
    Knows: the outline as the cutting line's plate shows it, to 0.3 mm, and corners by the radius of the sheet; of each text
    the box around its ink, of which each side counts by its point that lies deepest inside. Text at the edge of the page
    itself is told by margin.text.
    Where a line of the kind kiss-cut cuts several pieces out of the page, text keeps away from that of the piece it stands on;
    text that stands on none is nobody's.
    Cannot know: cutting lines that are not closed; several pieces that a line of the kind cut cuts out; glyphs that fill a
    corner of their box; pictures and shapes in the corners.
    """
    found: list[_TooNear] = []
    for page, content in pages:
        plates = None if isinstance(page.plates, Unmeasured) else page.plates
        outlines = [one for one in (plates.outline, plates.pieces) if one] if plates else []
        if asked.by_line and isinstance(page.plates, Unmeasured):
            yield not_measured_on((page.number,), page.plates)
        by_plate = [min(depths) for depths in zip(*(one.text_inside_mm for one in outlines), strict=False)]
        for run, inside_mm in _with_depths(page, content, by_plate, asked):
            if inside_mm < asked.minimum_mm - WITHIN_MM and not _is_told_of(run, page, asked.minimum_mm):
                found.append((inside_mm, page.number, run))
    if found:
        yield _at_the_outline(found, asked.minimum_mm)


def _with_depths(
    page: Page, content: Content, by_plate: Sequence[float], asked: OutlineAsked
) -> Iterator[tuple[TextRun, float]]:
    """Each piece of text with how far inside the outline it stays, where there is one."""
    depths = {id(run): depth for run, depth in zip(content.text_runs, by_plate, strict=False)}
    for run in seen_text(page, content.text_runs):
        if isinstance(run.ink_mm, Box):
            known = [depths[id(run)]] if id(run) in depths else []
            if asked.corner_radius_mm:
                known.append(inside_rounded(run.ink_mm, page.boxes_mm.trim, asked.corner_radius_mm))
            if known:
                yield run, min(known)


def inside_rounded(box: Box, trim: Box, radius_mm: float) -> float:
    """How far inside a page with rounded corners the box stays: of each side its deepest point counts."""
    xs, ys = ([start + (end - start) * at for at in _SAMPLES] for start, end in ((box.x0, box.x1), (box.y0, box.y1)))
    sides = [[(x, y) for x in xs] for y in (box.y0, box.y1)] + [[(x, y) for y in ys] for x in (box.x0, box.x1)]
    return min(max(_depth(point, trim, radius_mm) for point in side) for side in sides)


def _depth(point: tuple[float, float], trim: Box, radius_mm: float) -> float:
    """Negative outside."""
    radius = min(radius_mm, trim.width / 2, trim.height / 2)
    across = abs(point[0] - (trim.x0 + trim.x1) / 2) - (trim.width / 2 - radius)
    down = abs(point[1] - (trim.y0 + trim.y1) / 2) - (trim.height / 2 - radius)
    return radius - hypot(max(across, 0.0), max(down, 0.0)) - min(max(across, down), 0.0)


def _is_told_of(run: TextRun, page: Page, minimum_mm: float) -> bool:
    """By margin.text."""
    return any(depth_inside(ink_of(run), page.boxes_mm.trim, side) < minimum_mm - SLACK_MM for side in SIDES)


def _at_the_outline(found: list[_TooNear], minimum_mm: float) -> Finding:
    distance, page, run = min(found, key=lambda one: one[0])
    pages = tuple(sorted({number for _, number, _ in found}))
    words, asked, there = on_which(quoted(run.text), page, pages), asked_length(minimum_mm), on_pages(pages)
    if distance < 0:
        told = say(
            "Text {on_pages} is cut off by the product's outline: {words} reaches {distance} beyond it; the printer asks for "
            "{asked} inside it.",
            on_pages=there, words=words, distance=millimetres(-distance), asked=asked,
        )
    else:
        told = say(
            "Text {on_pages} stands too near the product's outline: {words} is {distance} inside it; the printer asks for "
            "{asked}.",
            on_pages=there, words=words, distance=just_short(distance, minimum_mm), asked=asked,
        )
    return Finding(
        message=told,
        remedy=say("Move the text inwards, away from the cutting line and the corners, until {asked} stay free.", asked=asked),
        measured={"distance_mm": round(distance, 2), "runs": len(found), "texts": texts(one for _, _, one in found)},
        required={"minimum_mm": minimum_mm},
        pages=pages,
        places=tuple(Place(number, ink_of(one)) for _, number, one in found),
    )
