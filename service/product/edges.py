"""The edges of a page in a bound product: where it is bound, and what lies opposite.

Page 1 is a right-hand page: odd pages are bound at the left, even ones at the right. A double page is bound in its middle, and
both its sides are outer ones. Common practice, no source; it does not know books that are read from right to left.
"""

from __future__ import annotations

from typing import Literal

Edge = Literal["binding", "outer", "head", "foot"]


def edge_on(side: str, page_number: int, *, double: bool = False) -> Edge:
    """Which edge the side of the page is; `double`: the page holds two side by side."""
    if side == "top":
        return "head"
    if side == "bottom":
        return "foot"
    return "binding" if not double and (side == "left") == bool(page_number % 2) else "outer"
