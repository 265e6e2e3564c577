"""The rule on text in the safety margin along the trim."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from service.language.spoken import say
from service.language.wording import asked_length, just_short, millimetres, on_pages, on_which, quoted, side_named
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.by_edge import DepthsAsked, depths_asked
from service.rules.edges.short_artwork import SIDES, depth_inside
from service.rules.seen import PagesWithContent, contents_of, not_measured_on
from service.sheets.model import SpecSheet

MOST_TEXTS = 20
"""How many different texts one finding quotes."""


def margin_asked(sheet: SpecSheet) -> DepthsAsked | None:
    return depths_asked(sheet, sheet.margin, sheet.margin.preferred_mm if sheet.margin else None)


@rule(
    "margin.text",
    needs=contents_of,
    asks=margin_asked,
    asked_by="margin.minimum, margin.preferred; margin.binding, outer, head and foot for one edge; margin.by_pages; "
    "margin.live_area",
    level="must",
    source="common practice, no source; the safety margin is the printer's",
    measured={"distance_mm": "least distance from a trim edge, negative where the cut goes through", "side": "of that edge",
              "texts": "the texts, the first ones", "runs": "how many pieces of text", **LEFT_OUT},
    required={"minimum_mm": "least distance of text from the trim edge", "preferred_mm": "distance that the printer prefers"},
)
def margin_text(pages: PagesWithContent, asked: DepthsAsked) -> Iterator[Outcome]:
    """Text keeps out of the safety margin along the trim.

    Why: the cut wanders by a millimetre or so; text at the edge looks off centre, or loses letters.
    Remedy: move the text inwards, or make the text frame smaller.
    Knows: the outlines of the glyphs of every visible text, which may end well inside its type box, or swing out of it. Blanks
    do not count. Text wholly outside the trim is slug and is left out.
    Cannot know: text turned to outlines or pictures (margin.artwork may see it), or large letters that are cut on purpose.
    """
    asked = asked.of_so_many([page for page, _ in pages])
    doubles = asked.doubles([page for page, _ in pages])
    groups: dict[_Fault, list[_TooNear]] = {}
    for page, content in pages:
        unknown, zones = None, [{side: asked.on(side, page, doubles) for side in SIDES}]
        if asked.preferred_mm is not None:
            zones.append({side: asked.preferred_on(side, page, doubles) for side in SIDES})
        clear = _clear_of(page.boxes_mm.trim, zones)
        for run in seen_text(page, [run for run in content.text_runs if not clear.contains(ink_of(run), slack=0)]):
            found = _fault_of(run, page, zones)
            if found and isinstance(run.ink_mm, Unmeasured):
                unknown = run.ink_mm
            elif found:
                groups.setdefault(found[0], []).append(found[1])
        if unknown:
            yield not_measured_on((page.number,), unknown)
    for fault in ("cut", "near", "wish"):
        if fault in groups:
            yield _text_at_the_edge(fault, groups[fault], asked)


_Fault = Literal["cut", "near", "wish"]
"""`wish`: the zone that the printer prefers alone is broken."""


class _TooNear(NamedTuple):
    page: int
    run: TextRun
    side: str
    distance_mm: float
    asked_mm: float


def _fault_of(run: TextRun, page: Page, zones: Sequence[Mapping[str, float]]) -> tuple[_Fault, _TooNear] | None:
    """On the side where the text lacks most of the zone; None where it keeps out of it. `zones`: asked, and preferred."""
    trim, ink = page.boxes_mm.trim, ink_of(run)
    for at, zone in enumerate(zones):
        lack, side = min((depth_inside(ink, trim, side) - zone[side], side) for side in SIDES)
        if lack < -SLACK_MM:
            distance = lack + zone[side]
            fault: _Fault = "wish" if at else "cut" if distance < -SLACK_MM else "near"
            return fault, _TooNear(page.number, run, side, distance, zone[side])
    return None


def _clear_of(trim: Box, zones: Sequence[Mapping[str, float]]) -> Box:
    """What keeps within is too near to no edge: most text of most pages."""
    top, right, bottom, left = (max(zone[side] for zone in zones) for side in SIDES)
    return Box(trim.x0 + left, trim.y0 + top, trim.x1 - right, trim.y1 - bottom)


def seen_text(page: Page, runs: Iterable[TextRun]) -> Iterator[TextRun]:
    """Of these the text on the trimmed page that a reader of the print sees."""
    for run in runs:
        inked = run.ink_mm is not None and bool(run.text.strip()) and (run.on_ink or not run.white)
        if run.visible and inked and stands_in(ink_of(run), page.boxes_mm.trim):
            yield run


def ink_of(run: TextRun) -> Box:
    """Where its ink ends; where that is not known its type box, which may raise a suspicion and must not accuse."""
    return run.ink_mm if isinstance(run.ink_mm, Box) else run.box_mm


def stands_in(box: Box, area: Box) -> bool:
    """Whether it reaches into the area by more than the slack; a hairline has no width and counts too."""
    inner = area.grown(-SLACK_MM)
    return box.x0 < inner.x1 and inner.x0 < box.x1 and box.y0 < inner.y1 and inner.y0 < box.y1


def _text_at_the_edge(fault: _Fault, items: list[_TooNear], wanted: DepthsAsked) -> Finding:
    pages = tuple(sorted({one.page for one in items}))
    worst = min(items, key=lambda one: one.distance_mm - one.asked_mm)
    asked = asked_length(worst.asked_mm)
    return Finding(
        message=_text_told(fault, pages, worst, wanted),
        remedy=say("Move the text away from the edge until {asked} stay free, or set it smaller.", asked=asked),
        measured={
            "distance_mm": round(worst.distance_mm, 2),
            "side": worst.side,
            "runs": len(items),
            "texts": texts(one.run for one in items),
        },
        required={"preferred_mm" if fault == "wish" else "minimum_mm": worst.asked_mm},
        pages=pages,
        places=tuple(Place(one.page, ink_of(one.run)) for one in items),
        preferred=fault == "wish",
    )


def _text_told(fault: _Fault, pages: tuple[int, ...], worst: _TooNear, wanted: DepthsAsked) -> str:
    words, asked = on_which(quoted(worst.run.text), worst.page, pages), asked_length(worst.asked_mm)
    there, side = on_pages(pages), side_named(worst.side)
    distance = just_short(worst.distance_mm, worst.asked_mm) if fault == "wish" else millimetres(-worst.distance_mm)
    if fault == "wish":
        return say(
            "Text {on_pages} stands near the trim: {words} is {distance} from the {side} edge; the printer would rather have "
            "{asked}.",
            on_pages=there, words=words, distance=distance, side=side, asked=asked,
        )
    if wanted.preferred_mm is not None and wanted.preferred_mm > worst.asked_mm:
        asked = say("{asked} (better {wished})", asked=asked, wished=asked_length(wanted.preferred_mm))
    if fault == "cut":
        return say(
            "The cut goes through text {on_pages}: {words} runs {distance} beyond the {side} trim edge; the printer asks for "
            "{asked} between text and every trim edge.",
            on_pages=there, words=words, distance=distance, side=side, asked=asked,
        )
    distance = just_short(max(worst.distance_mm, 0), worst.asked_mm)
    if wanted.by_edge:
        return say(
            "Text {on_pages} stands too near the trim: {words} is {distance} from the {side} edge; the printer asks for {asked} "
            "there.",
            on_pages=there, words=words, distance=distance, side=side, asked=asked,
        )
    return say(
        "Text {on_pages} stands too near the trim: {words} is {distance} from the {side} edge; the printer asks for {asked} "
        "between text and every trim edge.",
        on_pages=there, words=words, distance=distance, side=side, asked=asked,
    )


def texts(runs: Iterator[TextRun]) -> list[str]:
    """What the runs say, each once, the first ones."""
    return list(dict.fromkeys(" ".join(run.text.split())[:200] for run in runs))[:MOST_TEXTS]
