"""The spec sheet as plain frozen records: what a printer asks for. Lengths are mm, type and lines points, ink percent.

A block that is None is not asked for. `level` of a block lowers or keeps all of it; `note` is the printer's own words.
`service.sheets.format.validation` turns YAML and JSON into these, `service.sheets.format.writing` turns them back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from service.pdf.facts.geometry import Box

Level = Literal["must", "should"]
"""RFC 2119: a broken must is a nonconformity, a broken should an observation."""
Switch = Literal["must", "should", "off"]
Need = Literal["required", "allowed", "forbidden"]
Permission = Literal["allowed", "forbidden"]
FontFormat = Literal["type-1", "truetype", "type-3"]
Purpose = Literal["print", "client-preview"]
Arrangement = Literal["single-pages", "reader-spreads", "any"]
Orientation = Literal["any", "portrait", "landscape"]
Corner = Literal["top-left", "top-right", "bottom-left", "bottom-right"]
ColorName = Literal["cmyk", "gray", "rgb", "lab"]


@dataclass(frozen=True, kw_only=True)
class Block:
    level: Level | None = None
    """None: the rule's own level."""
    note: str | None = None


@dataclass(frozen=True)
class Reference:
    """Where a number of the sheet comes from."""

    name: str
    about: str


@dataclass(frozen=True, kw_only=True)
class FileAsked(Block):
    maximum_size_bytes: int | None = None
    minimum_version: str | None = None
    maximum_version: str | None = None
    standards: tuple[str, ...] = ()
    standards_level: Level = "must"
    encryption: Literal["allowed", "forbidden"] | None = None
    output_conditions: tuple[str, ...] = ()
    linearized: Need | None = None
    layers: Permission | None = None
    separations: Permission | None = None
    screening: Permission | None = None
    """Halftones and transfer functions."""


@dataclass(frozen=True, kw_only=True)
class PagesAsked(Block):
    allowed: tuple[int, ...] = ()
    minimum: int | None = None
    maximum: int | None = None
    multiple_of: int | None = None
    arrangement: Arrangement = "any"
    rotation: Permission | None = None


@dataclass(frozen=True)
class Size:
    width_mm: float
    height_mm: float


@dataclass(frozen=True, kw_only=True)
class TrimAsked(Block):
    width_mm: float
    height_mm: float
    tolerance_mm: float = 0.5
    orientation: Orientation = "any"
    alternatives: tuple[Size, ...] = ()
    """Other sizes that are taken as well."""
    scales: tuple[int, ...] = (1,)
    """The file may be drawn at 1 : n; the sheet's lengths are those of the product."""


@dataclass(frozen=True, kw_only=True)
class EdgesAsked(Block):
    """A depth along the edges of the trimmed page: the same on each side, but for those that are named."""

    minimum_mm: float
    binding_mm: float | None = None
    """Left on odd pages, right on even ones."""
    outer_mm: float | None = None
    head_mm: float | None = None
    foot_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class BleedAsked(EdgesAsked):
    maximum_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class MarginAsked(EdgesAsked):
    preferred_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class MarksAsked(Block):
    crop_marks: Need | None = None
    offset_minimum_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class SpotsAsked:
    maximum: int | None = None
    allowed: tuple[str, ...] | None = None
    """Ink names that the printer takes; None: any name."""


@dataclass(frozen=True, kw_only=True)
class ColorAsked(Block):
    allowed: tuple[ColorName, ...] | None = None
    spots: SpotsAsked | None = None
    ink_limit_percent: float | None = None
    ink_area_mm2: float = 15.0
    """How much of the page may be over the limit. Common practice, no source."""
    ink_preferred_percent: float | None = None
    rgb_level: Level | None = None
    icc_profiles: Permission | None = None


@dataclass(frozen=True, kw_only=True)
class Resolution:
    minimum_ppi: float | None = None
    preferred_ppi: float | None = None
    maximum_ppi: float | None = None


@dataclass(frozen=True, kw_only=True)
class ImagesAsked(Block):
    contone: Resolution | None = None
    bilevel: Resolution | None = None
    jpeg: Permission | None = None


@dataclass(frozen=True, kw_only=True)
class TextAsked(Block):
    minimum_size_pt: float | None = None
    reversed_minimum_size_pt: float | None = None
    rich_black_minimum_size_pt: float | None = None
    black_alone: bool = False
    """Black text in black ink and no other."""


@dataclass(frozen=True, kw_only=True)
class LinesAsked(Block):
    minimum_width_pt: float | None = None
    reversed_minimum_width_pt: float | None = None


@dataclass(frozen=True, kw_only=True)
class FontsAsked(Block):
    embedded: Literal["required", "allowed"] = "required"
    outlines: Literal["required", "allowed"] = "allowed"
    """Text turned to outlines instead of fonts."""
    formats: tuple[FontFormat, ...] = ()
    """Empty: any."""


@dataclass(frozen=True, kw_only=True)
class TransparencyAsked(Block):
    live: Need = "allowed"


@dataclass(frozen=True, kw_only=True)
class KeepClearArea(Block):
    name: str
    box_mm: Box
    """From its corner of the trimmed page: the top-left one, or that of `corner`."""
    pages: tuple[int, ...] | None = None
    """None: on every page."""
    corner: Corner = "top-left"
    """Where the box is measured from, always inwards."""
    free_of: Literal["ink", "text"] = "ink"
    """`text`: pictures and colour may stand there."""


@dataclass(frozen=True, kw_only=True)
class Fold(Block):
    at_mm: float
    axis: Literal["vertical", "horizontal"]
    """`vertical`: the fold runs from top to bottom, `at_mm` from the left edge."""


FoldType = Literal["half", "zigzag", "roll", "gate"]


@dataclass(frozen=True, kw_only=True)
class FoldingAsked(Block):
    type: FoldType
    """`half`: once in the middle; `zigzag`: to and fro; `roll`: one panel inside the next; `gate`: gate fold."""


@dataclass(frozen=True, kw_only=True)
class SpineAsked(Block):
    """A cover laid out flat: back, spine, front. What only the order knows comes from it (see `for_order`)."""

    page_width_mm: float
    page_height_mm: float | None = None
    caliper_mm: float | None = None
    """Of one leaf of the inner paper."""
    cover_caliper_mm: float = 0.0
    inner_pages: int | None = None
    text_free_mm: float | None = None
    """How far text keeps from the folds; None: common practice."""
    tolerance_mm: float = 1.0


@dataclass(frozen=True, kw_only=True)
class Finish(Block):
    ink: str
    also: tuple[str, ...] = ()
    """Other names that its plate may have."""
    must_overprint: bool = False
    artwork: Literal["vector", "any"] = "any"
    required: bool = False

    @property
    def plate_names(self) -> tuple[str, ...]:
        """Every name that its plate may have."""
        return (self.ink, *self.also)


@dataclass(frozen=True, kw_only=True)
class Paper:
    """What one of the papers that the product is printed on changes; the order says which it is."""

    name: str
    ink_limit_percent: float | None = None
    maximum_pages: int | None = None


@dataclass(frozen=True, kw_only=True)
class SpecSheet:
    """One product of one printer. Identity is optional in an inline sheet, required in a stored one."""

    id: str | None = None
    revision: int | None = None
    title: str | None = None
    product: str | None = None
    regions: tuple[str, ...] = ()
    purpose: Purpose = "print"
    summary: str | None = None
    names: tuple[str, ...] = ()
    """Other names that people look for it by, in any language."""
    aliases: tuple[str, ...] = ()
    """Other ids under which it is found."""
    references: tuple[Reference, ...] = ()
    note: str | None = None
    file: FileAsked | None = None
    pages: PagesAsked | None = None
    trim: TrimAsked | None = None
    bleed: BleedAsked | None = None
    margin: MarginAsked | None = None
    marks: MarksAsked | None = None
    color: ColorAsked | None = None
    images: ImagesAsked | None = None
    text: TextAsked | None = None
    lines: LinesAsked | None = None
    fonts: FontsAsked | None = None
    transparency: TransparencyAsked | None = None
    keep_clear: tuple[KeepClearArea, ...] = ()
    folds: tuple[Fold, ...] = ()
    folding: FoldingAsked | None = None
    spine: SpineAsked | None = None
    finishes: tuple[Finish, ...] = ()
    papers: tuple[Paper, ...] = ()
    levels: Mapping[str, Switch] = field(default_factory=dict)
    """Rule id → level: turns a rule up, down or off."""
