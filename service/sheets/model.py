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
from service.sheets.color_asked import ColorAsked as ColorAsked
from service.sheets.color_asked import ColorName as ColorName
from service.sheets.color_asked import RichBlack as RichBlack
from service.sheets.color_asked import SpotsAsked as SpotsAsked
from service.sheets.color_asked import TintsAsked as TintsAsked
from service.sheets.levels import Block as Block
from service.sheets.levels import Level as Level
from service.sheets.levels import Permission as Permission

Switch = Literal["must", "should", "off"]
Need = Literal["required", "allowed", "forbidden"]
FontFormat = Literal["type-1", "truetype", "type-3"]
Purpose = Literal["print", "client-preview"]
Arrangement = Literal["single-pages", "reader-spreads", "any"]
Orientation = Literal["any", "portrait", "landscape"]
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


@dataclass(frozen=True)
class Size:
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class OtherSize(Size):
    """A size that is taken as well."""

    folds_mm: tuple[float, ...] = ()
    """Where it folds, one for each of the sheet's folds in their order; empty: where these say."""


@dataclass(frozen=True, kw_only=True)
class Part:
    """Pages of the file that have a size of their own, such as the cover: its first and its last ones."""

    name: str
    width_mm: float
    height_mm: float
    first: int | None = None
    """How many pages at the beginning belong to it."""
    last: int | None = None
    """How many at the end."""
    of_pages: int | None = None
    """How many pages there are, which only a file says (see `product.parts`); never written."""


@dataclass(frozen=True, kw_only=True)
class TrimAsked(Block):
    width_mm: float
    height_mm: float
    tolerance_mm: float = 0.5
    orientation: Orientation = "any"
    alternatives: tuple[OtherSize, ...] = ()
    scales: tuple[int, ...] = (1,)
    """The file may be drawn at 1 : n; the sheet's lengths are those of the product."""
    corner_radius_mm: float | None = None
    parts: tuple[Part, ...] = ()
    """Pages of another size than the rest; of two that hold a page the first counts."""


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
class MarginStep:
    """The margin of a file of at least so many pages, where it is another."""

    from_pages: int
    minimum_mm: float | None = None
    binding_mm: float | None = None
    outer_mm: float | None = None
    head_mm: float | None = None
    foot_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class MarginAsked(EdgesAsked):
    preferred_mm: float | None = None
    by_pages: tuple[MarginStep, ...] = ()
    frames: Permission | None = None
    """A line drawn around the page."""
    frame_minimum_mm: float | None = None
    """How far inside the trim it stands, where it is allowed; `frame_width_mm`: how thick it is, at least."""
    frame_width_mm: float | None = None
    live_area: Size | None = None
    """In the middle of the trimmed page: the depths of the edges follow from it (see `with_live_area`)."""


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


FinishKind = Literal["cut", "crease", "perforation", "hole", "numbering", "white", "foil", "varnish", "embossing"]


@dataclass(frozen=True, kw_only=True)
class Finish(Block):
    ink: str
    kind: FinishKind | None = None
    """`cut`: its line is the edge of the product, which bleed and margin are measured from."""
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
