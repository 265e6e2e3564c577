"""Where within its frame a picture leaves ink: white samples are paper, transparent ones show what lies below.

Ink of other objects within the frame counts too: the box is never too small.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from service.pdf.facts.geometry import Box
from service.pdf.plates.areas.frame import Frame
from service.pdf.plates.areas.reach import INK_FROM
from service.pdf.plates.areas.regions import Region
from service.pdf.plates.areas.total_ink import Total

NEAR_THE_TRIM_MM = 25.0
"""A frame of which no side ends so near the trim, inside it, is taken as it is: no quiet zone is wider. Ours, no source."""
MOST_LOOKED_AT = 1_000
"""Pictures of one page; further ones are taken by their frames."""


def ink_in_pictures(frames_mm: Sequence[Box], trim: Box, total: Total, frame: Frame) -> tuple[Box | None, ...]:
    """In the order of the frames; None where there is no ink."""
    found: list[Box | None] = []
    looked_at = 0
    for one in frames_mm:
        looks = looked_at < MOST_LOOKED_AT and _ends_near(one, trim)
        looked_at += looks
        found.append(_inked(one, total, frame) if looks else one)
    return tuple(found)


def _ends_near(box: Box, trim: Box) -> bool:
    depths = (box.x0 - trim.x0, box.y0 - trim.y0, trim.x1 - box.x1, trim.y1 - box.y1)
    return any(0 < depth < NEAR_THE_TRIM_MM for depth in depths)


def _inked(box: Box, total: Total, frame: Frame) -> Box | None:
    """Sides at which the ink goes on to the frame's edge are the frame's own."""
    part = frame.part(box)
    inked = total[part] >= INK_FROM
    if not inked.size:
        return box
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    if not rows.size:
        return None
    first_row, last_row, first_column, last_column = int(rows[0]), int(rows[-1]), int(columns[0]), int(columns[-1])
    around = frame.box(Region(0, row0=first_row, column0=first_column, row1=last_row + 1, column1=last_column + 1), part)
    return Box(
        box.x0 if first_column == 0 else max(around.x0, box.x0),
        box.y0 if first_row == 0 else max(around.y0, box.y0),
        box.x1 if last_column == inked.shape[1] - 1 else min(around.x1, box.x1),
        box.y1 if last_row == inked.shape[0] - 1 else min(around.y1, box.y1),
    )
