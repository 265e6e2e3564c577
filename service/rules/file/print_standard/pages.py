"""Demands on the pages as such: their boxes, what stands on them beside their content, pre-separated pages."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many, to_say
from service.language.wording import listed, on_pages
from service.pdf.facts.box_names import BoxName
from service.pdf.facts.document import Feature
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Annotation, Page
from service.rules.base import Place, trim_places
from service.rules.file.print_standard.demand import ALL, Breach, Edition, Told, demand
from service.rules.seen import Pages, fact_of, pages_of, part_of_pages

_APPLICATION_NOTES = "the application notes for PDF/X, 2.9, as quoted in public; ISO 32000-2:2020, 14.11.2 (the boxes)"


@demand(
    "trim-box",
    needs=pages_of,
    of=ALL,
    source=_APPLICATION_NOTES,
    subject="each page has exactly one of TrimBox and ArtBox",
    remedy="Export again as PDF/X: the program then writes the trimmed size (TrimBox) of each page.",
)
def trim_box(pages: Pages, _: Edition) -> Iterator[Told]:
    neither: list[Page] = []
    both: list[Page] = []
    for page in pages:
        names = {"trim", "art"} & {one.name for one in page.declared_boxes}
        if len(names) != 1:
            (both if names else neither).append(page)
    if neither:
        numbers = tuple(page.number for page in neither)
        found = say("{on_pages} no TrimBox says where to cut", on_pages=on_pages(numbers))
        yield Breach(found, numbers, trim_places(neither))
    if both:
        numbers = tuple(page.number for page in both)
        found = say("{on_pages} both a TrimBox and an ArtBox say where to cut", on_pages=on_pages(numbers))
        yield Breach(found, numbers, trim_places(both))


_INSIDE: tuple[tuple[BoxName, BoxName], ...] = (
    ("trim", "bleed"),
    ("trim", "crop"),
    ("art", "bleed"),
    ("art", "crop"),
    ("trim", "media"),
    ("art", "media"),
    ("bleed", "media"),
    ("crop", "media"),
)
"""The first lies inside the second where both are declared."""


@demand(
    "box-nesting",
    needs=pages_of,
    of=ALL,
    source=_APPLICATION_NOTES,
    subject="TrimBox and ArtBox lie inside the others, all inside the MediaBox",
    remedy="Set page size and bleed in the layout and export again; do not crop pages or move boxes afterwards.",
)
def box_nesting(pages: Pages, _: Edition) -> Iterator[Told]:
    wrong: dict[tuple[BoxName, BoxName], list[Page]] = {}
    for page in pages:
        for inner, outer in _INSIDE:
            small, large = page.declared(inner), page.declared(outer)
            if small and large and not large.contains(small):
                wrong.setdefault((inner, outer), []).append(page)
    for (inner, outer), members in wrong.items():
        numbers = tuple(page.number for page in members)
        found = say(
            "{on_pages} the {inner} reaches beyond the {outer}",
            on_pages=on_pages(numbers),
            inner=f"{inner.title()}Box",
            outer=f"{outer.title()}Box",
        )
        yield Breach(found, numbers, trim_places(members))


_MAY_STAND_INSIDE = ("TrapNet", "PrinterMark")
"""Annotations made for print. From memory."""


@demand(
    "annotations",
    needs=part_of_pages(lambda page: page.annotations),
    of=ALL,
    subject="comments, links and form fields stand outside the bleed",
    remedy="Delete comments, links and form fields, or switch them off in the export settings, and export again.",
    source="a published table that compares PDF and PDF/X-3 (bvdm, Ifra, Ugra); the exceptions from memory",
)
def annotations_outside(pages: tuple[tuple[Page, tuple[Annotation, ...]], ...], _: Edition) -> Iterator[Told]:
    places: list[Place] = []
    labels: dict[str, None] = {}
    for page, notes in pages:
        area = page.declared("bleed") or page.boxes_mm.trim
        for one in notes:
            if one.subtype not in _MAY_STAND_INSIDE and _overlap(one.box_mm, area):
                places.append(Place(page.number, one.box_mm))
                labels[one.label] = None
    if places:
        numbers = tuple(sorted({place.page for place in places}))
        found = say_many(
            "it has {count} annotation within the bleed {on_pages} ({kinds})",
            "it has {count} annotations within the bleed {on_pages} ({kinds})",
            len(places),
            on_pages=on_pages(numbers),
            kinds=listed(say(label) if label in _LABELS else label for label in labels),
        )
        yield Breach(found, numbers, tuple(places))


_LABELS = frozenset(
    (
        to_say("note"),
        to_say("typed comment"),
        to_say("text mark-up"),
        to_say("drawn comment"),
        to_say("stamp"),
        to_say("comment window"),
        to_say("attached file"),
        to_say("redaction mark"),
        to_say("link"),
        to_say("form field"),
        to_say("watermark"),
        to_say("sound"),
        to_say("video"),
        to_say("3D model"),
        to_say("annotation"),
    )
)
"""What measuring calls them."""


def _overlap(one: Box, other: Box) -> bool:
    """More than a touch."""
    common = one.intersection(other)
    return common is not None and common.width > SLACK_MM and common.height > SLACK_MM


@demand(
    "separated-pages",
    needs=fact_of(lambda document: document.features),
    of=ALL,
    subject="each page carries all of its inks",
    remedy="Export a composite PDF; leave separating to the printer.",
    source="ISO 32000-2:2020, 14.11.4; the demand from memory",
)
def separated_pages(features: tuple[Feature, ...], _: Edition) -> Iterator[Told]:
    for one in features:
        if one.kind == "separated page":
            found = say("{on_pages} only one ink of a page stands by itself (pre-separated)", on_pages=on_pages(one.pages))
            yield Breach(found, one.pages)
