"""What a coloured map of total ink says on its scale: a plain record with words that were said before; no PDF library."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from service.language.spoken import say
from service.language.wording import listed, number
from service.pdf.facts.ink_names import same_ink
from service.sheets.model import SpecSheet

TOTAL_BLACK_PERCENT = 400
"""Total ink at the end of every map: the four process inks at full tint. More looks the same."""


@dataclass(frozen=True)
class ScaleBrief:
    title: str
    without: tuple[str, ...] = ()
    """Finishing inks, which are not in the total."""
    limit_percent: float | None = None
    """The sheet's; None: it has none."""
    limit: str = ""
    """The limit with its name, to stand beside its tick."""
    over: str = ""
    """Said where something is over it."""
    none_over: str = ""


def scale_for(sheet: SpecSheet, inks: Sequence[str]) -> ScaleBrief:
    """The scale for a page of these inks."""
    named = {same_ink(name) for one in sheet.finishes for name in one.plate_names}
    finishing = tuple(ink for ink in inks if same_ink(ink) in named)
    title = (
        say("Total ink, all inks together but for {inks}", inks=listed(finishing))
        if finishing
        else say("Total ink, all inks together")
    )
    limit = sheet.color.ink_limit_percent if sheet.color else None
    if limit is None:
        return ScaleBrief(title, finishing)
    return ScaleBrief(
        title,
        finishing,
        limit,
        say("limit {percent} %", percent=number(limit)),
        say("Striped: over the printer's limit of {percent} %.", percent=number(limit)),
        say("Nothing here is over the printer's limit of {percent} %.", percent=number(limit)),
    )
