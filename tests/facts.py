"""Records of facts by hand: what a test does not name has a usual value, so that a new fact touches no test.

The usual value is that of the table, else the one of the field's type that says nothing: False, (), None, not looked at.
"""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from service.pdf.facts.document import Document, Encryption, Identification
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.painted.vectors import Artwork
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import NOT_LOOKED_AT, Unmeasured

Record = TypeVar("Record")


def fact(record: type[Record], *first: Any, **named: Any) -> Record:
    """`first` are the values of its first fields, in their order."""
    names = [one.name for one in fields(record)]  # type: ignore[arg-type]
    return record(**{**_silent(record), **USUAL.get(record, {}), **dict(zip(names, first, strict=False)), **named})


SILENT: dict[type, Any] = {NoneType: None, Unmeasured: NOT_LOOKED_AT, tuple: (), bool: False}


@cache
def _silent(record: type) -> dict[str, Any]:
    """For every field that can say nothing, the value that does."""
    kinds = {name: {get_origin(one) or one for one in _alternatives(hint)} for name, hint in get_type_hints(record).items()}
    return {
        name: next(SILENT[one] for one in SILENT if one in may_be) for name, may_be in kinds.items() if may_be & SILENT.keys()
    }


def _alternatives(hint: Any) -> tuple[Any, ...]:
    return get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)


UNNAMED = Identification(None, None, None, None, None, None, has_file_id=True, metadata=None)
"""A file that claims no standard."""

USUAL: dict[type, dict[str, Any]] = {
    Document: {
        "size_bytes": 18_233,
        "page_count": 1,
        "version": "1.6",
        "encryption": Encryption(encrypted=False, printing_allowed=True),
        "identification": UNNAMED,
        "output_intents": (),
        "profiles": (),
        "features": (),
        "active_content": (),
    },
    Page: {"annotations": (), "crop_marks_mm": NOT_LOOKED_AT, "plates": Unmeasured("Separations were not made.")},
    Content: {"artwork": ()},
    ColorUse: {"count": 1},
    TextRun: {"tint": 1.0, "black_tint": 0.0},
    Artwork: {"count": 1},
    PlateFacts: {"ink_map": Unmeasured("Where ink lies on the page was not looked at.")},
}
