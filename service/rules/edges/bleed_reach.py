"""The rule on what fills the bleed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import asked_length, listed, millimetres, side_named, sides_named, starting_on_pages
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.pdf.facts.plates import Outline, PlateFacts
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.by_edge import DepthsAsked, depths_asked
from service.rules.edges.shown_trim import bleed_in_the_trim
from service.rules.seen import PagesWithPlates, not_measured_on, plates_of
from service.sheets.model import Block, SpecSheet

MEASURED_WITHIN_MM = 0.2
"""How exactly the plates tell where ink ends: a pixel at 100 ppi is 0.25 mm wide, and most ends are known better."""


OUTLINE_WITHIN_MM = 0.3
"""The same of an outline, which may run between pixels at any angle, as far as half a pixel more."""

Depths = tuple[tuple[str, float], ...]
"""Sides with depths in mm."""


@dataclass(frozen=True, kw_only=True)
class ReachAsked(Block):
    depths: DepthsAsked
    bleed_is_judged: bool
    """Whether bleed.declared is on and speaks of a bleed that is too shallow as such."""


def _reach_asked(sheet: SpecSheet) -> ReachAsked | None:
    depths = depths_asked(sheet, sheet.bleed)
    if depths is None:
        return None
    judged = sheet.levels.get("bleed.declared") != "off"
    return ReachAsked(depths=depths, bleed_is_judged=judged, level=depths.level, note=depths.note)


@rule(
    "bleed.reach",
    needs=plates_of,
    asks=_reach_asked,
    asked_by="bleed.minimum; bleed.binding, outer, head and foot for one edge; finishes of the kinds cut and kiss-cut",
    level="must",
    source="common practice, no source; the depth is the printer's",
    measured={"top_mm": "how far beyond the top trim edge the artwork goes, where it stops too early", "right_mm": "likewise at "
              "the right", "bottom_mm": "likewise at the bottom", "left_mm": "likewise at the left", "outline_mm": "likewise "
              "beyond the line of a cut (finishes[].kind)", **LEFT_OUT},
    required={"minimum_mm": "least depth to which artwork that touches the trim edge goes on"},
)
def bleed_reach(pages: PagesWithPlates, asked: ReachAsked) -> Iterator[Outcome]:
    """Artwork that touches a trim edge goes on to the bleed edge, along the whole of it.

    Why: a bleed in the file's settings helps only if there is ink in it. Where the artwork stops at the trim, a white sliver
    shows as soon as the knife is off by a little.
    Remedy: extend the background and pictures to the bleed edge in the layout, and export again with the bleed switched on.
    Knows: from the ink plates, how far ink goes on beyond each trim edge, to 0.2 mm; where paper is white at the edge nothing
    is asked. Where the sheet names a cutting line and it draws another shape than the trim, as of a round sticker, it is the
    edge: ink is followed at a right angle to it, to 0.3 mm; and so around each piece that a line of the kind kiss-cut cuts out of
    the page. Where crop marks or a cut line show that the trim holds some of
    the bleed, it counts. Crop marks and slug are no artwork; a shape that leaves the page at an angle is none that stops.
    Where the page's own bleed is too shallow, bleed.declared says so, and only what stops before that counts here.
    Cannot know: whether white in a photograph is meant, and what the corners of the bleed hold.
    """
    groups: dict[tuple[Depths, float], list[tuple[Page, PlateFacts]]] = {}
    shaped: dict[float, list[tuple[Page, Outline]]] = {}
    doubles = asked.depths.doubles([page for page, _ in pages])
    for page, plates in pages:
        if isinstance(page.bleed_reach_mm, Unmeasured):
            yield not_measured_on((page.number,), page.bleed_reach_mm)
            continue
        for outline in (plates.outline, plates.pieces):
            reach_mm = outline.reach_mm if outline else None
            if outline and reach_mm is not None and reach_mm < asked.depths.edges.minimum_mm - OUTLINE_WITHIN_MM:
                shaped.setdefault(round(reach_mm, 1), []).append((page, outline))
        if plates.outline is not None:
            continue
        depths, within = dict(page.bleed_mm.items()), dict(bleed_in_the_trim(page, asked.depths.size).items())
        short: dict[float, list[tuple[str, float]]] = {}
        for side, reach in page.bleed_reach_mm.items():
            minimum = asked.depths.on(side, page, doubles)
            inner = within[side]
            if reach is not None and _stops(reach + inner, depths[side] + inner, minimum, asked.bleed_is_judged):
                short.setdefault(minimum, []).append((side, round(reach, 1)))
        for minimum, sides in short.items():
            groups.setdefault((tuple(sides), minimum), []).append((page, plates))
    for (sides_short, minimum), alike in groups.items():
        yield _stopping(dict(sides_short), alike, minimum)
    for reach_mm, pages_alike in shaped.items():
        yield _stopping_at_the_outline(reach_mm, pages_alike, asked.depths.edges.minimum_mm)


def _stopping_at_the_outline(reach_mm: float, pages: list[tuple[Page, Outline]], minimum_mm: float) -> Finding:
    numbers, asked = tuple(page.number for page, _ in pages), asked_length(minimum_mm)
    where, beyond = starting_on_pages(numbers), millimetres(reach_mm)
    if reach_mm > 0:
        told = say(
            "{on_pages} the artwork stops {beyond} beyond the cutting line; the printer asks for {asked}.",
            on_pages=where, beyond=beyond, asked=asked,
        )
    else:
        told = say(
            "{on_pages} the artwork stops at the cutting line; the printer asks for {asked} beyond it.",
            on_pages=where, asked=asked,
        )
    return Finding(
        message=told,
        remedy=say(
            "Extend the background and pictures beyond the cutting line by {asked} all around, and export again.", asked=asked
        ),
        measured={"outline_mm": reach_mm},
        required={"minimum_mm": minimum_mm},
        pages=numbers,
        places=tuple(Place(page.number, box) for page, outline in pages for box in outline.stops_mm),
    )


def _stops(reach_mm: float, depth_mm: float, minimum_mm: float, bleed_is_judged: bool) -> bool:
    if reach_mm >= minimum_mm - MEASURED_WITHIN_MM:
        return False
    fills_too_shallow_a_bleed = depth_mm < minimum_mm - SLACK_MM and reach_mm >= depth_mm - MEASURED_WITHIN_MM
    return not (bleed_is_judged and fills_too_shallow_a_bleed)


def _stopping(short: dict[str, float], pages: list[tuple[Page, PlateFacts]], minimum_mm: float) -> Finding:
    numbers = tuple(page.number for page, _ in pages)
    return Finding(
        message=say("{told}; the printer asks for {asked}.", told=_told(short, numbers), asked=asked_length(minimum_mm)),
        remedy=say(
            "Extend the background and pictures to the bleed edge in your layout, and export again with the document's bleed "
            "switched on."
        ),
        measured={f"{side}_mm": one for side, one in short.items()},
        required={"minimum_mm": minimum_mm},
        pages=numbers,
        places=tuple(
            Place(page.number, box)
            for page, plates in pages
            for side in short
            for box in _missing(page, plates, side, minimum_mm)
        ),
    )


def _told(short: dict[str, float], numbers: tuple[int, ...]) -> str:
    """What was found, a clause without its full stop."""
    on_pages, depths = starting_on_pages(numbers), set(short.values())
    if len(depths) > 1:
        sides = listed(f"{side_named(side)} {millimetres(one)}" for side, one in short.items())
        return say("{on_pages} the artwork stops too soon beyond the trim edges ({sides})", on_pages=on_pages, sides=sides)
    depth = depths.pop()
    if len(short) == 4:
        edges = say("every trim edge")
    else:
        edges = say_many("the {sides} trim edge", "the {sides} trim edges", len(short), sides=sides_named(short))
    if not depth:
        return say("{on_pages} the artwork stops at {edges}", on_pages=on_pages, edges=edges)
    beyond = millimetres(depth)
    return say("{on_pages} the artwork stops {beyond} beyond {edges}", on_pages=on_pages, beyond=beyond, edges=edges)


def _missing(page: Page, plates: PlateFacts, side: str, minimum_mm: float) -> Iterator[Box]:
    """Where the ink should go on: from where it ends to the depth that is asked for."""
    trim = page.boxes_mm.trim
    level = side in ("top", "bottom")
    whole = (trim.x0, trim.x1, 0.0) if level else (trim.y0, trim.y1, 0.0)
    stops = [
        (stop.from_mm, stop.to_mm, stop.reach_mm)
        for stop in plates.edge_stops
        if stop.side == side and stop.reach_mm < minimum_mm - MEASURED_WITHIN_MM
    ]
    for start, end, reach in stops or [whole]:
        yield {
            "top": Box(start, trim.y0 - minimum_mm, end, trim.y0 - reach),
            "right": Box(trim.x1 + reach, start, trim.x1 + minimum_mm, end),
            "bottom": Box(start, trim.y1 + reach, end, trim.y1 + minimum_mm),
            "left": Box(trim.x0 - minimum_mm, start, trim.x0 - reach, end),
        }[side]
