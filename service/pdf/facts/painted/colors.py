"""How the objects that a page paints use colours and inks, one above the other included."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.geometry import Box

ColorFamily = Literal["cmyk", "gray", "rgb", "lab", "spot", "multicolor", "registration"]
"""What a colour is for a printer. An ICC space counts by its channels, Cal* by its family, Indexed, Pattern and
Separation by what prints. `spot`: at least one ink beyond cyan, magenta, yellow and black. `registration`: the
colorant All. `multicolor`: an ICC space of another number of channels."""

ObjectKind = Literal["text", "fill", "stroke", "image", "shading", "group", "soft mask"]


@dataclass(frozen=True)
class ColorUse:
    """One way of naming colour that a page's visible content uses, for one kind of object."""

    family: ColorFamily
    written: str
    """As the file has it, for example 'DeviceRGB', 'ICCBased (3 channels)', 'Separation "Copper"'."""
    kind: ObjectKind
    inks: tuple[str, ...]
    """Names of the inks that it paints; empty where a conversion to the printing inks decides (RGB, Lab)."""
    count: int
    """How many objects."""
    boxes_mm: tuple[Box, ...]
    """Where: the first ones only (see `MOST_PLACES`)."""
    beyond_bleed: bool
    """True for objects that lie wholly outside the bleed, where marks and slug stand, and for short thin lines outside the trim,
    as marks are: they are summed up apart.
    """
    profile: str | None
    """Of an ICC space: the key of its `Profile` in `Document.profiles`."""
    white: bool
    """All of them are white: where they knock out, the paper stays, whatever space says so."""


@dataclass(frozen=True)
class SpotUse:
    """How one ink beyond cyan, magenta, yellow and black is used by one kind of object."""

    ink: str
    kind: ObjectKind
    tint_least: float
    tint_most: float
    """0–1; pictures and shadings count from 0 to 1."""
    alone: bool
    """No other ink is painted with it, in any of the objects."""
    overprints: bool
    """All of the objects do."""
    count: int
    boxes_mm: tuple[Box, ...]


OverprintCase = Literal["white vanishes", "black knocks out", "black overprints"]


@dataclass(frozen=True)
class Tint:
    ink: str
    strength: float
    """0–1."""


NEAR_NOTHING, NEAR_SOLID, NEAR_BLACK = 0.2, 0.8, 0.8
"""Which plain colours are listed: tints up to the first, tints from the second on that are not solid, and from the third on
black with other inks. Printers ask for limits well within them. Ours, no source."""


@dataclass(frozen=True)
class PlainColor:
    """A colour of text, lines or areas, in plain and opaque ink, that is nearly nothing, nearly solid, or a black of several
    inks. Pictures and gradients have none.
    """

    kind: ObjectKind
    tints: tuple[Tint, ...]
    """To a whole percent; those of no ink left out."""
    count: int
    boxes_mm: tuple[Box, ...]


@dataclass(frozen=True)
class OverprintUse:
    """White or solid black that meets ink below it, and what becomes of it there."""

    case: OverprintCase
    kind: ObjectKind
    size_pt: float
    """Of text its size, of a line its width, of an area its smaller side."""
    count: int
    boxes_mm: tuple[Box, ...]
    tints_below: tuple[Tint, ...] | None
    """Of the plain colour that it stands on; None where that differs from spot to spot, or is not known. Of RGB the complements
    stand for inks. Empty for black that overprints what the plates show to be even.
    """


@dataclass(frozen=True)
class TransparencyUse:
    """One kind of live transparency that visible objects use (ISO 32000-2:2020, 11)."""

    kind: Literal["alpha", "blend mode", "soft mask", "picture with soft mask"]
    detail: str
    """The blend mode's name, the lowest opacity as '0.5'; else ''."""
    count: int
    boxes_mm: tuple[Box, ...]
