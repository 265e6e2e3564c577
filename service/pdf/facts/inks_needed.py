"""Which inks a page's plates need. No PDF library is needed for it, so that callers may ask as well."""

from __future__ import annotations

from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.measurements import Content


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
