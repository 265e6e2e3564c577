"""A page that paints in the colours at hand."""

from __future__ import annotations

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import ColorUse
from tests.rules.measured import content, document, page


def painted(*uses: ColorUse) -> Measurements:
    return document(page(content=content(colors=uses)))
