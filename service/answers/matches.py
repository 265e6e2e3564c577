"""What a file looks like, as answers carry it: over HTTP and from the command line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from service.pdf.facts.page import Page
from service.sheets.matching import Match, Reason

_MOST_PAGES_NAMED = 20


def match_answer(match: Match, short: Mapping[str | None, Mapping[str, Any]]) -> dict[str, Any]:
    """`short`: the sheets in short, by id."""
    return {
        "spec": short[match.sheet.id],
        "fits": [_reason(one) for one in match.speaks_for],
        "against": [_reason(one) for one in match.speaks_against],
        "difference_mm": {"width": round(match.width_off_mm, 2) + 0.0, "height": round(match.height_off_mm, 2) + 0.0},
    }


def size_answers(pages: Sequence[Page]) -> list[dict[str, Any]]:
    """The sizes that there are, each with its pages."""
    found: dict[tuple[float, float, str], list[int]] = {}
    for page in pages:
        key = (round(page.trim_width_mm, 2), round(page.trim_height_mm, 2), page.trim_source)
        found.setdefault(key, []).append(page.number)
    return [
        {
            "width_mm": width,
            "height_mm": height,
            "trim_source": source,
            "pages": numbers[:_MOST_PAGES_NAMED],
            "page_count": len(numbers),
        }
        for (width, height, source), numbers in found.items()
    ]


def _reason(reason: Reason) -> dict[str, Any]:
    return {"about": reason.about, "says": reason.says, "measured": reason.measured, "required": reason.required}
