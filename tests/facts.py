"""Records of facts by hand: what a test does not name has a usual value, so that a new fact touches this table and no test."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, TypeVar

from service.pdf.facts.colors import ColorUse
from service.pdf.facts.content import Content
from service.pdf.facts.document import Document, Encryption, Identification, MetadataStream, OutputIntent
from service.pdf.facts.images import Image
from service.pdf.facts.page import Page
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.text import FontUse, TextRun
from service.pdf.facts.unknown import NOT_LOOKED_AT, Unmeasured
from service.pdf.facts.vectors import Artwork, LineUse

Record = TypeVar("Record")


def fact(record: type[Record], *first: Any, **named: Any) -> Record:
    """`first` are the values of its first fields, in their order."""
    names = [one.name for one in fields(record)]  # type: ignore[arg-type]
    return record(**{**USUAL.get(record, {}), **dict(zip(names, first, strict=False)), **named})


UNNAMED = Identification(None, None, None, None, None, None, has_file_id=True, metadata=None)
"""A file that claims no standard."""

USUAL: dict[type, dict[str, Any]] = {
    Document: {
        "size_bytes": 18_233, "failure": None, "page_count": 1, "version": "1.6",
        "encryption": Encryption(encrypted=False, printing_allowed=True), "damage": (), "cut_off": False, "title": None,
        "creator": None, "producer": None, "identification": UNNAMED, "output_intents": (), "profiles": (), "layers": None,
        "features": (), "active_content": (), "linearization": None,
    },
    MetadataStream: {
        "damage": None, "filtered": False, "pdfx_version": None, "title": None, "create_date": None, "modify_date": None,
        "metadata_date": None, "document_id": None, "version_id": None, "rendition_class": None, "trapped": None,
    },
    OutputIntent: {"profile_outside": False},
    Page: {"annotations": (), "crop_marks_mm": NOT_LOOKED_AT, "plates": Unmeasured("Ink plates were not made.")},
    Content: {
        "images": (), "colors": (), "fonts": (), "text_runs": (), "lines": (), "overprints": (), "transparency": (), "hidden": (),
        "spots": (), "artwork": (), "mark_lines": (), "stand_ins": (),
    },
    ColorUse: {"inks": (), "count": 1, "beyond_bleed": False, "profile": None},
    Image: {"jpeg_quality": None, "inline": False, "stored_bytes": NOT_LOOKED_AT},
    FontUse: {"damage": None},
    TextRun: {"tint": 1.0, "white": False, "on_ink": False, "overprints": False, "black_tint": 0.0},
    LineUse: {"beyond_trim": False},
    Artwork: {"count": 1},
    PlateFacts: {"ink_map": Unmeasured("Where ink lies on the page was not looked at."), "finishing": ()},
}  # fmt: skip
