"""One page: its boxes, what it paints, what stands beside that, and what its ink plates say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.box_names import BoxName
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.painted.content import Content
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import Unmeasured

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
    draws_frame: bool
    """A line of some width and colour is to be drawn around it (12.5.2, Border; 12.5.4): the default where nothing is said."""


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
    annotations: tuple[Annotation, ...] | Unmeasured
    crop_marks_mm: Box | Unmeasured | None
    """The rectangle that crop marks outside the trim point at; None where none is marked, or several are."""
    plates: PlateFacts | Unmeasured

    @property
    def trim_width_mm(self) -> float:
        return self.boxes_mm.trim.width

    @property
    def trim_height_mm(self) -> float:
        return self.boxes_mm.trim.height

    def declared(self, name: BoxName) -> Box | None:
        return next((one.box for one in self.declared_boxes if one.name == name), None)
