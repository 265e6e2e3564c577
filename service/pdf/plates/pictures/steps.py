"""How far a picture's tone goes from one pixel to the next: a gradient that became a picture goes by small steps, a coarse
photograph by large ones.
"""

from __future__ import annotations

import numpy as np

from service.pdf.plates.pictures.averages import Bytes

MOST_STEP_PERCENT = 10.0
"""What is larger is an edge to anybody: it is found, and no larger one is looked for. Ours, no source."""
MOST_LOOKED_AT = 4_000_000
"""Pixels of one picture: more than an A4 sheet has at 200 ppi. Ours, no source."""
_SAMPLES_AT_A_TIME = 1 << 18
"""They stay in the processor's own memory. Ours, no source."""


def largest_step_percent(values: Bytes, opacity: Bytes | None) -> float | None:
    """Of the full tone of a component, and of opacity on top of it; None for a picture that is too large to look at.

    `values`: (rows, columns, components), `opacity`: (rows, columns) of its own size; every pixel that there is, in 8 bits.
    """
    layers = [values] if opacity is None else [values, opacity[:, :, np.newaxis]]
    if any(one.shape[0] * one.shape[1] > MOST_LOOKED_AT for one in layers):
        return None
    return sum(_largest_step(one) / 2.55 for one in layers)


def _largest_step(values: Bytes) -> int:
    """Of 255."""
    largest, rows = 0, max(_SAMPLES_AT_A_TIME // values[0].size, 1)
    for top in range(0, len(values), rows):
        band = values[top : top + rows + 1]  # the first row of the next band too
        largest = max(largest, _between(band[1:], band[:-1]), _between(band[:, 1:], band[:, :-1]))
        if largest > MOST_STEP_PERCENT * 2.55:
            break
    return largest


def _between(ones: Bytes, others: Bytes) -> int:
    return int((np.maximum(ones, others) - np.minimum(ones, others)).max(initial=0))
