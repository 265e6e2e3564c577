"""What one page's content paints as printed."""

from __future__ import annotations

from dataclasses import dataclass

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.colors import ColorUse, OverprintUse, PlainColor, SpotUse, TransparencyUse
from service.pdf.facts.painted.images import Image, StandIn
from service.pdf.facts.painted.text import FontUse, TextRun
from service.pdf.facts.painted.vectors import Artwork, Frame, LineUse, MarkLine
from service.pdf.facts.unknown import Unmeasured

MOST_PLAIN_COLORS = 200
"""How many different colours of those that are listed one page keeps."""
MOST_LAYERS = 100
"""How many layers one page keeps."""
MOST_PLACES = 20
"""How many places one line of a page's summary keeps."""


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
class LayerUse:
    """What prints and shows of one layer, by its name."""

    layer: str
    lines: int
    """How many strokes, and areas as thin as one."""
    texts: int
    others: int
    """Areas, pictures, gradients. Specks of less than `CROWD_MM` may be missing."""
    inks: tuple[str, ...]
    """Of the lines; empty where a conversion decides."""
    boxes_mm: tuple[Box, ...]
    """Of the lines: the first `MOST_PLACES`."""


@dataclass(frozen=True)
class Content:
    """What one page's content paints as printed, from one walk."""

    images: tuple[Image, ...]
    colors: tuple[ColorUse, ...]
    fonts: tuple[FontUse, ...]
    text_runs: tuple[TextRun, ...]
    meets_trim: Sides[bool]
    """Whether coloured artwork (not white) reaches the trim line on that side, by the bounds of objects."""
    lines: tuple[LineUse, ...]
    overprints: tuple[OverprintUse, ...]
    transparency: tuple[TransparencyUse, ...]
    hidden: tuple[HiddenContent, ...]
    spots: tuple[SpotUse, ...]
    artwork: tuple[Artwork, ...] | Unmeasured
    mark_lines: tuple[MarkLine, ...]
    """Those wholly outside the trim."""
    stand_ins: tuple[StandIn, ...]
    frames: tuple[Frame, ...]
    """The first `MOST_PLACES`."""
    plain_ink_percent: float | None
    """Of a page of plain type, lines and areas in process colours, some of it type that surely shows, and nothing within a
    millimetre of the trim's edge: the most ink that one place can hold. None where only plates tell.
    """
    plain_colors: tuple[PlainColor, ...]
    """The first `MOST_PLAIN_COLORS`."""
    layers: tuple[LayerUse, ...]
    """The first `MOST_LAYERS`."""


def inks_of(content: Content) -> tuple[str, ...]:
    """The inks that a page's plates need: the process inks that its colours can reach, then its spots."""
    named: dict[str, None] = {}
    everything = False
    for use in content.colors:
        if use.kind not in ("soft mask", "group"):
            named.update(dict.fromkeys(use.inks))
            everything |= not use.inks and use.family in ("rgb", "lab")
            everything |= use.family == "registration"
    process = [ink for ink in PROCESS_INKS if everything or ink in named]
    return (*process, *(ink for ink in named if ink not in PROCESS_INKS and ink != "All"))
