"""What was found in a PDF: plain frozen records in millimetres, ppi, points of type and percent.

They know no sheet and no PDF library, are stored with the check, and outlive the file, so that it can be judged again
against another sheet. What could not be measured is `Unmeasured(why)`: never zero, never a pass.

Boxes are in ruler coordinates: mm from the top-left corner of the trimmed page as displayed (after Rotate), y downwards.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Generic, Literal, TypeVar

from service.pdf.facts.document_facts import NOT_LOOKED_AT, Document, Encryption, Failure, FailureKind, Unmeasured
from service.pdf.facts.geometry import Box
from service.pdf.facts.plate_records import EdgeStop, FinishingPlate, HeavyInk, InkCoverage, InkMap, PlateFacts

__all__ = [
    "Document", "EdgeStop", "Encryption", "Failure", "FailureKind", "FinishingPlate", "HeavyInk", "InkCoverage", "InkMap",
    "PlateFacts", "Unmeasured",
]  # fmt: skip
"""Taken over from `document_facts` and `plate_records`; everything defined here is public too."""

T = TypeVar("T")


@dataclass(frozen=True)
class Sides(Generic[T]):
    """One value for each side of the page as displayed."""

    top: T
    right: T
    bottom: T
    left: T

    def items(self) -> Iterator[tuple[str, T]]:
        yield from (("top", self.top), ("right", self.right), ("bottom", self.bottom), ("left", self.left))


# --- A page's boxes ---------------------------------------------------------------------------------------------------

BoxName = Literal["media", "crop", "bleed", "trim", "art"]
TrimSource = Literal["trim_box", "art_box", "crop_marks", "crop_box", "media_minus_bleed", "media_box"]


@dataclass(frozen=True)
class PageBoxes:
    """The five boxes in force, mm: defaults of ISO 32000-2:2020, 14.11.2 applied, each cut to the MediaBox.

    `trim` is the trim as it was worked out (see `Page.trim_source`).
    """

    media: Box
    crop: Box
    bleed: Box
    trim: Box
    art: Box


@dataclass(frozen=True)
class DeclaredBox:
    """A box as the page dictionary has it (or inherits it), corners put in order, nothing cut: it may lie off the sheet."""

    name: BoxName
    box: Box


# --- What a page paints -----------------------------------------------------------------------------------------------

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
    beyond_bleed: bool = False
    """True for objects that lie wholly outside the bleed, where marks and slug stand: they are summed up apart."""
    profile: str | None = None
    """Of an ICC space: the key of its `Profile` in `Document.profiles`."""


ImageKind = Literal["contone", "bilevel", "mask"]


@dataclass(frozen=True)
class Image:
    """An image as placed on the page; drawn twice, it is two."""

    box_mm: Box
    """Around its unit square after every matrix, not cut by clips."""
    visible_box_mm: Box
    """The part that clips and the media leave."""
    width_px: int
    height_px: int
    ppi_x: float
    """Pixels over the placed length of its own x direction; `ppi_y` likewise."""
    ppi_y: float
    kind: ImageKind
    """`contone`; `bilevel`: 1 bit a pixel; `mask`: a stencil, painted in the current colour."""
    space: str
    """Colour space as written, as in `ColorUse.written`; for a stencil that of the paint."""
    bits: int
    filter: str | None
    """The last filter of the stream, 'DCTDecode'; None where it is stored bare."""
    jpeg_quality: int | Unmeasured | None = None
    """Estimated from the quantisation tables, 1–100; None where the image is no JPEG."""
    inline: bool = False
    stored_bytes: int | Unmeasured = NOT_LOOKED_AT
    """Of its data as the file holds it."""

    @property
    def ppi(self) -> float:
        """The lower of the two directions."""
        return min(self.ppi_x, self.ppi_y)


FontType = Literal["Type1", "TrueType", "Type3", "CIDFontType0", "CIDFontType2", "MMType1", "unknown"]


@dataclass(frozen=True)
class FontUse:
    """A font that paints text on the page."""

    name: str
    """BaseFont without a subset tag."""
    type: FontType
    embedded: bool
    """Type 3 glyphs are in the file by their nature: True."""
    subset: bool
    boxes_mm: tuple[Box, ...]
    """Where its text stands: the first runs only."""
    damage: str | Unmeasured | None = None
    """Why its embedded program does not parse; None where it does, or where none is embedded."""


@dataclass(frozen=True)
class TextRun:
    """What one text-showing operator shows."""

    text: str
    """Unicode by ToUnicode or the encoding; U+FFFD for a glyph without a known character."""
    box_mm: Box
    visible: bool
    """False where nothing of it can be seen on the print: rendering mode 3 or 7, clipped away, outside the media,
    in a layer that does not print."""
    font: str
    size_pt: float
    """Effective, through every matrix: how tall an em is on paper."""
    written: str
    """Colour space of the paint, as in `ColorUse.written`."""
    inks: tuple[str, ...]
    tint: float = 1.0
    """The strongest of its inks, 0–1; 1 where a conversion decides (RGB, Lab)."""
    white: bool = False
    """It leaves the paper white: reversed out where `on_ink`."""
    on_ink: bool = False
    """Ink was painted under its middle before, by the bounds of objects."""
    overprints: bool = False
    """It leaves the inks below it that it does not paint (ISO 32000-2:2020, 8.6.7)."""
    black_tint: float = 0.0
    """How strong black is among its inks, 0–1; 0 where it is none of them."""


@dataclass(frozen=True)
class LineUse:
    """Lines of one width and paint: strokes, and filled areas as thin as a line."""

    width_pt: float
    """Effective, where a matrix squeezes it most; 0: the thinnest line that the device can draw (8.4.3.2)."""
    drawn: Literal["stroke", "thin fill"]
    inks: tuple[str, ...]
    tint: float
    white: bool
    on_ink: bool
    """As in `TextRun`, for at least one of them."""
    overprints: bool
    count: int
    boxes_mm: tuple[Box, ...]
    beyond_trim: bool = False
    """True for lines that lie wholly outside the trim, where marks stand: they are summed up apart."""


OverprintCase = Literal["white vanishes", "black knocks out", "black overprints"]


@dataclass(frozen=True)
class OverprintUse:
    """White or solid black that meets ink below it, and what becomes of it there."""

    case: OverprintCase
    kind: ObjectKind
    size_pt: float
    """Of text its size, of a line its width, of an area its smaller side."""
    count: int
    boxes_mm: tuple[Box, ...]


@dataclass(frozen=True)
class TransparencyUse:
    """One kind of live transparency that visible objects use (ISO 32000-2:2020, 11)."""

    kind: Literal["alpha", "blend mode", "soft mask", "picture with soft mask"]
    detail: str
    """The blend mode's name, the lowest opacity as '0.5'; else ''."""
    count: int
    boxes_mm: tuple[Box, ...]


@dataclass(frozen=True)
class HiddenContent:
    """Content that screen and print do not share: layers by their states (8.11), annotations by their flags (12.5.3)."""

    prints: bool
    shows: bool
    layer: str
    """The layer's name; 'annotation' for one that its flags hide."""
    count: int
    boxes_mm: tuple[Box, ...]


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


@dataclass(frozen=True)
class Artwork:
    """A vector object that leaves ink, or a crowd of small ones that stand in one square of `CROWD_MM`."""

    kind: ObjectKind
    box_mm: Box
    """The visible part."""
    inks: tuple[str, ...]
    """Empty where a conversion decides."""
    count: int = 1


@dataclass(frozen=True)
class MarkLine:
    """A short thin straight line, level or upright, that can be a printer's mark."""

    box_mm: Box
    """Of its centre line: one side is 0."""
    width_pt: float
    inks: tuple[str, ...]
    registration: bool
    """Painted in every ink (Separation All, or all four process inks)."""


@dataclass(frozen=True)
class StandIn:
    """Something placed in the layout whose real content is not in the file."""

    kind: Literal["missing object", "OPI"]
    box_mm: Box


@dataclass(frozen=True)
class Content:
    """What one page's content paints as printed, from one walk."""

    images: tuple[Image, ...]
    colors: tuple[ColorUse, ...]
    fonts: tuple[FontUse, ...]
    text_runs: tuple[TextRun, ...]
    meets_trim: Sides[bool]
    """Whether coloured artwork (not white) reaches the trim line on that side, by the bounds of objects."""
    lines: tuple[LineUse, ...] = ()
    overprints: tuple[OverprintUse, ...] = ()
    transparency: tuple[TransparencyUse, ...] = ()
    hidden: tuple[HiddenContent, ...] = ()
    spots: tuple[SpotUse, ...] = ()
    artwork: tuple[Artwork, ...] | Unmeasured = ()
    mark_lines: tuple[MarkLine, ...] = ()
    """Those wholly outside the trim."""
    stand_ins: tuple[StandIn, ...] = ()


@dataclass(frozen=True)
class Annotation:
    """What stands on a page beside its content: a comment, a form field, a link (ISO 32000-2:2020, 12.5)."""

    subtype: str
    """As the file has it: 'Text', 'Link', 'Widget'."""
    label: str
    """The same in plain words: 'note', 'link', 'form field'."""
    box_mm: Box
    prints: bool
    """By its flags (12.5.3) and its layer; `shows` on a screen likewise."""
    shows: bool
    has_appearance: bool
    """The file says how it looks; without, that is the reader's own choice."""


NO_PLATES = Unmeasured("Ink plates were not made.")


@dataclass(frozen=True)
class Page:
    number: int
    rotation: Literal[0, 90, 180, 270]
    user_unit: float
    declared_boxes: tuple[DeclaredBox, ...]
    boxes_mm: PageBoxes
    trim_source: TrimSource
    bleed_declared: bool
    """True where the page has a BleedBox of its own; else `bleed_mm` is what the media has beyond the trim."""
    bleed_mm: Sides[float]
    content: Content | Unmeasured
    bleed_reach_mm: Sides[float | None] | Unmeasured
    ink_max_percent: float | Unmeasured
    annotations: tuple[Annotation, ...] | Unmeasured = ()
    crop_marks_mm: Box | Unmeasured | None = NOT_LOOKED_AT
    """The rectangle that crop marks outside the trim point at; None where none is marked, or several are."""
    plates: PlateFacts | Unmeasured = NO_PLATES

    @property
    def trim_width_mm(self) -> float:
        return self.boxes_mm.trim.width

    @property
    def trim_height_mm(self) -> float:
        return self.boxes_mm.trim.height

    def declared(self, name: BoxName) -> Box | None:
        return next((one.box for one in self.declared_boxes if one.name == name), None)


@dataclass(frozen=True)
class Measurements:
    document: Document
    pages: tuple[Page, ...] | Unmeasured

    @classmethod
    def unreadable(cls, size_bytes: int, failure: Failure) -> Measurements:
        """All that can be said of a file that could not be opened, or not within the limits."""
        unknown = failure.reason
        facts = ("identification", "output_intents", "profiles", "layers", "features", "active_content", "linearization")
        document = Document(size_bytes, failure, unknown, unknown, unknown, damage=(), **dict.fromkeys(facts, unknown))  # type: ignore[arg-type]
        return cls(document, unknown)


@dataclass(frozen=True)
class Question:
    """What measuring is asked to find out: never what would be right."""

    trim_sizes_mm: tuple[tuple[float, float], ...] = ()
    """Sizes (width, height) to try where the page declares no trim."""
    bleeds_mm: tuple[float, ...] = (3.0, 3.175, 5.0)
    """Symmetric bleeds to try with them."""
    ink_limits_percent: tuple[float, ...] = ()
    """Limits of total ink for which to tell where the page is over them."""
    finishing_inks: tuple[str, ...] = ()
    """Foil, varnish, cut lines: no printing inks, left out of the total."""


CROWD_MM = 2.0
"""Vector objects smaller than this are summed up by squares of this size; the sum keeps their outermost edges."""

MOST_PLACES = 20
"""How many places one line of a page's summary keeps."""
