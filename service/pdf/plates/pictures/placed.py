"""A picture on the plate's own pixels, so that PDFium paints it as it is.

PDFium scales a picture in two sweeps of whole numbers, and each rounds red, green and blue down: up to two steps of ink more for
every ink, 303 % where the picture holds 300. Here each pixel of the plate is the average of many places in it (ISO 32000-2:2020,
8.9.5.1 and 10.7.4: a sample is an area), rounded together for all inks (`averages`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor

import numpy as np
import numpy.typing as npt

from service.pdf.facts.geometry import Box, Matrix
from service.pdf.plates.pictures.averages import Bytes, Reals, rounded_together

_WITHIN = 0.02
"""Of a pixel: PDFium covers every pixel that the picture touches, and its numbers have seven digits."""
_LEVEL = 1e-6
"""Of a picture's side: what a matrix of seven digits leans by."""
_PLACES, _PLACES_TURNED = 8, 4
"""Looked up in a pixel, in each direction; fewer where the two cannot be added up one after the other. Ours, no source."""

_PIXELS_AT_A_TIME = 100_000
"""What is added up stays in the processor's own memory. Ours, no source."""
Indices = npt.NDArray[np.intp]


@dataclass(frozen=True)
class Placement:
    """Which whole pixels a picture touches, and where in it they lie."""

    to_unit: Matrix
    """From the plate's pixels, y upwards, to the picture's unit square."""
    left: int
    bottom: int
    columns: int
    rows: int

    @property
    def pixels(self) -> int:
        return self.columns * self.rows

    @property
    def in_unit(self) -> Matrix:
        """Where the picture that is made of them is painted, as seen from the unit square."""
        width, height = self.columns - 2 * _WITHIN, self.rows - 2 * _WITHIN
        return Matrix(width, 0, 0, height, self.left + _WITHIN, self.bottom + _WITHIN).then(self.to_unit)

    def of(self, values: Bytes) -> Bytes:
        """(rows, columns, components) of these pixels, of a picture at any size."""
        step = max(_PIXELS_AT_A_TIME // self.columns, 1)
        tops = range(self.bottom + self.rows, self.bottom, -step)
        bands = [replace(self, bottom=max(top - step, self.bottom), rows=min(step, top - self.bottom)) for top in tops]
        return np.concatenate([band._pixels(values) for band in bands])

    def _pixels(self, values: Bytes) -> Bytes:
        a, b, c, d, e, f = self.to_unit
        longest = max(self.columns, self.rows)
        if max(abs(a), abs(d)) * longest < _LEVEL:  # upright: its columns are rows of the plate
            values, (a, b, c, d, e, f) = values.transpose(1, 0, 2), (-b, 0.0, 0.0, -c, 1 - f, 1 - e)
        if max(abs(b), abs(c)) * longest < _LEVEL:
            across, up = self._across(_PLACES), self._upwards(_PLACES)
            lines = _added(values, _index(1 - (d * up + f), values.shape[0]), axis=0)
            return rounded_together(_added(lines, _index(a * across + e, values.shape[1]), axis=1), _PLACES**2)
        return self._turned(values)

    def _turned(self, values: Bytes) -> Bytes:
        a, b, c, d, e, f = self.to_unit
        height, width, components = values.shape
        flat, sums = values.reshape(-1, components), np.zeros((self.rows, self.columns, components), np.uint16)
        for y in self._upwards(_PLACES_TURNED)[:, :, np.newaxis]:
            for x in self._across(_PLACES_TURNED):
                column, row = _index(a * x + c * y + e, width), _index(1 - (b * x + d * y + f), height)
                sums += flat[row * width + column]
        return rounded_together(sums, _PLACES_TURNED**2)

    def _across(self, places: int) -> Reals:
        """(places, columns): where the places of each column lie; `_upwards` likewise of each row, from the top."""
        return _middles(places) + self.left + np.arange(self.columns)

    def _upwards(self, places: int) -> Reals:
        return self.bottom + self.rows - np.arange(self.rows) - _middles(places)


def _middles(places: int) -> Reals:
    return ((np.arange(places, dtype=np.float64) + 0.5) / places)[:, np.newaxis]


def _index(share: Reals, size: int) -> Indices:
    return np.clip(np.floor(share * size), 0, size - 1).astype(np.intp)


def _added(values: npt.NDArray[np.unsignedinteger], index: Indices, axis: int) -> npt.NDArray[np.uint16]:
    """Lines of a picture, added up as often as each is looked up; most places of a pixel lie in one or two of them."""
    first, components = index.min(axis=0), values.shape[2]
    found: npt.NDArray[np.uint16] | None = None
    for step in range(int((index - first).max()) + 1):
        times = (index == first + step).sum(axis=0, dtype=np.uint16)
        line = np.take(values, np.minimum(first + step, values.shape[axis] - 1), axis)
        flat = line.reshape(len(line), -1)  # long rows are multiplied quickest
        flat = flat * (times[:, np.newaxis] if axis == 0 else times.repeat(components))
        found = flat if found is None else np.add(found, flat, out=found)
    assert found is not None
    return found.reshape(len(found), -1, components)


def placement(to_pixels: Matrix, plate: Box, most_pixels: int) -> Placement | None:
    """Of the unit square on a plate; None where it lies beside it, is flat or is placed on too many pixels."""
    to_unit = to_pixels.inverse()
    seen = to_pixels.box_of_unit_square().intersection(plate)
    if to_unit is None or seen is None:
        return None
    left, bottom = floor(seen.x0 + _WITHIN), floor(seen.y0 + _WITHIN)
    columns, rows = max(ceil(seen.x1 - _WITHIN) - left, 1), max(ceil(seen.y1 - _WITHIN) - bottom, 1)
    return Placement(to_unit, left, bottom, columns, rows) if columns * rows <= most_pixels else None
