"""The rule on a line that goes around the page on its very trim, as guides do."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.guide_names import role_of
from service.pdf.facts.ink_names import names_a_tool
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.vectors import Frame
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.margins.margin import margin_asked
from service.rules.edges.margins.margin_frame import frames_asked, printed_frames
from service.rules.edges.short_artwork import SIDES, depth_inside
from service.rules.pages.layer import holds_guides
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import SpecSheet

CUT_MM = 1.0
"""How far the cut may fall from the trim. Common practice, no source."""


def _asked(sheet: SpecSheet) -> SpecSheet | None:
    """None where nothing is cut, and where margin.frame tells of every frame so near the edge."""
    frames = None if sheet.levels.get("margin.frame") == "off" else frames_asked(sheet)
    told = frames is not None and (frames.forbidden or (frames.minimum_mm or 0) >= CUT_MM)
    return sheet if sheet.purpose == "print" and not told else None


@rule(
    "margin.keyline",
    needs=contents_of,
    asks=_asked,
    asked_by="always, for print",
    level="should",
    source="common practice, no source",
    measured={"width_mm": "thickness of the line, of the thickest if there are several", "lines": "how many", **LEFT_OUT},
    required={"apart_mm": "how far a line keeps from the trim, or it is cut off or left by chance"},
)
def margin_keyline(pages: PagesWithContent, sheet: SpecSheet) -> Iterator[Outcome]:
    """No line goes around the page right along its trim.

    Why: the cut wanders by a millimetre or so. A line on the trim itself stays on one side and is cut off on the other.
    Remedy: delete the line if it is a guide; if it is artwork, move it inwards or make it a border that runs into the bleed.
    Knows: rectangles that are drawn as one line and whose ink lies within a millimetre of the trim on all four sides. Lines in an
    ink for cutting, folding or guides are left out. Where the sheet says how far frames keep from the trim, margin.frame tells of
    them; of one that ends inside the trim margin.artwork does, of one on a layer of guides layer.guides.
    Cannot know: a line that is made of four, or that does not show on a ground of its own colour.
    """
    inside_is_told = margin_asked(sheet) is not None and sheet.levels.get("margin.artwork") != "off"
    found: list[tuple[int, Frame]] = []
    for page, content in pages:
        guides = list(_guide_lines(page, content)) if sheet.levels.get("layer.guides") != "off" else []
        for frame in printed_frames(page, content):
            if _is_for_a_tool(frame) or not _lies_on_the_trim(frame, page.boxes_mm.trim):
                continue
            ends_inside = all(depth_inside(frame.box_mm, page.boxes_mm.trim, side) > SLACK_MM for side in SIDES)
            if not (ends_inside and inside_is_told) and not any(_alike(frame.box_mm, one) for one in guides):
                found.append((page.number, frame))
    if found:
        yield _along_the_trim(found)


def _is_for_a_tool(frame: Frame) -> bool:
    """Whether it shows where a blade goes, or the page ends, in an ink that says so; registration has a rule of its own."""
    return bool(frame.inks) and all(names_a_tool(ink) or role_of(ink) is not None or ink == "All" for ink in frame.inks)


def _lies_on_the_trim(frame: Frame, trim: Box) -> bool:
    """All of its ink, on all sides: what goes on further is a border that bleeds, or a frame inside the page."""
    outer, inner = frame.box_mm, frame.box_mm.grown(-frame.width_mm)
    return all(depth_inside(outer, trim, side) >= -CUT_MM and depth_inside(inner, trim, side) <= CUT_MM for side in SIDES)


def _guide_lines(page: Page, content: Content) -> Iterator[Box]:
    for use in content.layers:
        if holds_guides(page, use):
            yield from use.boxes_mm


def _alike(one: Box, other: Box) -> bool:
    return all(abs(a - b) <= CUT_MM for a, b in zip(one, other, strict=True))


def _along_the_trim(found: list[tuple[int, Frame]]) -> Finding:
    numbers = tuple(sorted({page for page, _ in found}))
    thickest = max(frame.width_mm for _, frame in found)
    return Finding(
        message=say_many(
            "Page {pages} has a line around it right along the trim: the cut leaves it on one side and not on the other.",
            "Pages {pages} have a line around them right along the trim: the cut leaves it on one side and not on the other.",
            len(numbers), pages=page_list(numbers),
        ),
        remedy=say(
            "If it is a guide, delete it or keep it from printing. If it is artwork, move it inwards, away from the cut, or make "
            "it a border that runs to the bleed edge."
        ),
        measured={"width_mm": round(thickest, 2), "lines": len(found)},
        required={"apart_mm": CUT_MM},
        pages=numbers,
        places=tuple(Place(page, frame.box_mm) for page, frame in found),
    )
