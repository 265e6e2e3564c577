"""What a sheet asks of the size of the page and of its edges: trim, bleed, margin. Lengths are mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from service.sheets.asked.levels import Block, Permission

Orientation = Literal["any", "portrait", "landscape"]


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
    """How many pages there are, which only a file says (see `variants.with_parts_of`); never written."""

    def holds(self, number: int) -> bool:
        if self.first is not None and number <= self.first:
            return True
        return self.last is not None and self.of_pages is not None and number > self.of_pages - self.last


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

    def part_on(self, number: int) -> Part | None:
        """The part that the page of this number belongs to."""
        return next((part for part in self.parts if part.holds(number)), None)

    def on(self, number: int) -> TrimAsked:
        """What is asked of the size of the page of this number."""
        part = self.part_on(number)
        if part is None:
            return self
        orientation = self.orientation
        if orientation != "any":
            orientation = "portrait" if part.width_mm < part.height_mm else "landscape"
            orientation = "any" if part.width_mm == part.height_mm else orientation
        return replace(self, width_mm=part.width_mm, height_mm=part.height_mm, orientation=orientation)


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
    preferred_mm: float | None = None
    maximum_mm: float | None = None

    @property
    def advised_mm(self) -> float:
        """What to draw a new file with."""
        return max(self.minimum_mm, self.preferred_mm or 0.0)


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
