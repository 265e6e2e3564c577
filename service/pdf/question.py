"""What measuring is to find out; a small record of its own, so that putting it needs no facts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Question:
    """What measuring is asked to find out: never what would be right."""

    trim_sizes_mm: tuple[tuple[float, float], ...] = ()
    """Sizes (width, height) to try where the page declares no trim."""
    bleeds_mm: tuple[float, ...] = (3.0, 3.175, 5.0, 2.0, 1.0, 4.0, 6.35, 10.0)
    """Symmetric bleeds to try with them: those that printers ask for, the usual ones first."""
    ink_limits_percent: tuple[float, ...] = ()
    """Limits of total ink for which to tell where the page is over them."""
    finishing_inks: tuple[str, ...] = ()
    """Foil, varnish, cut lines: no printing inks, left out of the total."""
    cutting_inks: tuple[str, ...] = ()
    """Those of them whose line is the outline of the product."""
    piece_inks: tuple[str, ...] = ()
    """Those whose line cuts several pieces out of one page."""
    where_ink_lies: bool = True
    """A map of each page's ink; without, a page whose plain colours tell the rest needs no plates."""

    def answered_by(self, plain_ink_percent: float | None) -> bool:
        """Whether what is asked of a page's ink is known from its colours alone (`Content.plain_ink_percent`)."""
        if self.where_ink_lies or plain_ink_percent is None:
            return False
        return all(plain_ink_percent <= limit for limit in self.ink_limits_percent)


@dataclass(frozen=True)
class Stretch:
    """Which parts of a file one process measures."""

    with_document: bool = True
    """The file as a whole too, first."""
    numbers: tuple[int, ...] | None = None
    """Of the pages, in their order; None: all."""
    boxes_only: bool = False
    """Of pages whose rest is lost."""


WHOLE_FILE = Stretch()
