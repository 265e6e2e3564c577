"""A page whose width and height were said apart: 'Width: 85 mm' in one row, 'Height: 55 mm' in the next."""

from __future__ import annotations

from collections.abc import Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.sizes import Size


def size_from_sides(claims: Sequence[Claim]) -> Size | None:
    """Where the text says one width and one height, each at least 15 mm."""
    widths, heights = ([claim for claim in claims if claim.path == f"side.{side}"] for side in ("width", "height"))
    if len(widths) != 1 or len(heights) != 1:
        return None
    width, height = widths[0], heights[0]
    if width.size is None or height.size is None or min(width.size, height.size) < 15:
        return None
    start, end = min(width.start, height.start), max(width.end, height.end)
    return Size(width.size, height.size, str(width.value), str(height.value), "size", start, end)
