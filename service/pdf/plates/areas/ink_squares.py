"""In which squares of a page ink lies, and where a plate holds tints: what areas and finishing inks are judged by."""

from __future__ import annotations

from math import ceil

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import MM_PER_INCH
from service.pdf.facts.ink_map import InkMap
from service.pdf.plates.areas.reach import INK_FROM
from service.pdf.plates.areas.regions import Mask, Region, largest_regions
from service.pdf.plates.separation import Coverage, Plates

SQUARE_MM = 1.0
MOST_SQUARES = 250_000
"""A page larger than A2 has larger squares: stored maps stay small. Ours, no source."""
LEAST_INK = 0.005
"""Of full tint, mean of a square: as much as 2 % over a quarter of it, or a solid dot of 0.08 mm. Ours, no source."""
TINTS = (13, 242)
"""Of 255: 5 % to 95 % is neither bare nor solid. Ours, no source."""
LEAST_TINT_MM2 = 1.0
"""Less, or anything as narrow as two pixels, may be the soft edge of something solid. Ours, no source."""


def ink_map(amount: npt.NDArray[np.integer], plates: Plates) -> InkMap:
    """`amount`: of all inks that count together, 255 for a full tint, over the area of the plates."""
    if not plates.coverage:
        return _bare(plates)
    pixel_mm = MM_PER_INCH / plates.ppi
    step = max(round(SQUARE_MM / pixel_mm), ceil((amount.size / MOST_SQUARES) ** 0.5), 1)
    ink = np.where(amount < INK_FROM, 0, np.minimum(amount, 255)).astype(np.uint16)
    rows = _added(ink, step)
    squares = _added(np.ascontiguousarray(rows.T), step).T
    inked = squares >= max(LEAST_INK * 255 * step * step, 1)
    packed = np.packbits(inked, axis=1, bitorder="little")
    texts = [row.tobytes().hex() for row in packed]
    same = [at > 0 and texts[at] == texts[at - 1] for at in range(len(texts))]
    return InkMap(
        left_mm=round(plates.area_mm.x0, 4),
        top_mm=round(plates.area_mm.y0, 4),
        square_mm=round(step * pixel_mm, 6),
        columns=inked.shape[1],
        rows=tuple("" if like_above else text for text, like_above in zip(texts, same, strict=True)),
    )


def _bare(plates: Plates) -> InkMap:
    """Of a page that names no ink at all."""
    area = plates.area_mm
    square_mm = max(SQUARE_MM, (area.area / MOST_SQUARES) ** 0.5)
    columns, rows = (max(ceil(length / square_mm), 1) for length in (area.width, area.height))
    return InkMap(round(area.x0, 4), round(area.y0, 4), square_mm, columns, ("",) * rows)


def _added(values: npt.NDArray[np.integer], step: int) -> npt.NDArray[np.uint32]:
    """Sums of `step` rows each; the last may be of fewer."""
    count = -(-len(values) // step)
    sums = np.zeros((count, values.shape[1]), dtype=np.uint32)
    for start in range(min(step, len(values))):
        part = values[start::step]
        sums[: len(part)] += part
    return sums


def tinted_regions(plate: Coverage, pixel_mm2: float, most: int) -> tuple[float | None, list[Region]]:
    """The lightest tint in percent, and the largest regions of tints. A pixel counts if all around it are tints too: at an edge
    of something solid one is not.
    """
    tints = (plate >= TINTS[0]) & (plate <= TINTS[1])
    inner = _inner(tints)
    regions = largest_regions(inner, most, max(ceil(LEAST_TINT_MM2 / pixel_mm2), 1)) if inner.any() else []
    if not regions:
        return None, []
    least = min(_least(plate, inner, one) for one in regions)
    return round(least / 2.55, 1), regions


def _inner(mask: Mask) -> Mask:
    """Set where all eight neighbours are set too; nothing beyond the edge is."""
    inner = np.zeros_like(mask)
    rows = mask[:-2] & mask[1:-1] & mask[2:]
    inner[1:-1, 1:-1] = rows[:, :-2] & rows[:, 1:-1] & rows[:, 2:]
    return inner


def _least(plate: Coverage, inner: Mask, region: Region) -> int:
    part = (slice(region.row0, region.row1), slice(region.column0, region.column1))
    return int(plate[part][inner[part]].min())
