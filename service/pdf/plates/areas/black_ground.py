"""What black stands on: the walk tells it by the bounds of objects, the plates of the other inks show it at its own place.

* Black that knocks out leaves its hole in them, and their ink beside it: where there is none, there is no hole.
* Black that overprints leaves them as they are: where they are even, nothing shows through it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.colors import OverprintUse
from service.pdf.plates.areas.frame import Frame
from service.pdf.plates.separation import Plates

BESIDE_MM = 0.5
"""How far around black its ground is looked at: a plate's pixel is 0.25 mm wide, and edges are soft."""

SEEN_FROM = 25
"""Of 255, a tenth: where an ink is fainter, nobody sees that it is missing, or that it differs. Common practice, no source."""

Plate = npt.NDArray[np.uint8]


def seen_on_plates(
    uses: Sequence[OverprintUse], plates: Plates, left_out: Sequence[str], frame: Frame
) -> tuple[OverprintUse, ...]:
    """The uses, without the places of black that knocks out beside which no other ink stands."""
    others = [coverage for ink, coverage in plates.coverage.items() if ink != "Black" and ink not in left_out]
    return tuple(seen for one in uses if (seen := _seen(one, others, frame)) is not None)


def _seen(use: OverprintUse, others: Sequence[Plate], frame: Frame) -> OverprintUse | None:
    if use.case == "black overprints" and use.tints_below is None:
        return replace(use, tints_below=()) if all(_is_even(box, others, frame) for box in use.boxes_mm) else use
    if use.case != "black knocks out":
        return use
    kept = tuple(box for box in use.boxes_mm if _has_ink_beside(box, others, frame))
    return replace(use, boxes_mm=kept, count=use.count - len(use.boxes_mm) + len(kept)) if kept else None


def _has_ink_beside(box: Box, others: Sequence[Plate], frame: Frame) -> bool:
    part = frame.part(box.grown(BESIDE_MM))
    return any(bool((one[part] >= SEEN_FROM).any()) for one in others)


def _is_even(box: Box, others: Sequence[Plate], frame: Frame) -> bool:
    part = frame.part(box.grown(-BESIDE_MM))
    return all(not one[part].size or int(one[part].max()) - int(one[part].min()) < SEEN_FROM for one in others)
