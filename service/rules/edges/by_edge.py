"""How deep the sheet asks along each side of each page: alike everywhere, or by edge (bound, outer, head, foot)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from service.pdf.facts.page import Page
from service.product.edges import edge_on
from service.product.spreads import double_pages, parts_laid_flat
from service.sheets.model import Block, EdgesAsked, MarginAsked, SpecSheet, TrimAsked


@dataclass(frozen=True, kw_only=True)
class DepthsAsked(Block):
    edges: EdgesAsked
    trim: TrimAsked | None
    """Where the sheet speaks of pages: it tells which of them are two side by side."""
    size: TrimAsked | None
    """The product's size, whether or not the sheet speaks of pages."""
    preferred_mm: float | None = None
    """A depth that only looks better; of edges that are named apart nothing more is asked."""

    @property
    def by_edge(self) -> bool:
        """Whether one side asks for another depth than the next."""
        edges = self.edges
        named = (edges.binding_mm, edges.outer_mm, edges.head_mm, edges.foot_mm)
        return any(one is not None and one != edges.minimum_mm for one in named)

    def of_so_many(self, pages: Sequence[Page]) -> DepthsAsked:
        """With the margin that a file of so many pages asks for. Pages that hold two count twice."""
        steps = self.edges.by_pages if isinstance(self.edges, MarginAsked) else ()
        count = max((page.number for page in pages), default=0)
        count += len(double_pages(pages, self.trim)) if steps and self.trim else 0
        reached = max((one for one in steps if one.from_pages <= count), key=lambda one: one.from_pages, default=None)
        if reached is None:
            return self
        named = {key: getattr(reached, key) for key in ("minimum_mm", "binding_mm", "outer_mm", "head_mm", "foot_mm")}
        edges = replace(self.edges, **{key: depth for key, depth in named.items() if depth is not None})
        return replace(self, edges=edges)

    def doubles(self, pages: Sequence[Page]) -> frozenset[int]:
        """Pages that hold two side by side, where that matters."""
        return double_pages(pages, self.trim) | parts_laid_flat(pages, self.trim) if self.by_edge and self.trim else frozenset()

    def on(self, side: str, page: Page, doubles: frozenset[int]) -> float:
        """Least depth on this side of the page, mm."""
        named = self._named(side, page, doubles)
        return self.edges.minimum_mm if named is None else named

    def preferred_on(self, side: str, page: Page, doubles: frozenset[int]) -> float:
        named = self._named(side, page, doubles)
        return max(self.preferred_mm or 0.0, self.edges.minimum_mm) if named is None else named

    def _named(self, side: str, page: Page, doubles: frozenset[int]) -> float | None:
        readers_number = page.number + sum(one < page.number for one in doubles)  # a double page counts two
        named: float | None = getattr(self.edges, f"{edge_on(side, readers_number, double=page.number in doubles)}_mm")
        return named


def depths_asked(sheet: SpecSheet, edges: EdgesAsked | None, preferred_mm: float | None = None) -> DepthsAsked | None:
    if edges is None:
        return None
    trim = sheet.trim if sheet.pages else None
    return DepthsAsked(edges=edges, trim=trim, size=sheet.trim, preferred_mm=preferred_mm, level=edges.level, note=edges.note)
