"""What the blocks of a sheet say of each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from service.sheets.lengths import plain_decimal
from service.sheets.model import Finish, MarginAsked, TrimAsked
from service.sheets.refusals import Path


def between_blocks(data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
    """The mistakes among blocks that were each read without one; what was not is passed over here."""
    trim, margin = data.get("trim"), data.get("margin")
    if (
        isinstance(trim, TrimAsked)
        and isinstance(margin, MarginAsked)
        and 2 * margin.minimum_mm >= min(trim.width_mm, trim.height_mm)
    ):
        size = f"{plain_decimal(trim.width_mm)} × {plain_decimal(trim.height_mm)} mm"
        yield ("margin", "minimum"), f"leaves nothing of the trimmed page of {size}."
    inks: list[str] = []
    for index, finish in enumerate(data.get("finishes") or ()):
        if isinstance(finish, Finish):
            if finish.ink in inks:
                yield ("finishes", index, "ink"), "stands for two finishes: say all of it in one."
            inks.append(finish.ink)
