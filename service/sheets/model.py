"""The spec sheet as plain frozen records: what a printer asks for. Lengths are mm, type and lines points, ink percent.

A block that is None is not asked for. `level` of a block lowers or keeps all of it; `note` is the printer's own words.
`service.sheets.format.validation` turns YAML and JSON into these, `service.sheets.format.writing` turns them back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from service.pdf.facts.box_names import BoxName
from service.pdf.facts.geometry import Box
from service.sheets.asked.colors import ColorAsked as ColorAsked
from service.sheets.asked.colors import ColorName as ColorName
from service.sheets.asked.colors import RichBlack as RichBlack
from service.sheets.asked.colors import SpotsAsked as SpotsAsked
from service.sheets.asked.colors import TintsAsked as TintsAsked
from service.sheets.asked.edges import BleedAsked as BleedAsked
from service.sheets.asked.edges import EdgesAsked as EdgesAsked
from service.sheets.asked.edges import MarginAsked as MarginAsked
from service.sheets.asked.edges import MarginStep as MarginStep
from service.sheets.asked.edges import Orientation as Orientation
from service.sheets.asked.edges import OtherSize as OtherSize
from service.sheets.asked.edges import Part as Part
from service.sheets.asked.edges import Size as Size
from service.sheets.asked.edges import TrimAsked as TrimAsked
from service.sheets.asked.levels import Block as Block
from service.sheets.asked.levels import Level as Level
from service.sheets.asked.levels import Permission as Permission

Switch = Literal["must", "should", "off"]
Need = Literal["required", "allowed", "forbidden"]
FontFormat = Literal["type-1", "truetype", "type-3"]
Purpose = Literal["print", "client-preview"]
Arrangement = Literal["single-pages", "reader-spreads", "any"]
Corner = Literal["top-left", "top-right", "bottom-left", "bottom-right"]


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
    boxes: tuple[BoxName, ...] = ()
    """Those that every page is to have."""


@dataclass(frozen=True, kw_only=True)
class MarksAsked(Block):
    crop_marks: Need | None = None
    offset_minimum_mm: float | None = None


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
    bound_to: Corner = "top-left"
    """Of a variant, whose boxes count from the top left: the corner that the box keeps to on pages of another size (see
    `product.kept_clear`); never written."""


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
    single_pages: Permission | None = None
    """Whether the file may hold each panel of a half fold as a page of its own."""


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


FinishKind = Literal["cut", "kiss-cut", "crease", "perforation", "hole", "numbering", "white", "foil", "varnish", "embossing"]


@dataclass(frozen=True, kw_only=True)
class Finish(Block):
    ink: str
    kind: FinishKind | None = None
    """`cut`: its line is the edge of the product, which bleed and margin are measured from; `kiss-cut`: of each of several pieces
    on one page."""
    also: tuple[str, ...] = ()
    """Other names that its plate may have."""
    must_overprint: bool = False
    overprint_level: Level | None = None
    """Of a finish that knocks out, where it is another than the finish's own."""
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
