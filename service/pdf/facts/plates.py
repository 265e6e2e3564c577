"""What ink plates say about a page."""

from __future__ import annotations

from dataclasses import dataclass

from service.pdf.facts.geometry import Box, Side
from service.pdf.facts.ink_map import InkMap
from service.pdf.facts.unknown import Unmeasured


@dataclass(frozen=True)
class InkCoverage:
    """One ink on one page."""

    ink: str
    percent: float
    """Mean over the trimmed page."""
    empty: bool
    """Nothing of it lands inside the bleed: whatever is painted in it is white, covered up, or stands in the slug."""


@dataclass(frozen=True)
class EdgeStop:
    """A part of a trim edge where ink stands and ends before the bleed does."""

    side: Side
    from_mm: float
    """Along the edge: x of the top and bottom edges, y of the others; `to_mm` likewise, and larger."""
    to_mm: float
    reach_mm: float
    """How far beyond the trim it goes there."""


@dataclass(frozen=True)
class HeavyInk:
    """The largest regions that carry more than one limit of total ink, with the slack of half a percent."""

    limit_percent: float
    boxes_mm: tuple[Box, ...]


@dataclass(frozen=True)
class FinishingPlate:
    """The plate of one finishing ink on one page."""

    ink: str
    ink_map: InkMap
    tint_least_percent: float | None
    """The lightest of its tints, edges apart; None where there are none."""
    tinted_boxes_mm: tuple[Box, ...]
    """The largest regions of tints."""


@dataclass(frozen=True)
class PlateFacts:
    """What the plates of one page say; `Page` has the depth that ink reaches into the bleed, and the most ink in total."""

    ppi: float
    """Of the plates; lower than usual for a very large page."""
    converted: bool
    """RGB or Lab colours were converted to the process inks: the press may do it otherwise."""
    blank: bool
    """No ink at all inside the trim."""
    inks: tuple[InkCoverage, ...]
    """Process inks first, then spots."""
    left_out: tuple[str, ...]
    """Finishing inks: neither in the total nor in what reaches the bleed."""
    ink_area_mm2: tuple[float, ...]
    """By whole percent: how much of the page, its bleed included, carries at least so much ink in total; 0 beyond the end."""
    ink_max_box_mm: Box | None
    """Around the place of the most ink; None for a page without ink."""
    heavy_ink: tuple[HeavyInk, ...]
    """For the limits that measuring was asked about."""
    edge_stops: tuple[EdgeStop, ...]
    """The longest ones."""
    ink_map: InkMap | Unmeasured
    """Of the printing inks."""
    finishing: tuple[FinishingPlate, ...]
    """Those `left_out`, one by one."""

    def area_over_mm2(self, percent: float) -> float:
        """How much of the page carries more than that, to the next whole percent."""
        above = int(percent) + 1
        return self.ink_area_mm2[above] if above < len(self.ink_area_mm2) else 0.0
