"""The rule on a bleed that is deeper than the printer takes."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import asked_length, page_list
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.bleed import sides_with_depths
from service.rules.seen import Pages, pages_of
from service.sheets.model import BleedAsked


@rule(
    "bleed.excess",
    needs=pages_of,
    asks=lambda sheet: sheet.bleed if sheet.bleed and sheet.bleed.maximum_mm is not None else None,
    asked_by="bleed.maximum",
    level="must",
    source="ISO 32000-2:2020, 14.11.2 (BleedBox); the depth is the printer's",
    measured={"top_mm": "bleed beyond the top trim edge, where it is too deep", "right_mm": "likewise at the right",
              "bottom_mm": "likewise at the bottom", "left_mm": "likewise at the left", **LEFT_OUT},
    required={"maximum_mm": "most bleed on any side"},
)
def bleed_excess(pages: Pages, bleed: BleedAsked) -> Iterator[Outcome]:
    """The bleed is no deeper than the printer takes.

    Why: pages that are placed side by side on a sheet run into each other, and automatic imposition refuses them.
    Remedy: set the document's bleed to what the printer asks for and export again.
    Knows: a BleedBox that the page declares. Sheet beyond the trim without one is room for marks, not bleed.
    Cannot know: how far ink reaches inside it, or how close together the printer sets the pages.
    """
    maximum_mm = bleed.maximum_mm or 0.0
    groups: dict[tuple[tuple[str, float], ...], list[Page]] = {}
    for page in pages:
        deep = tuple((side, round(depth, 1)) for side, depth in page.bleed_mm.items() if depth > maximum_mm + SLACK_MM)
        if deep and page.bleed_declared:
            groups.setdefault(deep, []).append(page)
    for deep, members in groups.items():
        numbers, (first, sides) = tuple(page.number for page in members), (members[0], dict(deep))
        yield Finding(
            message=say_many(
                "Page {pages} has more bleed than the printer takes ({sides}); it asks for at most {asked}.",
                "Pages {pages} have more bleed than the printer takes ({sides}); it asks for at most {asked}.",
                len(numbers), pages=page_list(numbers), sides=sides_with_depths(sides), asked=asked_length(maximum_mm),
            ),
            remedy=say(
                "Set the document's bleed to {asked} on every side and export again.",
                asked=asked_length(bleed.minimum_mm or maximum_mm),
            ),
            measured={f"{side}_mm": round(depth, 2) for side, depth in first.bleed_mm.items() if side in sides},
            required={"maximum_mm": maximum_mm},
            pages=numbers,
            places=tuple(Place(page.number, _beyond(page, side, maximum_mm)) for page in members for side in sides),
        )


def _beyond(page: Page, side: str, maximum_mm: float) -> Box:
    """The part of the bleed on one side that is too much."""
    bleed, most = page.boxes_mm.bleed, page.boxes_mm.trim.grown(maximum_mm)
    return {
        "top": bleed._replace(y1=most.y0),
        "right": bleed._replace(x0=most.x1),
        "bottom": bleed._replace(y0=most.y1),
        "left": bleed._replace(x1=most.x0),
    }[side]
