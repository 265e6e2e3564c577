"""Small filled areas, told all at once: a map or a drawing has a hundred thousand of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from service.pdf.content.graphics_state import Paint

Reals = npt.NDArray[np.float64]
Indices = npt.NDArray[np.intp]


@dataclass(frozen=True)
class SmallAreas:
    """In their order. Each covers what is below it, is wholly visible, prints, and is smaller than `vectors.CROWD_MM`."""

    boxes: Reals
    """(n, 4): x0, y0, x1, y1, ruler mm."""
    colors: Reals
    """(n, 4): components between 0 and 1; of RGB the fourth is 0."""
    kinds: tuple[Paint, ...]
    """One paint for all areas of one space with ink in the same components; its colour is that of the first."""
    which: Indices
    """The kind of each."""
    solid: npt.NDArray[np.bool_]
    """Which are surely seen; it is found out of the first ones alone."""

    def part(self, chosen: slice) -> SmallAreas:
        return SmallAreas(self.boxes[chosen], self.colors[chosen], self.kinds, self.which[chosen], self.solid[chosen])
