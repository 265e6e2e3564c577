"""Annotations of a page: what stands on it beside its content, and whether that prints (ISO 32000-2:2020, 12.5).

* Flags decide what prints and what shows: Hidden, Print, NoView (12.5.3, Table 167). A layer may hide it besides (8.11.3.3).
* A pop-up window belongs to its comment and never prints (12.5.6.14).
* One without a usable Rect stands nowhere on the page and is left out.

What an appearance paints is followed by the walk; here only its presence is told. What a click does is not looked at.
"""

from __future__ import annotations

import pikepdf

from service.language.spoken import to_say
from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Matrix
from service.pdf.facts.page import Annotation
from service.pdf.facts.unknown import Unmeasured, beyond_limits, unmeasured
from service.pdf.reading.arrays import box_of
from service.pdf.reading.names import name_text
from service.pdf.reading.reading_errors import READING_ERRORS

MOST_ANNOTATIONS = 10_000
"""A page with more is no page for print. Ours, no source."""

MOST_OF_FILE = 20_000
"""A file with more lists those of pages that have no more than their share: pages may have one list together, so that a small
file holds millions. Ours, no source."""

_HIDDEN, _PRINT, _NO_VIEW = 1 << 1, 1 << 2, 1 << 5

LABELS = {
    "Text": "note", "FreeText": "typed comment", "Highlight": "text mark-up", "Underline": "text mark-up",
    "Squiggly": "text mark-up", "StrikeOut": "text mark-up", "Caret": "text mark-up", "Line": "drawn comment",
    "Square": "drawn comment", "Circle": "drawn comment", "Polygon": "drawn comment", "PolyLine": "drawn comment",
    "Ink": "drawn comment", "Stamp": "stamp", "Popup": "comment window", "FileAttachment": "attached file",
    "Redact": "redaction mark", "Link": "link", "Widget": "form field", "Watermark": "watermark",
    "Sound": "sound", "Movie": "video", "Screen": "video", "RichMedia": "video", "3D": "3D model",
    "PrinterMark": "printer's mark", "TrapNet": "trap network",
}
"""Subtype (Table 171) → what a designer calls it."""


def annotations_of(page: pikepdf.Dictionary, to_mm: Matrix, shared: Shared | Unmeasured) -> tuple[Annotation, ...] | Unmeasured:
    """All of them, in the order of the file; `to_mm` leads from default user space to ruler mm."""
    try:
        listed = page.get("/Annots")
        if not isinstance(listed, pikepdf.Array):
            return ()
        if len(listed) > MOST_ANNOTATIONS:
            return unmeasured("The page has more than {count} annotations: they are not listed.", count=MOST_ANNOTATIONS)
        if isinstance(shared, Unmeasured):
            return shared
        in_file, pages = shared.annotations_on_pages
        if in_file > MOST_OF_FILE and len(listed) > MOST_OF_FILE // pages:
            return beyond_limits("The file has more than {count} annotations: this page's are not listed.", count=MOST_OF_FILE)
        described = (_described(one, to_mm, shared) for one in listed if isinstance(one, pikepdf.Dictionary))
        return tuple(one for one in described if one)
    except READING_ERRORS:
        return Unmeasured("The page's list of annotations is damaged.")


def _described(annotation: pikepdf.Dictionary, to_mm: Matrix, shared: Shared) -> Annotation | None:
    rectangle = box_of(annotation.get("/Rect"))
    if rectangle is None:
        return None
    written, layer = annotation.get("/F"), annotation.get("/OC")
    flags = written if isinstance(written, int) else 0
    subtype = name_text(annotation.get("/Subtype"))
    popup = subtype == "Popup"
    appearances = annotation.get("/AP")
    return Annotation(
        subtype=subtype[:100],
        label=LABELS.get(subtype, to_say("annotation")),
        box_mm=to_mm.box(rectangle),
        prints=bool(flags & _PRINT) and not flags & _HIDDEN and not popup and shared.prints(layer),
        shows=not flags & (_HIDDEN | _NO_VIEW) and shared.shows(layer),
        has_appearance=isinstance(appearances, pikepdf.Dictionary) and "/N" in appearances,
        draws_frame=_draws_frame(annotation),
    )


def _draws_frame(annotation: pikepdf.Dictionary) -> bool:
    """By the width of its border (12.5.2, 12.5.4), 1 where none is written, and its colour, of which an empty array is none."""
    style, border, color = annotation.get("/BS"), annotation.get("/Border"), annotation.get("/C")
    width: object = 1
    if isinstance(style, pikepdf.Dictionary):
        width = style.get("/W", 1)
    elif isinstance(border, pikepdf.Array) and len(border) > 2:
        width = border[2]
    clear = isinstance(color, pikepdf.Array) and len(color) == 0
    return not clear and not isinstance(width, pikepdf.Object) and float(width) > 0  # type: ignore[arg-type]
