"""The plates of a page as the answers carry them, and the address of each plate."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from urllib.parse import quote

from service.answers.measurements import box_mm
from service.language.spoken import say
from service.pdf.facts.ink_names import PROCESS_INKS
from service.proofs.plates.brief import PlatesTold
from service.proofs.plates.ink_scale_brief import TOTAL_BLACK_PERCENT

TOTAL = "total"
"""Last step of the address of the map of total ink."""


def plates_answer(told: PlatesTold, page_address: str, query: str, *, check: str, page: int, area: str) -> dict[str, Any]:
    """`page_address` ends in '/plates'; `query` is what the caller wished."""

    def plate(step: str) -> dict[str, str]:
        return {"plate": f"{page_address}/{quote(step, safe='', errors='replace')}?{query}"}

    steps = plate_steps(tuple(told.coverage_percent))
    return {
        "page": page,
        "area": area,
        "area_mm": box_mm(told.area_mm),
        "width_px": told.width_px,
        "height_px": told.height_px,
        "ppi": round(told.ppi, 1),
        "converted": told.conversion is not None,
        "conversion": say(told.conversion) if told.conversion else None,
        "inks": [
            {
                "name": ink,
                "kind": "process" if ink in PROCESS_INKS else "spot",
                "coverage_percent": round(told.coverage_percent[ink], 1),
                "hue": told.hues[ink],
                "links": plate(step),
            }
            for step, ink in steps.items()
        ],
        "total": {
            "highest_percent": round(told.highest_percent, 1),
            "black_percent": TOTAL_BLACK_PERCENT,
            "links": plate(TOTAL),
        },
        "links": {"self": f"{page_address}?{query}", "check": check},
    }


def plate_steps(inks: Sequence[str]) -> dict[str, str]:
    """The ink of each last step of an address: its name, changed only where that could not stand in an address.

    A server takes '%2F' for the slash that ends a step, a client takes '..' away, and 'total' is the map of total ink.
    """
    steps: dict[str, str] = {}
    for ink in inks:
        step = ink.replace("/", "%2F")
        while step in ("", ".", "..", TOTAL) or step in steps:
            step += " (ink)"
        steps[step] = ink
    return steps
