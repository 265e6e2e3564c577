"""The page tree as the file has it, looked at before a library repairs it in memory.

* The leaves are counted in reading order (ISO 32000-2:2020, 7.7.3).
* A kid that is no dictionary is a page that the file names and does not have.
* A page without a MediaBox of four numbers, its own or inherited, has no size (7.7.3.3, Table 31: required).
* Resources, MediaBox, CropBox and Rotate are inherited, nothing else is (7.7.3.4).

Loops end the walk; it never recurses. It does not say whether a page's content can be read.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

import pikepdf

MOST_NODES = 1_000_000
"""A tree with more nodes than this is not followed further; a book has thousands."""

MOST_ANCESTORS = 100
"""How far up an inherited attribute is looked for. Trees of real files are a few levels deep (common practice, no source)."""


@dataclass(frozen=True)
class PageTree:
    found: int
    lost: int
    """Kids that are no dictionary, pages or whole branches: their object is missing or damaged."""
    stated: int | None
    """The Count of the root; None where it is no number."""
    without_size: frozenset[int]
    """Numbers, from 1 among the pages that can be found, of those without a usable MediaBox."""


def look_at_page_tree(pdf: pikepdf.Pdf) -> PageTree:
    """Read only. Raises what pikepdf raises where a node cannot be resolved."""
    root = pdf.Root.get("/Pages")
    found = lost = 0
    without_size = set()
    for leaf, has_size in _leaves(root):
        if leaf is None:
            lost += 1
            continue
        found += 1
        if not has_size:
            without_size.add(found)
    stated: object = root.get("/Count") if isinstance(root, pikepdf.Dictionary) else None
    return PageTree(found, lost, stated if isinstance(stated, int) else None, frozenset(without_size))


def _leaves(root: object) -> Iterator[tuple[pikepdf.Object | None, bool]]:
    """Every page with whether it has a size, in order; None for a kid that is not there."""
    if not isinstance(root, pikepdf.Dictionary):
        return
    pending: list[tuple[object, bool]] = [(root, False)]
    entered: set[tuple[int, int]] = set()
    for _ in range(MOST_NODES):
        if not pending:
            return
        node, has_size = pending.pop()
        if not isinstance(node, pikepdf.Dictionary):
            yield None, False
            continue
        has_size = has_size or is_rectangle(node.get("/MediaBox"))
        kids = node.get("/Kids")
        if not isinstance(kids, pikepdf.Array):
            if node is not root:
                yield node, has_size
            continue
        if node.objgen != (0, 0):
            if node.objgen in entered:
                continue
            entered.add(node.objgen)
        pending.extend((kid, has_size) for kid in reversed(list(kids)))


def is_rectangle(value: object) -> bool:
    """An array of four numbers (ISO 32000-2:2020, 7.9.5)."""
    return (
        isinstance(value, pikepdf.Array)
        and len(value) == 4
        and all(isinstance(one, int | Decimal) and not isinstance(one, bool) for one in value)
    )


def with_ancestors(page: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """The page, then its parent, and so on to the root; ends where the chain loops or breaks."""
    node: object = page
    seen: set[tuple[int, int]] = set()
    for _ in range(MOST_ANCESTORS):
        if not isinstance(node, pikepdf.Dictionary) or node.objgen in seen:
            return
        if node.objgen != (0, 0):
            seen.add(node.objgen)
        yield node
        node = node.get("/Parent")


def inherited(page: pikepdf.Object, key: str) -> object | None:
    """The page's own value, else that of the nearest ancestor that has one; None where none has.

    Only for /Resources, /MediaBox, /CropBox and /Rotate: the other attributes are not inherited.
    """
    return next((node[key] for node in with_ancestors(page) if key in node), None)
