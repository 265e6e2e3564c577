"""The current colour, as the colour operators set it (ISO 32000-2:2020, 8.6.8 and 8.7).

* g, rg, k and their stroking twins set a device space, for which a default may stand in (8.6.5.6), and a colour of it.
* cs and CS set a space and its initial colour; in a Pattern space that is one that paints nothing.
* sc, scn and their stroking twins set a colour of the space, or a pattern: tiles in colours of their own, tiles in the colour
  that stands before the name (8.7.3.3), or a shading, which paints in a space of its own. The space stays selected.
* A pattern that is not there paints nothing. An operator with fewer operands than it takes is passed over.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import pikepdf

from service.pdf.content.color_spaces import CMYK, GRAY, PATTERN, RGB, ColorSpace
from service.pdf.content.resources import Resources
from service.pdf.reading.operands import Operands, floats, name_of


class CurrentColor(NamedTuple):
    space: ColorSpace
    """As selected: the next operands are read by it."""
    paints_in: ColorSpace
    """The space of what is painted; PATTERN where tiles bring their own, and where nothing is painted."""
    values: tuple[float, ...] | None
    """A colour of `paints_in`; None where there is none: a shading, tiles in colours of their own, nothing."""
    tiles: pikepdf.Stream | None = None
    shading_pattern: pikepdf.Object | None = None

    @property
    def is_nothing(self) -> bool:
        return self.paints_in is PATTERN and self.tiles is None

    @property
    def inherited(self) -> tuple[object, ...]:
        """What content that is drawn in this colour can make of it, whatever tiles or shading there are."""
        return self.space.written, self.paints_in.written, self.values, self.tiles is None


BLACK = CurrentColor(GRAY, GRAY, GRAY.initial)


class DeviceOperator(NamedTuple):
    name: str
    space: ColorSpace
    stroke: bool

    def values(self, operands: Operands) -> tuple[float, ...] | None:
        found = floats(operands, self.space.components)
        return tuple(found) if found else None


DEVICE_OPERATORS: Mapping[bytes, DeviceOperator] = {
    b"g": DeviceOperator("DeviceGray", GRAY, False), b"G": DeviceOperator("DeviceGray", GRAY, True),
    b"rg": DeviceOperator("DeviceRGB", RGB, False), b"RG": DeviceOperator("DeviceRGB", RGB, True),
    b"k": DeviceOperator("DeviceCMYK", CMYK, False), b"K": DeviceOperator("DeviceCMYK", CMYK, True),
}


def device_color(operator: DeviceOperator, operands: Operands, resources: Resources) -> CurrentColor | None:
    values, space = operator.values(operands), resources.named_space(operator.name)
    return CurrentColor(space, space, values) if values else None


def color_of_new_space(operands: Operands, resources: Resources) -> CurrentColor:
    """cs, CS."""
    space = resources.named_space(name_of(operands) or "")
    return _nothing(space) if space.written == "Pattern" else CurrentColor(space, space, space.initial)


def color_in_space(space: ColorSpace, operands: Operands, resources: Resources) -> CurrentColor | None:
    """sc, scn, SC, SCN."""
    values, name = tuple(floats(operands, 0) or ()), name_of(operands)
    if name is not None:
        return _pattern_color(space, values, resources.pattern(name), resources)
    if space.written == "Pattern" or len(values) < space.components:
        return None
    return CurrentColor(space, space, values[: space.components])


def _pattern_color(
    space: ColorSpace, values: tuple[float, ...], pattern: pikepdf.Object | None, resources: Resources
) -> CurrentColor | None:
    shading = pattern.get("/Shading") if pattern is not None and pattern.get("/PatternType") == 2 else None
    if pattern is not None and isinstance(shading, pikepdf.Dictionary | pikepdf.Stream):
        return CurrentColor(space, resources.space(shading.get("/ColorSpace")), None, shading_pattern=pattern)
    if not isinstance(pattern, pikepdf.Stream):
        return _nothing(space)
    base = space.base or space
    if pattern.get("/PaintType") != 2 or base is PATTERN:
        return CurrentColor(space, PATTERN, None, pattern)
    return CurrentColor(space, base, values[: base.components], pattern) if len(values) >= base.components else None


def _nothing(space: ColorSpace) -> CurrentColor:
    return CurrentColor(space, PATTERN, None)
