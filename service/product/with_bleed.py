"""A page that is the product and an even bleed around it, where the file takes both for the page."""

from __future__ import annotations

from service.sheets.model import TrimAsked

LEAST_BLEED_MM, MOST_BLEED_MM = 0.5, 10.0
"""What printers ask for lies between. Common practice, no source."""

EVEN_MM = 0.2
"""How unlike the bleed of both directions may be."""


def bleed_in_size(trim: TrimAsked, width_mm: float, height_mm: float) -> float | None:
    """How wide the bleed is if the size is the product, either way up, and as much around it on every side; None if it is not."""
    for across, down in ((trim.width_mm, trim.height_mm), (trim.height_mm, trim.width_mm)):
        beside, above = (width_mm - across) / 2, (height_mm - down) / 2
        if abs(beside - above) <= EVEN_MM and min(beside, above) >= LEAST_BLEED_MM and max(beside, above) <= MOST_BLEED_MM:
            return (beside + above) / 2
    return None
