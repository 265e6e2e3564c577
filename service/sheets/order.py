"""What only one order knows, filled into the sheet: how many inner pages, how thick a leaf of them is, and which paper."""

from __future__ import annotations

import difflib
import math
from dataclasses import replace

from service.language.spoken import say
from service.language.wording import listed
from service.sheets.model import Paper, SpecSheet

KEYS = ("inner_pages", "caliper_mm", "paper")


class OrderRefused(ValueError):
    """`errors` holds (JSON pointer relative to the order, sentence) for each mistake."""

    def __init__(self, errors: list[tuple[str, str]]) -> None:
        super().__init__("; ".join(f"{pointer or '/'}: {detail}" for pointer, detail in errors))
        self.errors = errors


def for_order(sheet: SpecSheet, order: object) -> SpecSheet:
    """The sheet with what the order knows. Facts that this sheet has no use for change nothing. Raises `OrderRefused`."""
    if not isinstance(order, dict):
        example = '{"inner_pages": 96, "caliper_mm": 0.11}'
        raise OrderRefused([("", say("Write a JSON object, such as {example}.", example=example))])
    errors = [(f"/{key}", _unknown(str(key))) for key in order if key not in KEYS]
    pages, caliper = order.get("inner_pages"), order.get("caliper_mm")
    if pages is not None and (type(pages) is not int or not 1 <= pages <= 100_000):
        errors.append(("/inner_pages", say("The number of inner pages is a whole number of 1 or more, such as 96.")))
    if caliper is not None and (type(caliper) not in (int, float) or not math.isfinite(caliper) or not 0 < caliper <= 10):
        errors.append(("/caliper_mm", say("The caliper of a leaf is a number of millimetres above 0, such as 0.11.")))
    paper = order.get("paper")
    chosen = next((one for one in sheet.papers if isinstance(paper, str) and one.name.casefold() == paper.casefold()), None)
    if paper is not None and (not isinstance(paper, str) or (sheet.papers and chosen is None)):
        known = ", ".join(one.name for one in sheet.papers) or "coated"
        errors.append(("/paper", say("The paper is one that the sheet names: {known}.", known=known)))
    if errors:
        raise OrderRefused(errors)
    if chosen:
        sheet = _on_paper(sheet, chosen)
    if sheet.spine is None:
        return sheet
    spine = replace(
        sheet.spine,
        inner_pages=pages if pages is not None else sheet.spine.inner_pages,
        caliper_mm=float(caliper) if caliper is not None else sheet.spine.caliper_mm,
    )
    return replace(sheet, spine=spine)


def _on_paper(sheet: SpecSheet, paper: Paper) -> SpecSheet:
    """The limits of the paper take the place of the sheet's own."""
    color, pages = sheet.color, sheet.pages
    if color and paper.ink_limit_percent is not None:
        preferred = color.ink_preferred_percent
        color = replace(
            color,
            ink_limit_percent=paper.ink_limit_percent,
            ink_preferred_percent=None if preferred is None else min(preferred, paper.ink_limit_percent),
        )
    if pages and paper.maximum_pages is not None:
        fewer = tuple(one for one in pages.allowed if one <= paper.maximum_pages)
        pages = replace(pages, allowed=fewer) if pages.allowed else replace(pages, maximum=paper.maximum_pages)
    return replace(sheet, color=color, pages=pages)


def _unknown(key: str) -> str:
    near = difflib.get_close_matches(key, KEYS, 1)
    if near:
        return say("An order has no '{key}': do you mean '{near}'?", key=key[:60], near=near[0])
    return say("An order has no '{key}': an order has {keys}.", key=key[:60], keys=listed(KEYS))
