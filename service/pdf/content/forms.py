"""A form XObject (ISO 32000-2:2020, 8.10)."""

from __future__ import annotations

from dataclasses import dataclass

import pikepdf

from service.pdf.content.resources import Resources
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.reading.arrays import box_of, matrix_of
from service.pdf.reading.streams import content_bytes


@dataclass(frozen=True)
class Form:
    matrix: Matrix
    bounds: Box | None
    group: pikepdf.Dictionary | None
    """Its transparency group, where it is one (8.10.3 and 11.6.6)."""
    resources: Resources | None
    """None: those of the content that draws it hold (7.8.3)."""
    data: bytes


def read_form(stream: pikepdf.Stream, around: Resources) -> Form:
    group, own = stream.get("/Group"), stream.get("/Resources")
    return Form(
        matrix_of(stream.get("/Matrix")),
        box_of(stream.get("/BBox")),
        group if isinstance(group, pikepdf.Dictionary) and group.get("/S") == "/Transparency" else None,
        around.inner(own) if isinstance(own, pikepdf.Dictionary) else None,
        content_bytes(stream),
    )
