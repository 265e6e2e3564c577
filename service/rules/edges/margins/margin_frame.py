"""The rule on frames: a line drawn around the page, near its edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import asked_length, just_short, millimetres, page_list
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.vectors import Frame
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.short_artwork import SIDES, depth_inside
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import Block, SpecSheet


@dataclass(frozen=True, kw_only=True)
class FramesAsked(Block):
    forbidden: bool
    minimum_mm: float | None
    width_mm: float | None


def frames_asked(sheet: SpecSheet) -> FramesAsked | None:
    margin = sheet.margin
    if margin is None or (margin.frames != "forbidden" and margin.frame_minimum_mm is None and margin.frame_width_mm is None):
        return None
    return FramesAsked(
        forbidden=margin.frames == "forbidden", minimum_mm=margin.frame_minimum_mm, width_mm=margin.frame_width_mm,
        level=margin.level, note=margin.note,
    )


_Found = tuple[float, int, Frame]
"""How far inside the trim, or how thick; the page; the frame."""


@rule(
    "margin.frame",
    needs=contents_of,
    asks=frames_asked,
    asked_by="margin.frames, margin.frame_minimum, margin.frame_width",
    level="should",
    source="common practice, no source; what frames are taken is the printer's to say",
    measured={"distance_mm": "least distance of the frame from a trim edge, negative beyond it",
              "width_mm": "how thick the frame is", "frames": "how many frames", **LEFT_OUT},
    required={"minimum_mm": "least distance of a frame from the trim", "minimum_width_mm": "least thickness of a frame",
              "frames": "0: none"},
)
def margin_frame(pages: PagesWithContent, asked: FramesAsked) -> Iterator[Outcome]:
    """A frame around the page stands far enough inside, and is thick enough, or there is none.

    Why: the cut wanders by a millimetre or so. A frame near the edge shows it: one side comes out wider than the other.
    Remedy: move the frame inwards, make it thicker, or leave it out.
    Knows: rectangles that are drawn as one line around at least seven tenths of the page's width and height, with the line's
    own thickness. Cutting lines and other finishes are none.
    Cannot know: frames with round corners, frames of four separate lines or of filled areas, and frames in pictures.
    """
    every: list[_Found] = []
    for page, content in pages:
        for frame in printed_frames(page, content):
            every.append((min(depth_inside(frame.box_mm, page.boxes_mm.trim, side) for side in SIDES), page.number, frame))
    if asked.forbidden:
        if every:
            yield _forbidden(every)
        return
    minimum, thick = asked.minimum_mm, asked.width_mm
    if minimum is not None and (near := [one for one in every if one[0] < minimum - SLACK_MM]):
        yield _too_near(near, minimum)
    if thick is not None and (thin := [(one.width_mm, at, one) for _, at, one in every if one.width_mm < thick - SLACK_MM]):
        yield _too_thin(thin, thick)


def printed_frames(page: Page, content: Content) -> Iterator[Frame]:
    """Without cutting lines and other finishes that the sheet names."""
    finishing = set() if isinstance(page.plates, Unmeasured) else set(page.plates.left_out)
    yield from (one for one in content.frames if not one.inks or set(one.inks) - finishing)


def _finding(found: list[_Found], message: str, remedy: str, measured: dict[str, float], required: dict[str, float]) -> Finding:
    return Finding(
        message=message,
        remedy=remedy,
        measured={**measured, "frames": len(found)},
        required=required,
        pages=tuple(sorted({page for _, page, _ in found})),
        places=tuple(Place(page, frame.box_mm) for _, page, frame in found),
    )


def _numbers(found: list[_Found]) -> list[int]:
    return sorted({page for _, page, _ in found})


def _forbidden(found: list[_Found]) -> Finding:
    numbers = _numbers(found)
    message = say_many(
        "Page {pages} has a frame around it; the printer asks for none.",
        "Pages {pages} have a frame around them; the printer asks for none.",
        len(numbers), pages=page_list(numbers),
    )
    return _finding(found, message, say("Leave the frame out: wherever the cut falls, it comes out uneven."), {}, {"frames": 0})


def _too_near(found: list[_Found], minimum_mm: float) -> Finding:
    numbers, least = _numbers(found), min(distance for distance, _, _ in found)
    message = say_many(
        "Page {pages} has a frame {distance} inside the trim; the printer asks for {asked}.",
        "Pages {pages} have a frame {distance} inside the trim; the printer asks for {asked}.",
        len(numbers), pages=page_list(numbers), distance=just_short(max(least, 0.0), minimum_mm), asked=asked_length(minimum_mm),
    )
    remedy = say("Move the frame inwards until {asked} are between it and the trim.", asked=asked_length(minimum_mm))
    return _finding(found, message, remedy, {"distance_mm": round(least, 2)}, {"minimum_mm": minimum_mm})


def _too_thin(found: list[_Found], minimum_mm: float) -> Finding:
    numbers, least = _numbers(found), min(width for width, _, _ in found)
    message = say_many(
        "Page {pages} has a frame only {width} thick; the printer asks for {asked}.",
        "Pages {pages} have a frame only {width} thick; the printer asks for {asked}.",
        len(numbers), pages=page_list(numbers), width=millimetres(least), asked=asked_length(minimum_mm),
    )
    remedy = say("Make the frame at least {asked} thick.", asked=asked_length(minimum_mm))
    return _finding(found, message, remedy, {"width_mm": round(least, 2)}, {"minimum_width_mm": minimum_mm})
