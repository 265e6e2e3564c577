"""Rectangles and matrices of the file (ISO 32000-2:2020, 7.9.5 and 8.3.4), in its own units."""

from __future__ import annotations

import pikepdf

from service.pdf.facts.geometry import IDENTITY, Box, Matrix


def box_of(array: object) -> Box | None:
    """A rectangle of the file in its own units; None where it is none."""
    values = _numbers(array, 4)
    return Box.of_corners(*values) if values else None


def matrix_of(array: object) -> Matrix:
    """A matrix of the file; the identity where there is none."""
    values = _numbers(array, 6)
    return Matrix(*values) if values else IDENTITY


def _numbers(array: object, count: int) -> list[float] | None:
    if not isinstance(array, pikepdf.Array) or len(array) != count:
        return None
    values = [one for one in array if not isinstance(one, pikepdf.Object)]
    return [float(one) for one in values] if len(values) == count else None
