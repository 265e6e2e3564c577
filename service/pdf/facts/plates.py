"""What ink plates say about a page."""

from __future__ import annotations

from dataclasses import dataclass

from service.pdf.facts.geometry import Box, Side
from service.pdf.facts.ink_map import InkMap
from service.pdf.facts.unknown import Unmeasured

LIMIT_SLACK = 0.005
"""Percent compare with half a percent of slack, as ppi do (contract). Ours, no source."""
ROUNDING_PERCENT = 100 * 0.5 / 255
"""What 8 bits can add to the tint of one ink, and no more: half a step of 255. A colour of exactly 300 % in four inks may read
300.8 %."""


def most_within_percent(limit_percent: float, inks: int) -> float:
    """The most that so many inks may read where what they hold keeps a limit of total ink."""
    return limit_percent + max(limit_percent * LIMIT_SLACK, inks * ROUNDING_PERCENT)


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
    """The largest regions that carry more than one limit of total ink (`most_within_percent`)."""

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
class Outline:
    """The page's own shape, where a cutting line draws another one than the trim: a circle, rounded corners."""

    reach_mm: float | None
    """How far the ink that stands at the outline goes on beyond it, at the least; None where none stands there."""
    stops_mm: tuple[Box, ...]
    """Around the parts of the outline where it ends so soon."""
    text_inside_mm: tuple[float, ...]
    """For each piece of text of the page's content, in its order: how far its ink stays inside, negative beyond the outline."""


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
    picture_ink_mm: tuple[Box | None, ...]
    """For each picture of the page's content, in its order: around the ink within its visible box; None where there is none."""

    pieces: Outline | None
    """Of all pieces that a line of `Question.piece_inks` cuts out of the page, the least of them; text on none of them is as deep
    as can be. None where there are none."""
    outline: Outline | None
    """None where no cutting line that measuring was told of draws the page's shape, or where the trim says as much."""

    def area_beyond_limit_mm2(self, limit_percent: float) -> float:
        """How much of the page carries more than the limit, with what rounding can add."""
        printing = [one for one in self.inks if one.ink not in self.left_out]
        return self.area_over_mm2(most_within_percent(limit_percent, len(printing)))

    def area_over_mm2(self, percent: float) -> float:
        """How much of the page carries more than that, to the next whole percent."""
        above = int(percent) + 1
        return self.ink_area_mm2[above] if above < len(self.ink_area_mm2) else 0.0
