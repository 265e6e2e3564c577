"""Sheets of a catalogue looked for without reading them: what each is found by, noted down when the catalogue is written."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from service.pdf.facts.page import Page
from service.pdf.question import Question
from service.sheets.format.lengths import parse_length_mm
from service.sheets.searching import Sizes, fits, is_of_size, sizes_of

MOST_LOOKED_AT = 200
"""Sheets of a catalogue that a file is laid beside, those of the nearest sizes. Ours, no source: some tenths of a second."""


def found_by(complete: Mapping[str, Any]) -> dict[str, Any]:
    """Of a sheet's complete document, ready for JSON."""
    facts: dict[str, Any] = {key: complete[key] for key in ("product", "regions", "purpose") if key in complete}
    trim, bleed = complete.get("trim") or {}, complete.get("bleed") or {}
    facts["sizes_mm"] = [list(size) for size in sizes_of(complete)]
    if "scales" in trim:
        facts["scales"] = trim["scales"]
    if "minimum" in bleed:
        facts["bleed_mm"] = parse_length_mm(bleed["minimum"])
    return facts


def is_found(facts: Mapping[str, Any], filters: Mapping[str, str], trim: Sizes | None = None) -> bool:
    """By `product`, `region`, `purpose` and size; words are looked for in the sheet itself."""
    by_names = fits(facts, *(filters.get(key) for key in ("product", "region", "purpose")))
    return by_names and (trim is None or is_of_size(_sizes(facts), trim))


def nearest(page: Page, sheets: Iterable[tuple[str, Mapping[str, Any]]]) -> list[str]:
    """The ids of the sheets whose sizes this page comes nearest to, as it may be read: turned, as a pair, with bleed."""
    declared = page.trim_source in ("trim_box", "art_box", "crop_marks")
    trimmed, media = (page.trim_width_mm, page.trim_height_mm), page.boxes_mm.media

    def off(facts: Mapping[str, Any]) -> float:
        bleeds = () if declared else {0.0, facts.get("bleed_mm", 0.0), *Question().bleeds_mm}
        seen = [trimmed, *((media.width - 2 * bleed, media.height - 2 * bleed) for bleed in bleeds)]
        return min((_off(one, asked) for asked in _asked(facts) for one in seen), default=float("inf"))

    near = heapq.nsmallest(MOST_LOOKED_AT, ((off(facts), sheet_id) for sheet_id, facts in sheets))
    return [sheet_id for distance, sheet_id in near if distance < float("inf")]


def _off(seen: tuple[float, float], asked: tuple[float, float]) -> float:
    shorter, longer = min(seen), max(seen)
    return max(abs(shorter - asked[0]), abs(longer - asked[1]))


def _asked(facts: Mapping[str, Any]) -> Iterator[tuple[float, float]]:
    """Each size at each scale, alone and side by side with another of it, the shorter side first."""
    for scale in facts.get("scales", (1,)):
        for shorter, longer in _sizes(facts):
            one, other = shorter / scale, longer / scale
            yield one, other
            yield min(2 * one, other), max(2 * one, other)
            yield one, 2 * other


def _sizes(facts: Mapping[str, Any]) -> Iterator[tuple[float, float]]:
    yield from ((shorter, longer) for shorter, longer in facts["sizes_mm"])
