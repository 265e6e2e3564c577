"""RGB as process inks that look like it on a screen, for pictures of files that name no printing condition.

A check converts RGB by the plain formula of ISO 32000-2:2020, 10.4.2.4. Shown as a common reader shows DeviceCMYK, what comes of
it is paler than the file's own colour, since that formula knows no real ink. A picture for people should not look faded by our
doing: here the tints are sought that a common reader shows as the colour, black being that of 10.4.2.4 squared (little of it in
light colours; ours, no source).

How the printer converts it is not known; the difference is one of the reasons why such colours should be converted before.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageFilter

from service.pdf.plates.colors.inks import Tints, process_by_formula
from service.proofs.preview.reader_color import as_pdfium_shows

_STEPS = 17
"""Of each channel in the table of colours."""
_ROUNDS = 20
_RATE = 0.6


def process_that_looks_like(rgb: Tints) -> Tints:
    """RGB 0–1 (n, 3) to cyan, magenta, yellow, black 0–1 (n, 4)."""
    pixels = Image.fromarray(np.round(rgb[np.newaxis] * 255).astype(np.uint8), "RGB")
    tints: Tints = np.asarray(pixels.filter(_table()), dtype=np.float64)[0] / 255
    return tints


@cache
def _table() -> ImageFilter.Color3DLUT:
    steps = np.linspace(0, 1, _STEPS)
    blue, green, red = np.meshgrid(steps, steps, steps, indexing="ij")  # red runs fastest
    colors = np.stack([red.ravel(), green.ravel(), blue.ravel()], axis=1)
    tints = _sought(colors, as_pdfium_shows)
    return ImageFilter.Color3DLUT(_STEPS, tints.ravel().tolist(), channels=4, target_mode="CMYK")


def _sought(colors: Tints, shown: Callable[[npt.NDArray[np.uint8]], npt.NDArray[np.uint8]]) -> Tints:
    """From a first guess, each of cyan, magenta and yellow moves as its complement is off; black stays."""
    tints = process_by_formula(colors)
    common = tints[:, 3:]
    black = common**2
    tints = np.hstack([tints[:, :3] + common - black, black])
    for _ in range(_ROUNDS):
        looks = shown(np.round(tints[np.newaxis] * 255).astype(np.uint8))[0] / 255
        tints[:, :3] = np.clip(tints[:, :3] + _RATE * (looks - colors), 0, 1)
    return tints
