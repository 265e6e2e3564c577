"""The rule on previews for a client."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import number, on_pages, page_list, ppi_under
from service.pdf.facts.painted.images import Image
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.marks import FEWEST_CORNERS, marks_at_corners
from service.rules.image.image import PPI_SLACK, is_contone, is_judged
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import SpecSheet

LEGIBLE_PPI = 72.0
"""What a screen shows of a picture at the size of the page, where the sheet has no minimum. Common practice, no source."""


@rule(
    "preview.legible",
    needs=contents_of,
    asks=lambda sheet: sheet if sheet.purpose == "client-preview" else None,
    asked_by="purpose: client-preview; images.contone_ppi.minimum says how fine",
    level="should",
    source="common practice, no source",
    measured={"ppi": "lowest resolution at the page's size", "images": "how many pictures are too coarse",
              "marked_pages": "how many pages carry crop marks", **LEFT_OUT},
    required={"minimum_ppi": "least resolution at the page's size", "crop_marks": "forbidden"},
)
def preview_legible(pages: PagesWithContent, sheet: SpecSheet) -> Iterator[Outcome]:
    """A preview shows the client the product: pictures that can be recognised, and no printer's marks.

    Why: a client cannot approve what he cannot make out, and takes marks and bleed for part of the design.
    Remedy: export the preview at screen resolution and no lower, without marks and bleed.
    Knows: pixels over the length on the page, and crop marks at the corners of the trim. Where the sheet has a minimum of its
    own, image.resolution tells of the pictures under it, and this rule of the marks alone.
    Cannot know: how large the client's screen shows the page, or whether the words can be read there.
    """
    minimum = sheet.images.contone.minimum_ppi if sheet.images and sheet.images.contone else None
    limit = minimum if minimum is not None else LEGIBLE_PPI
    told_already = minimum is not None and sheet.levels.get("image.resolution") != "off"
    coarse: list[tuple[int, Image]] = []
    marked: list[tuple[int, Place]] = []
    for page, content in pages:
        coarse += [
            (page.number, one)
            for one in content.images
            if not told_already and is_contone(one) and is_judged(one) and one.ppi < limit * (1 - PPI_SLACK)
        ]
        corners = marks_at_corners(page, content.mark_lines)
        if len(corners) >= FEWEST_CORNERS:
            marked += [(page.number, Place(page.number, mark.box_mm)) for marks in corners.values() for mark in marks]
    if coarse:
        yield _too_coarse(coarse, limit)
    if marked:
        numbers = tuple(sorted({page for page, _ in marked}))
        yield Finding(
            message=say_many(
                "Page {pages} shows crop marks, which mean nothing to the client.",
                "Pages {pages} show crop marks, which mean nothing to the client.",
                len(numbers),
                pages=page_list(numbers),
            ),
            remedy=say("Export the preview without marks and bleed."),
            measured={"marked_pages": len(numbers)},
            required={"crop_marks": "forbidden"},
            pages=numbers,
            places=tuple(place for _, place in marked),
        )


def _too_coarse(coarse: list[tuple[int, Image]], limit: float) -> Finding:
    pages, lowest = tuple(sorted({page for page, _ in coarse})), min(image.ppi for _, image in coarse)
    return Finding(
        message=say_many(
            "{count} picture {on_pages} has {lowest}: too coarse to be recognised; a preview needs {limit} ppi.",
            "{count} pictures {on_pages} have as little as {lowest}: too coarse to be recognised; a preview needs {limit} ppi.",
            len(coarse),
            on_pages=on_pages(pages),
            lowest=ppi_under(lowest, limit),
            limit=number(limit, 0),
        ),
        remedy=say(
            "Export the preview with pictures of at least {limit} ppi; a little more resolution costs little.",
            limit=number(limit, 0),
        ),
        measured={"ppi": round(lowest, 1), "images": len(coarse)},
        required={"minimum_ppi": limit},
        pages=pages,
        places=tuple(Place(page, image.visible_box_mm) for page, image in coarse),
    )
