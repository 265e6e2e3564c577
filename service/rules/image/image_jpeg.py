"""The rule on pictures that are stored as JPEG."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings
from service.sheets.model import ImagesAsked


@rule(
    "image.jpeg",
    needs=contents_of,
    asks=lambda sheet: sheet.images if sheet.images and sheet.images.jpeg == "forbidden" else None,
    asked_by="images.jpeg",
    level="must",
    source="ISO 32000-2:2020, 7.4.8 (DCTDecode); whether JPEG is taken is the printer's to say",
    measured={"pictures": "how many pictures are stored as JPEG", **LEFT_OUT},
    required={"jpeg": "false: pictures are stored without loss"},
)
def image_jpeg(pages: PagesWithContent, _: ImagesAsked) -> Iterator[Outcome]:
    """No picture is stored as JPEG.

    Why: each time that a picture is saved as JPEG it loses some of its detail, first along hard edges.
    Remedy: export with compression without loss (ZIP).
    Knows: how each picture that leaves ink is stored.
    Cannot know: whether the picture was a JPEG before it came into the layout.
    """
    found = Sightings()
    for page, content in pages:
        boxes = [one.visible_box_mm for one in content.images if one.filter == "DCTDecode"]
        if boxes:
            found.add(page, boxes, len(boxes))
    if found.pages:
        yield Finding(
            message=say_many(
                "Page {pages} has pictures that are stored as JPEG; the printer asks for compression without loss.",
                "Pages {pages} have pictures that are stored as JPEG; the printer asks for compression without loss.",
                len(found.pages),
                pages=page_list(found.pages),
            ),
            remedy=say("Export again with ZIP compression for pictures instead of JPEG."),
            measured={"pictures": found.count},
            required={"jpeg": False},
            pages=found.pages,
            places=tuple(found.places),
        )
