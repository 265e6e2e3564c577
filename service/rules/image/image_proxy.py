"""The rule on stand-ins for pictures that are not in the file."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import number, on_pages, page_list
from service.pdf.facts.document import Document
from service.pdf.facts.painted.images import Image
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.file.file import damage_first
from service.rules.image.image import PPI_SLACK, Found, asks_pixels, is_contone, is_judged, pages_with, places_of
from service.rules.seen import PagesWithContent, both, contents_of, document_of
from service.sheets.model import SpecSheet

PROXY_PPI, PROXY_PX = 100.0, 320
"""A picture of at most so many pixels either way, blown up below so many ppi, is likely a stand-in. Common practice, no
source."""


@rule(
    "image.proxy",
    needs=both(contents_of, document_of),
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 14.11.7 (OPI, deprecated) and 8.8 (XObjects); small pictures: common practice, no source",
    measured={"kind": "missing object, OPI or small picture", "objects": "how many",
              "ppi": "lowest resolution of the small pictures", **LEFT_OUT},
    required={"kind": "the picture itself"},
)
def image_proxy(seen: tuple[PagesWithContent, Document], sheet: SpecSheet) -> Iterator[Outcome]:
    """Every picture is in the file itself, not a low-resolution placeholder.

    Why: what the layout only pointed at does not travel with the PDF: it prints coarse, or as a hole.
    Remedy: relink missing pictures in the layout (its list of links shows them) and export with full-resolution pictures.
    Knows: objects that the page calls for and the file lacks, references to pictures elsewhere (OPI), and where a
    print sheet asks for no resolution, very small pictures that are blown up: only an observation.
    Cannot know: a stand-in of good resolution, or a small picture that is meant to be small.
    """
    pages, document = seen
    found: dict[str, list[Place]] = {}
    small: Found = []
    resolution_is_judged = sheet.purpose != "print" or (sheet.images is not None and asks_pixels(sheet.images.contone))
    for page, content in pages:
        for stand_in in content.stand_ins:
            found.setdefault(stand_in.kind, []).append(Place(page.number, stand_in.box_mm))
        if not resolution_is_judged:
            small += [(page.number, image) for image in content.images if _is_small_and_blown_up(image)]
    for kind, places in found.items():
        numbers = tuple(sorted({place.page for place in places}))
        yield Finding(
            message=_stands_in(kind, numbers, len(places)),
            remedy=damage_first(document)
            + say("Find the missing links in the layout, relink them, and export with pictures at full resolution."),
            measured={"kind": kind, "objects": len(places)},
            required={"kind": "the picture itself"},
            pages=numbers,
            places=tuple(places),
        )
    if small:
        yield _blown_up(small)


def _stands_in(kind: str, pages: tuple[int, ...], places: int) -> str:
    outcome = say_many("{count} place would print coarse or empty", "{count} places would print coarse or empty", places)
    if kind == "OPI":
        return say_many(
            "Page {pages} holds a reference to a picture elsewhere (OPI): {outcome}.",
            "Pages {pages} hold references to pictures elsewhere (OPI): {outcome}.",
            len(pages),
            pages=page_list(pages),
            outcome=outcome,
        )
    return say_many(
        "Page {pages} calls for an object that is not in the file: {outcome}.",
        "Pages {pages} call for objects that are not in the file: {outcome}.",
        len(pages),
        pages=page_list(pages),
        outcome=outcome,
    )


def _is_small_and_blown_up(image: Image) -> bool:
    few = max(image.width_px, image.height_px) <= PROXY_PX
    return is_contone(image) and is_judged(image) and few and image.ppi < PROXY_PPI * (1 - PPI_SLACK)


def _blown_up(small: Found) -> Finding:
    lowest = min(image.ppi for _, image in small)
    return Finding(
        message=say_many(
            "{count} small picture {on_pages} has been blown up to as little as {ppi} ppi: is it a low-resolution "
            "placeholder (FPO)?",
            "{count} small pictures {on_pages} have been blown up to as little as {ppi} ppi: is it a low-resolution "
            "placeholder (FPO)?",
            len(small),
            on_pages=on_pages(pages_with(small)),
            ppi=number(lowest, 0),
        ),
        remedy=say("Look at the layout's list of links; relink what is missing or only previewed, and export again."),
        measured={"kind": "small picture", "objects": len(small), "ppi": round(lowest, 1)},
        required={"kind": "the picture itself"},
        pages=pages_with(small),
        places=places_of(small),
        level="should",
    )
