"""How a page's annotations look, and where they print and show (ISO 32000-2:2020, 12.5.3 and 12.5.5)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import pikepdf

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Matrix
from service.pdf.reading.arrays import box_of, matrix_of
from service.pdf.reading.names import name_text

_HIDDEN, _PRINT, _NO_VIEW = 1 << 1, 1 << 2, 1 << 5
"""Annotation flags (12.5.3, Table 167)."""


class Appearance(NamedTuple):
    """How an annotation looks, and what its flags say (12.5.3, Table 167)."""

    annotation: pikepdf.Dictionary
    stream: pikepdf.Stream
    fit: Matrix
    """From the appearance's form space, after its own matrix, to default user space."""
    prints: bool
    shows: bool


def appearances(page: pikepdf.Dictionary) -> Iterator[Appearance]:
    """The normal appearances of a page's annotations; popups never print (12.5.6.14)."""
    annotations = page.get("/Annots")
    for annotation in annotations if isinstance(annotations, pikepdf.Array) else ():
        if not isinstance(annotation, pikepdf.Dictionary) or annotation.get("/Subtype") == "/Popup":
            continue
        stream = _normal_appearance(annotation)
        fit = _fit(annotation, stream) if stream is not None else None
        if stream is None or fit is None:
            continue
        written = annotation.get("/F")
        flags = written if isinstance(written, int) else 0
        prints, shows = bool(flags & _PRINT and not flags & _HIDDEN), not flags & (_HIDDEN | _NO_VIEW)
        yield Appearance(annotation, stream, fit, prints, shows)


def printed_appearances(page: pikepdf.Dictionary, shared: Shared) -> Iterator[tuple[Matrix, pikepdf.Stream]]:
    """Those that print, each with its fit."""
    for one in appearances(page):
        if one.prints and shared.prints(one.annotation.get("/OC")):
            yield one.fit, one.stream


def _normal_appearance(annotation: pikepdf.Dictionary) -> pikepdf.Stream | None:
    appearances = annotation.get("/AP")
    normal = appearances.get("/N") if isinstance(appearances, pikepdf.Dictionary) else None
    if isinstance(normal, pikepdf.Dictionary):
        normal = normal.get("/" + (name_text(annotation.get("/AS")) or "Off"))
    return normal if isinstance(normal, pikepdf.Stream) else None


def _fit(annotation: pikepdf.Dictionary, appearance: pikepdf.Stream) -> Matrix | None:
    """Algorithm of 12.5.5: the box of the transformed BBox is fitted to the annotation's rectangle."""
    rectangle, bounds = box_of(annotation.get("/Rect")), box_of(appearance.get("/BBox"))
    if rectangle is None or bounds is None:
        return None
    drawn = matrix_of(appearance.get("/Matrix")).box(bounds)
    if drawn.width <= 0 or drawn.height <= 0:
        return None
    across, up = rectangle.width / drawn.width, rectangle.height / drawn.height
    return Matrix(across, 0, 0, up, rectangle.x0 - drawn.x0 * across, rectangle.y0 - drawn.y0 * up)
