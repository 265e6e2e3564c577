"""Colours of any space as tints of named inks (ISO 32000-2:2020, 8.6, 10.4 and 11.7.3).

* DeviceCMYK, DeviceGray, Separation and DeviceN name their inks: their numbers are taken as they are, whatever the alternate.
* An ICC space of four channels is taken as the press's own process inks; of one, as black.
* RGB, CalRGB and Lab are converted: through the output intent's profile where the file has one, else by the plain formula of
  10.4.2.4 with all of the common grey in black. Such plates are marked as converted.
* Separation All paints every ink; None paints nothing.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageCms

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.unreadable import Unreadable

Tints = npt.NDArray[np.float64]
"""(colours, components or inks), 0–1."""


class InkTable:
    """Tints of the chosen inks for any colour; `converted` tells whether a conversion was needed."""

    def __init__(self, inks: Sequence[str], to_process: Callable[[Tints], Tints]) -> None:
        self.inks = tuple(inks)
        self.to_process = to_process
        """RGB 0–1 (n, 3) to cyan, magenta, yellow, black 0–1 (n, 4)."""
        self.converted = False
        self.used: set[str] = set()
        """Inks of which some colour, shading or picture holds more than nothing: of the others all plates stay empty."""

    def tints(self, space: ColorSpace, colors: Tints) -> Tints:
        """(n, components) of the space → (n, inks). Raises Unreadable for a space that no rule says how to print."""
        colors = np.atleast_2d(np.asarray(colors, dtype=np.float64))
        if space.palette and space.base:
            index = np.clip(colors[:, 0].astype(np.intp), 0, len(space.palette) - 1)
            return self.tints(space.base, np.array(space.palette, dtype=np.float64)[index])
        if space.base is not None:
            return self.tints(space.base, colors)
        if space.is_additive_gray:
            return self._named(("Black",), 1 - colors[:, :1])
        if space.colorants:
            return self._named(space.colorants, colors)
        if space.family in ("rgb", "lab"):
            self.converted = True
            rgb = lab_to_rgb(colors) if space.family == "lab" else colors
            return self._named(PROCESS_INKS, self.to_process(np.clip(rgb, 0, 1)))
        if space.family is None:
            return np.zeros((len(colors), len(self.inks)))
        raise Unreadable("a colour space cannot be separated into inks: {space}", space=space.written[:60])

    def rgb(self, space: ColorSpace, colors: Tints) -> Tints:
        """(n, 3): the channels of a plate rendering, 1 − tint; a channel without an ink stays 1."""
        tints = np.clip(self.tints(space, colors), 0, 1)
        channels = np.ones((len(tints), 3))
        channels[:, : len(self.inks)] -= tints
        self.used.update(ink for at, ink in enumerate(self.inks) if tints[:, at].any())
        return channels

    def columns(self, space: ColorSpace) -> tuple[int | None, ...] | None:
        """For each of three channels the component that is its ink's tint, None where the space has none of it; None as a whole
        where colours of the space must be worked out (`rgb`).
        """
        if space.palette or space.base is not None or space.is_additive_gray or not space.colorants or "All" in space.colorants:
            return None
        if len(set(space.colorants)) < len(space.colorants):
            return None
        found = tuple(space.colorants.index(ink) if ink in space.colorants else None for ink in self.inks)
        return (*found, *(None,) * (3 - len(found)))

    def _named(self, names: Sequence[str], values: Tints) -> Tints:
        found = np.zeros((len(values), len(self.inks)))
        for at, ink in enumerate(self.inks):
            for column, name in enumerate(names[: values.shape[1]]):
                if name in (ink, "All"):
                    found[:, at] = np.maximum(found[:, at], values[:, column])
        return found


def process_by_formula(rgb: Tints) -> Tints:
    """ISO 32000-2:2020, 10.4.2.4, with black generation and undercolour removal both the least of the complements."""
    complements = 1 - rgb
    black = np.minimum.reduce(complements.T)[:, np.newaxis]
    return np.hstack([complements - black, black])


@lru_cache(maxsize=4)
def process_by_profile(profile: bytes) -> Callable[[Tints], Tints]:
    """SRGB to the printing condition, relative colorimetric with black point compensation. Raises ValueError where the
    profile is none for four inks.
    """
    try:
        target = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        transform = ImageCms.buildTransform(
            ImageCms.createProfile("sRGB"), target, "RGB", "CMYK",
            ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError) as error:
        raise ValueError("the output intent's profile is none for four process inks") from error

    def convert(rgb: Tints) -> Tints:
        pixels = Image.fromarray(np.round(rgb[np.newaxis] * 255).astype(np.uint8), "RGB")
        done = ImageCms.applyTransform(pixels, transform)
        assert done is not None
        tints: Tints = np.asarray(done, dtype=np.float64)[0] / 255
        return tints

    return convert


def lab_to_rgb(lab: Tints) -> Tints:
    """CIE L*a*b* (D50) to sRGB, clipped: CIE 15:2004, 8.2.1, and IEC 61966-2-1 with the D50 matrix of ICC.1 (from memory)."""
    fy = (lab[:, 0] + 16) / 116
    fx, fz = fy + lab[:, 1] / 500, fy - lab[:, 2] / 200
    delta = 6 / 29
    xyz = np.stack([np.where(f > delta, f**3, 3 * delta**2 * (f - 4 / 29)) for f in (fx, fy, fz)], axis=1)
    xyz *= (0.9642, 1.0, 0.8249)
    matrix = np.array([[3.1339, -1.6169, -0.4906], [-0.9788, 1.9161, 0.0335], [0.0719, -0.2290, 1.4052]])
    linear = np.clip(xyz @ matrix.T, 0, 1)
    rgb: Tints = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    return rgb
