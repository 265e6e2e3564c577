"""What a caller may wish of the picture of a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from service.proofs.wishes import PAGE_PPI

Shown = Literal["boxes", "findings"]
SHOWN: tuple[Shown, ...] = get_args(Shown)


@dataclass(frozen=True)
class PictureWishes:
    ppi: int = PAGE_PPI.usual
    shown: tuple[Shown, ...] = SHOWN
    """What is drawn upon the page, and said of it in a legend; nothing: the bare page."""


def shown_named(text: str) -> tuple[Shown, ...] | None:
    """'boxes,findings', one of the two, or 'none'; None where it says anything else."""
    words = [word.strip() for word in text.split(",")]
    if words == ["none"]:
        return ()
    return tuple(one for one in SHOWN if one in words) if set(words) <= set(SHOWN) else None
