"""Demands on the pages as such: their boxes, what stands on them beside their content, pre-separated pages."""

from __future__ import annotations

from collections.abc import Iterator

from service.pdf.geometry import SLACK_MM, Box
from service.pdf.measurements import BoxName, Measurements, Page, Unmeasured
from service.rules.base import NotMeasured, Place, pages_of, trim_places
from service.rules.print_standard.demand import ALL, Breach, Edition, Seen, demand
from service.rules.wording import counted, listed, page_list

_APPLICATION_NOTES = "the application notes for PDF/X, 2.9, as quoted in public; ISO 32000-2:2020, 14.11.2 (the boxes)"


def pages_named(numbers: tuple[int, ...]) -> str:
    """'on page 2' or 'on pages 2 and 4'."""
    return f"on {'page' if len(numbers) == 1 else 'pages'} {page_list(numbers)}"


@demand(
    "trim-box", of=ALL, source=_APPLICATION_NOTES, subject="each page has exactly one of TrimBox and ArtBox",
    remedy="Export again as PDF/X: the program then writes the trimmed size (TrimBox) of each page.",
)  # fmt: skip
def trim_box(file: Measurements, _: Edition) -> Iterator[Seen]:
    neither: list[Page] = []
    both: list[Page] = []
    for page in pages_of(file):
        if isinstance(page, NotMeasured):
            yield page
            return
        names = {"trim", "art"} & {one.name for one in page.declared_boxes}
        if len(names) != 1:
            (both if names else neither).append(page)
    for pages, what in ((neither, "no TrimBox says where to cut"), (both, "both a TrimBox and an ArtBox say where to cut")):
        if pages:
            numbers = tuple(page.number for page in pages)
            yield Breach(f"{pages_named(numbers)} {what}", numbers, trim_places(pages))


_INSIDE: tuple[tuple[BoxName, BoxName], ...] = (
    ("trim", "bleed"), ("trim", "crop"), ("art", "bleed"), ("art", "crop"),
    ("trim", "media"), ("art", "media"), ("bleed", "media"), ("crop", "media"),
)  # fmt: skip
"""The first lies inside the second where both are declared."""


@demand(
    "box-nesting", of=ALL, source=_APPLICATION_NOTES, subject="TrimBox and ArtBox lie inside the others, all inside the MediaBox",
    remedy="Set page size and bleed in the layout and export again; do not crop pages or move boxes afterwards.",
)  # fmt: skip
def box_nesting(file: Measurements, _: Edition) -> Iterator[Seen]:
    wrong: dict[tuple[BoxName, BoxName], list[Page]] = {}
    for page in pages_of(file):
        if isinstance(page, NotMeasured):
            return  # told by trim-box
        for inner, outer in _INSIDE:
            small, large = page.declared(inner), page.declared(outer)
            if small and large and not large.contains(small):
                wrong.setdefault((inner, outer), []).append(page)
    for (inner, outer), pages in wrong.items():
        numbers = tuple(page.number for page in pages)
        found = f"{pages_named(numbers)} the {inner.title()}Box reaches beyond the {outer.title()}Box"
        yield Breach(found, numbers, trim_places(pages))


_MAY_STAND_INSIDE = ("TrapNet", "PrinterMark")
"""Annotations made for print. From memory."""


@demand(
    "annotations", of=ALL, subject="comments, links and form fields stand outside the bleed",
    remedy="Delete comments, links and form fields, or switch them off in the export settings, and export again.",
    source="a published table that compares PDF and PDF/X-3 (bvdm, Ifra, Ugra); the exceptions from memory",
)  # fmt: skip
def annotations_outside(file: Measurements, _: Edition) -> Iterator[Seen]:
    places: list[Place] = []
    labels: dict[str, None] = {}
    for page in pages_of(file):
        if isinstance(page, NotMeasured):
            return  # told by trim-box
        if isinstance(page.annotations, Unmeasured):
            yield NotMeasured(f"Page {page.number}: {page.annotations.why}")
            continue
        area = page.declared("bleed") or page.boxes_mm.trim
        for one in page.annotations:
            if one.subtype not in _MAY_STAND_INSIDE and _overlap(one.box_mm, area):
                places.append(Place(page.number, one.box_mm))
                labels[one.label] = None
    if places:
        numbers = tuple(sorted({place.page for place in places}))
        found = f"it has {counted(len(places), 'annotation')} within the bleed {pages_named(numbers)} ({listed(labels)})"
        yield Breach(found, numbers, tuple(places))


def _overlap(one: Box, other: Box) -> bool:
    """More than a touch."""
    common = one.intersection(other)
    return common is not None and common.width > SLACK_MM and common.height > SLACK_MM


@demand(
    "separated-pages", of=ALL, subject="each page carries all of its inks",
    remedy="Export a composite PDF; leave separating to the printer.", source="ISO 32000-2:2020, 14.11.4; the demand from memory",
)  # fmt: skip
def separated_pages(file: Measurements, _: Edition) -> Iterator[Seen]:
    features = file.document.features
    for one in () if isinstance(features, Unmeasured) else features:
        if one.kind == "separated page":
            yield Breach(f"{pages_named(one.pages)} only one ink of a page stands by itself (pre-separated)", one.pages)
