"""Facts of a file across its measured pages, the same for every answer and report: which fonts and inks, on which pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured, unmeasured

REGISTRATION = "All"
"""The colorant that prints on every plate (ISO 32000-2:2020, 8.6.6.4)."""

InkKind = Literal["process", "registration", "spot"]


@dataclass(frozen=True)
class FontAcross:
    name: str
    type: str
    embedded: bool
    subset: bool
    pages: tuple[int, ...]


@dataclass(frozen=True)
class InkAcross:
    name: str
    kind: InkKind
    pages: tuple[int, ...]
    coverage_percent: float | Unmeasured
    """Mean over the trimmed pages that use it, each by its size."""


def fonts_across(pages: Sequence[Page]) -> tuple[FontAcross, ...]:
    """As they appear."""
    found: dict[tuple[str, str, bool, bool], list[int]] = {}
    for page, content in _contents(pages):
        for key in dict.fromkeys((one.name, one.type, one.embedded, one.subset) for one in content.fonts):
            found.setdefault(key, []).append(page.number)
    return tuple(FontAcross(*key, tuple(numbers)) for key, numbers in found.items())


def inks_across(pages: Sequence[Page]) -> tuple[InkAcross, ...]:
    """Process inks first, in printing order, then the others as they appear."""
    found: dict[str, list[Page]] = {}
    for page, content in _contents(pages):
        for name in dict.fromkeys(ink for use in content.colors for ink in use.inks):
            found.setdefault(name, []).append(page)
    ordered = [*(name for name in PROCESS_INKS if name in found), *(name for name in found if name not in PROCESS_INKS)]
    return tuple(
        InkAcross(name, _kind(name), tuple(page.number for page in found[name]), _coverage(name, found[name])) for name in ordered
    )


def on_page(page: Page, why: Unmeasured) -> Unmeasured:
    return unmeasured("Page {page}: {reason}", page=str(page.number), reason=why)


def _contents(pages: Sequence[Page]) -> Iterator[tuple[Page, Content]]:
    return ((page, page.content) for page in pages if not isinstance(page.content, Unmeasured))


def _kind(ink: str) -> InkKind:
    return "process" if ink in PROCESS_INKS else "registration" if ink == REGISTRATION else "spot"


def _coverage(ink: str, pages: Sequence[Page]) -> float | Unmeasured:
    if ink == REGISTRATION:
        return Unmeasured("Registration colour prints on every plate and has none of its own.")
    covered = area = 0.0
    for page in pages:
        if isinstance(page.plates, Unmeasured):
            return on_page(page, page.plates)
        percent = next((one.percent for one in page.plates.inks if one.ink == ink), 0.0)
        covered, area = covered + percent * page.boxes_mm.trim.area, area + page.boxes_mm.trim.area
    return covered / area if area else 0.0
