"""Rules on the trimmed size and the page boxes."""

from __future__ import annotations

from collections.abc import Iterator

from service.pdf.measurements import Measurements
from service.rules.base import NotMeasured, Outcome, rule
from service.sheets.model import TrimAsked


@rule(
    "trim.size",
    asks=lambda sheet: sheet.trim,
    asked_by="trim",
    level="must",
    source="ISO 32000-2:2020, 14.11.2 (page boundaries)",
    measured={"width_mm": "trimmed width", "height_mm": "trimmed height", "source": "where the trim was found"},
    required={"width_mm": "width of the product", "height_mm": "height of the product", "tolerance_mm": "allowed difference"},
)
def trim_size(measurements: Measurements, trim: TrimAsked) -> Iterator[Outcome]:
    """Every page is trimmed to the size of the product.

    Why: another size is cut through the artwork, scaled, or keeps a white edge.
    Remedy: set the document to the product's size and export again without scaling.
    Knows: the trim as measured, where it was found, rotation and user unit.
    Cannot know: a size that the printer has agreed to by letter.
    """
    yield NotMeasured("sample")
