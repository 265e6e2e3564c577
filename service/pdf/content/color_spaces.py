"""What a colour space means to a printer: its family, and which inks a colour in it paints (ISO 32000-2:2020, 8.6).

* An ICC space counts by its channels (8.6.5.5), CalGray and CalRGB by their family, Lab is Lab.
* Indexed and Pattern are looked through to what prints (8.6.6.3, 8.7).
* Separation: `All` is registration, `None` never marks (8.6.6.4). In DeviceN the component `None` is discarded (8.6.6.5).
* A default space of the resources stands in for the device space (8.6.5.6).
* Process ink names in Separation and DeviceN are process inks.

A space that is damaged is read as the nearest thing it can be and keeps its name as written; no colour is converted here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import pikepdf

from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.colors import ColorFamily
from service.pdf.reading.names import name_text

DEEPEST_NESTING = 8
_NO_INK = 1e-4
"""A component that differs by less from white paints nothing that any output device shows."""

Device = Literal["DeviceGray", "DeviceRGB", "DeviceCMYK"]


@dataclass(frozen=True)
class ColorSpace:
    written: str
    family: ColorFamily | None
    """None: paints nothing at all (Separation None)."""
    components: int
    colorants: tuple[str, ...]
    """The ink of each component, '' for None; empty where a conversion decides (RGB, Lab)."""
    palette: tuple[tuple[float, ...], ...] = ()
    """Indexed: the colours in the base space."""
    base: ColorSpace | None = None
    """Of an Indexed or an uncoloured Pattern space."""
    profile: str | None = None
    """What the ICC profile goes by: its object's number as '12 0'; None where there is none."""

    @property
    def initial(self) -> tuple[float, ...]:
        """The colour that `cs` sets (8.6.3 and following)."""
        if self.written.startswith(("Separation", "DeviceN")):
            return (1.0,) * self.components
        return (0.0, 0.0, 0.0, 1.0) if self.written == "DeviceCMYK" else (0.0,) * self.components

    def inks(self, color: Sequence[float]) -> tuple[str, ...]:
        """The inks that this colour paints; empty for white, and for a space that a conversion decides on."""
        if self.palette and self.base:
            index = int(color[0]) if color else 0
            return self.base.inks(self.palette[min(max(index, 0), len(self.palette) - 1)])
        if self.is_additive_gray:
            return ("Black",) if not color or color[0] < 1 - _NO_INK else ()
        found = [name for name, value in zip(self.colorants, color, strict=False) if name and value > _NO_INK]
        return tuple(found) if self.colorants is PROCESS_INKS else tuple(dict.fromkeys(found))

    def all_inks(self) -> tuple[str, ...]:
        """The inks that pictures and blends in this space can paint."""
        if self.palette and self.base:
            return tuple(dict.fromkeys(ink for color in self.palette for ink in self.base.inks(color)))
        return tuple(dict.fromkeys(name for name in self.colorants if name))

    def is_white(self, color: Sequence[float]) -> bool:
        """Whether the colour leaves the paper as it is."""
        if self.family is None:
            return True
        if self.palette and self.base:
            index = int(color[0]) if color else 0
            return self.base.is_white(self.palette[min(max(index, 0), len(self.palette) - 1)])
        if self.family == "rgb":
            return len(color) >= 3 and min(color) >= 1 - _NO_INK
        if self.family == "lab":
            return len(color) >= 3 and color[0] >= 100 - 0.01 and abs(color[1]) < 0.01 and abs(color[2]) < 0.01
        if self.family == "multicolor":
            return False
        return not self.inks(color)

    @cached_property
    def is_additive_gray(self) -> bool:
        return self.family == "gray" and not self.written.startswith(("Separation", "DeviceN", "Indexed"))


GRAY = ColorSpace("DeviceGray", "gray", 1, ("Black",))
RGB = ColorSpace("DeviceRGB", "rgb", 3, ())
CMYK = ColorSpace("DeviceCMYK", "cmyk", 4, PROCESS_INKS)
PATTERN = ColorSpace("Pattern", None, 0, ())
_DEVICES = {
    "DeviceGray": GRAY, "G": GRAY, "CalGray": ColorSpace("CalGray", "gray", 1, ("Black",)),
    "DeviceRGB": RGB, "RGB": RGB, "CalRGB": ColorSpace("CalRGB", "rgb", 3, ()),
    "DeviceCMYK": CMYK, "CMYK": CMYK, "CalCMYK": CMYK,
    "Pattern": PATTERN,
}
_BY_CHANNELS: dict[int, tuple[ColorFamily, tuple[str, ...]]] = {
    1: ("gray", ("Black",)),
    3: ("rgb", ()),
    4: ("cmyk", PROCESS_INKS),
}


def device_space(name: str) -> ColorSpace | None:
    return _DEVICES.get(name)


def color_space(written: pikepdf.Object | None, depth: int = 0) -> ColorSpace:
    """The space that a name or an array stands for; one that cannot be understood becomes gray under its written name."""
    if isinstance(written, pikepdf.Name):
        name = name_text(written)
        return _DEVICES.get(name) or ColorSpace(name, "gray", 1, ("Black",))
    if not isinstance(written, pikepdf.Array) or not len(written) or depth > DEEPEST_NESTING:
        return ColorSpace("(damaged colour space)", "gray", 1, ("Black",))
    kind = name_text(written[0])
    read = _READERS.get(kind)
    if read and len(written) > 1:
        return read(written, depth)
    return _DEVICES.get(kind) or ColorSpace(kind, "gray", 1, ("Black",))


def _icc_based(array: pikepdf.Array, depth: int) -> ColorSpace:
    profile = array[1]
    if not isinstance(profile, pikepdf.Stream):
        return ColorSpace("ICCBased", "gray", 1, ("Black",))
    channels = _integer(profile.get("/N"), 0)
    if channels not in (1, 3, 4) and "/Alternate" in profile:
        channels = color_space(profile.Alternate, depth + 1).components
    family, colorants = _BY_CHANNELS.get(channels, ("multicolor", ()))
    if channels == 3 and _profile_space(profile) == b"Lab ":
        family = "lab"
    written = f"ICCBased ({channels} channels)" if channels != 1 else "ICCBased (1 channel)"
    number, generation = profile.objgen
    return ColorSpace(written, family, channels, colorants, profile=f"{number} {generation}")


def _profile_space(profile: pikepdf.Stream) -> bytes:
    """Bytes 16 to 19 of an ICC profile's header name its colour space (ISO 15076-1, 7.2.6)."""
    try:
        return bytes(profile.read_bytes()[16:20])
    except pikepdf.PdfError:
        return b""


def _lab(_array: pikepdf.Array, _depth: int) -> ColorSpace:
    return ColorSpace("Lab", "lab", 3, ())


def _separation(array: pikepdf.Array, _depth: int) -> ColorSpace:
    name = _ink_name(array[1])
    written = f'Separation "{name}"'
    if name == "All":
        return ColorSpace(written, "registration", 1, ("All",))
    if name == "None":
        return ColorSpace(written, None, 1, ("",))
    return ColorSpace(written, _family_of((name,)), 1, (name,))


def _device_n(array: pikepdf.Array, _depth: int) -> ColorSpace:
    names = [_ink_name(one) for one in array[1]] if isinstance(array[1], pikepdf.Array) else []
    colorants = tuple("" if name == "None" else name for name in names)
    listed = ", ".join(f'"{name}"' for name in names)
    real = tuple(name for name in colorants if name)
    return ColorSpace(f"DeviceN ({listed})", _family_of(real) if real else None, len(names), colorants)


def _family_of(names: tuple[str, ...]) -> ColorFamily:
    if "All" in names:
        return "registration"
    if any(name not in PROCESS_INKS for name in names):
        return "spot"
    return "gray" if names == ("Black",) else "cmyk"


def _ink_name(written: pikepdf.Object) -> str:
    """Names are UTF-8 by intent (7.9.2.2); others are read as Latin-1. Blanks at the ends are nobody's intent."""
    if not isinstance(written, pikepdf.Name):
        return str(written).strip()[:100]
    return " ".join(re.sub(r"[\x00-\x1f\x7f]", " ", name_text(written)).split())[:100]


def _indexed(array: pikepdf.Array, depth: int) -> ColorSpace:
    base = color_space(array[1], depth + 1)
    highest = min(max(_integer(array[2], 0) if len(array) > 2 else 0, 0), 255)
    table = _table_bytes(array[3]) if len(array) > 3 else b""
    size = base.components
    palette = tuple(
        tuple(_from_byte(base, position, byte) for position, byte in enumerate(table[start : start + size]))
        for start in range(0, min(len(table), (highest + 1) * size), size or 1)
    ) if size else ()
    written = f"Indexed ({base.written})"
    return ColorSpace(written, base.family, 1, base.colorants, palette or ((0.0,) * size,), base, base.profile)


def _from_byte(base: ColorSpace, position: int, byte: int) -> float:
    """Bytes of the table span the range of the base's component (8.6.6.3); a* and b* of Lab by their usual range."""
    if base.family == "lab":
        return byte / 2.55 if position == 0 else byte - 128.0
    return byte / 255


def _table_bytes(table: pikepdf.Object) -> bytes:
    try:
        return table.read_bytes() if isinstance(table, pikepdf.Stream) else bytes(table)
    except (pikepdf.PdfError, TypeError, ValueError):
        return b""


def _pattern(array: pikepdf.Array, depth: int) -> ColorSpace:
    base = color_space(array[1], depth + 1)
    return ColorSpace("Pattern", base.family, base.components, base.colorants, base=base)


def _integer(value: object, otherwise: int) -> int:
    try:
        return int(value)  # type: ignore[call-overload, no-any-return]
    except (TypeError, ValueError, OverflowError):
        return otherwise


_READERS = {
    "ICCBased": _icc_based, "Lab": _lab, "Separation": _separation, "DeviceN": _device_n,
    "Indexed": _indexed, "I": _indexed, "Pattern": _pattern,
}
