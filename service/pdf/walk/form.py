"""A form XObject as the walk knows it (ISO 32000-2:2020, 8.10)."""

from __future__ import annotations

from dataclasses import dataclass

import pikepdf

from service.pdf.content.resources import Resources
from service.pdf.facts.geometry import Box, Matrix


@dataclass(frozen=True)
class Form:
    """A form XObject, read once for the page however often it is drawn."""

    matrix: Matrix
    bounds: Box | None
    group: pikepdf.Dictionary | None
    """Its transparency group, where it is one."""
    resources: Resources | None
    data: bytes
