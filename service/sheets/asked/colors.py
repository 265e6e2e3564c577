"""What a sheet asks of colours and inks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.ink_names import PROCESS_INKS
from service.sheets.asked.levels import Block, Level, Permission

ColorName = Literal["cmyk", "gray", "rgb", "lab"]


@dataclass(frozen=True, kw_only=True)
class SpotsAsked:
    maximum: int | None = None
    allowed: tuple[str, ...] | None = None
    """Ink names that the printer takes; None: any name."""


@dataclass(frozen=True, kw_only=True)
class TintsAsked:
    """Of one ink in a plain colour: lighter ones do not print, stronger ones fill in."""

    minimum_percent: float | None = None
    maximum_percent: float | None = None


@dataclass(frozen=True, kw_only=True)
class RichBlack:
    """Black of several inks: the most ink in it, and the printer's recipe."""

    ink_limit_percent: float | None = None
    cyan_percent: float | None = None
    magenta_percent: float | None = None
    yellow_percent: float | None = None
    black_percent: float | None = None

    @property
    def recipe(self) -> dict[str, float]:
        """Each ink that the printer names, 0–1."""
        amounts = (self.cyan_percent, self.magenta_percent, self.yellow_percent, self.black_percent)
        return {ink: amount / 100 for ink, amount in zip(PROCESS_INKS, amounts, strict=True) if amount is not None}


@dataclass(frozen=True, kw_only=True)
class ColorAsked(Block):
    allowed: tuple[ColorName, ...] | None = None
    spots: SpotsAsked | None = None
    ink_limit_percent: float | None = None
    ink_area_mm2: float = 15.0
    """How much of the page may be over the limit. Common practice, no source."""
    ink_preferred_percent: float | None = None
    ink_minimum_percent: float | None = None
    tint: TintsAsked | None = None
    rich_black: RichBlack | None = None
    rgb_level: Level | None = None
    icc_profiles: Permission | None = None
