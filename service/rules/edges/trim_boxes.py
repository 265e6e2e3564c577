"""The rule on the page boxes: one inside the other."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import millimetres, pages_phrase
from service.pdf.facts.box_names import BoxName
from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.seen import Pages, pages_of
from service.sheets.model import SpecSheet

_NESTING: tuple[tuple[BoxName, BoxName], ...] = (
    ("crop", "media"),
    ("bleed", "media"),
    ("trim", "media"), ("trim", "crop"), ("trim", "bleed"),
    ("art", "media"), ("art", "crop"), ("art", "bleed"),
)
"""Which box lies inside which, where both are declared: ISO 32000-2:2020, 14.11.2.1 (all inside the MediaBox), ISO 15930
(Trim and Art inside the BleedBox and the CropBox)."""


@rule(
    "trim.boxes",
    needs=pages_of,
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 14.11.2; ISO 15930 (the boxes of PDF/X)",
    measured={"box": "media, crop, bleed, trim or art", "problem": "empty, off the sheet, or outside another box",
              "excess_mm": "how far it goes beyond, at the widest", **LEFT_OUT},
    required={"inside": "the box that it must lie in"},
)
def trim_boxes(pages: Pages, _: SpecSheet) -> Iterator[Outcome]:
    """The page boxes lie one inside the other: trim in bleed, bleed in the sheet.

    Why: boxes that contradict each other are read differently by every program, and the cut may land anywhere.
    Remedy: export again from the layout program; do not change boxes by hand.
    Knows: the boxes as the page declares them. A CropBox that is larger than the sheet is an observation: it is only what a
    program shows, and is cut to the sheet (14.11.2.1), so that nothing is printed otherwise.
    Cannot know: which of two contradicting boxes is the one that was meant. That a page of a PDF/X file has just one of
    TrimBox and
    ArtBox is for the rule on the standard.
    """
    groups: dict[tuple[BoxName, str, BoxName], list[tuple[Page, Box, float]]] = {}
    for page in pages:
        for name, problem, inside, box, excess in _box_faults(page):
            groups.setdefault((name, problem, inside), []).append((page, box, excess))
    for (name, problem, inside), items in groups.items():
        numbers, excess = tuple(page.number for page, _, _ in items), max(one for _, _, one in items)
        yield Finding(
            message=_box_told(pages_phrase(numbers), problem, _box_name(name), _box_name(inside), excess),
            remedy=say(
                "Export again from your layout program with a print preset; do not set or move page boxes by hand afterwards."
            ),
            measured={"box": name, "problem": problem, "excess_mm": round(excess, 2)},
            required={"inside": inside},
            pages=numbers,
            places=tuple(
                Place(page.number, box if problem == "outside another box" else page.boxes_mm.trim) for page, box, _ in items
            ),
            level="should" if (name, problem) == ("crop", "outside another box") else None,
        )


def _box_told(pages: str, problem: str, box: str, inside: str, excess_mm: float) -> str:
    if problem == "empty":
        return say("{pages}: the {box} is empty; it must lie inside the {inside}.", pages=pages, box=box, inside=inside)
    if problem == "off the sheet":
        return say(
            "{pages}: the {box} lies off the sheet (the MediaBox); it must lie inside the {inside}.",
            pages=pages,
            box=box,
            inside=inside,
        )
    return say(
        "{pages}: the {box} goes {excess} beyond the {inside}; it must lie inside the {inside}.",
        pages=pages,
        box=box,
        excess=millimetres(excess_mm),
        inside=inside,
    )


def _box_faults(page: Page) -> Iterator[tuple[BoxName, str, BoxName, Box, float]]:
    """Box, problem, the box it should lie in, its rectangle, how far it sticks out. One fault a box: the gravest."""
    boxes: dict[BoxName, Box] = {"media": page.boxes_mm.media}
    boxes.update((one.name, one.box) for one in page.declared_boxes)
    sound: set[BoxName] = set()
    for name, box in boxes.items():
        if min(box.width, box.height) <= 0:
            yield name, "empty", "media", box, 0.0
        elif not _overlap(box, boxes["media"]):
            yield name, "off the sheet", "media", box, 0.0
        else:
            sound.add(name)
    told: set[BoxName] = set()
    for inner, outer in _NESTING:
        if {inner, outer} <= sound and inner not in told and not boxes[outer].contains(boxes[inner]):
            told.add(inner)
            yield inner, "outside another box", outer, boxes[inner], _excess(boxes[inner], boxes[outer])


def _box_name(name: str) -> str:
    """'trim' → 'TrimBox', as ISO 32000 writes it."""
    return f"{name.capitalize()}Box"


def _overlap(one: Box, other: Box) -> bool:
    shared = one.intersection(other)
    return shared is not None and shared.area > 0


def _excess(inner: Box, outer: Box) -> float:
    return max(outer.x0 - inner.x0, outer.y0 - inner.y0, inner.x1 - outer.x1, inner.y1 - outer.y1)
