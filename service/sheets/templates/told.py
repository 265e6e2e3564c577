"""What a reading of an empty document says: values, questions, and the words for what was seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from service.language.spoken import say
from service.language.wording import asked_size, millimetres, quoted
from service.pdf.facts.geometry import MM_PER_INCH, SLACK_MM, Box
from service.sheets.format.fields import length_text
from service.sheets.templates.outlines import Named

SAME_SIZE_MM = 0.5
DEEPEST_MM = 40.0
"""Nothing farther from the trim is its bleed or its margin. Ours, no source."""
_NEAT_MM = 0.006
"""Programs round to hundredths of a point: what is so near to a tenth of a millimetre or 1/64 inch is that. Ours, no source."""


@dataclass(frozen=True)
class Read:
    pointer: str
    value: Any
    source: str
    """Where it comes from, in words."""


@dataclass(frozen=True)
class Asked:
    about: str
    """Block of the sheet."""
    question: str
    source: str


@dataclass(frozen=True)
class TemplateReading:
    values: tuple[Read, ...]
    questions: tuple[Asked, ...]

    def document(self) -> dict[str, Any]:
        """The draft: a sheet without identity, empty where nothing is certain."""
        document: dict[str, Any] = {}
        for one in self.values:
            *path, last = one.pointer.removeprefix("/").split("/")
            node = document
            for part in path:
                node = node.setdefault(part, {})
            node[last] = one.value
        return document


def neat(mm: float) -> str:
    """Without what rounding has added: 84.998 → '85 mm'."""
    tenth, inches = round(mm, 1), round(mm / MM_PER_INCH * 64) / 64 * MM_PER_INCH
    for near in (tenth, round(inches, 6)):
        if abs(mm - near) <= _NEAT_MM:
            return length_text(near)
    return length_text(round(mm, 2))


def size_said(box: Box) -> str:
    return asked_size(box.width, box.height)


def rectangle_said(one: Named) -> str:
    return say("the rectangle named {name}", name=quoted(one.name))


def depths_of(outer: Box, inner: Box) -> tuple[float, float, float, float]:
    """How far the inner one lies inside: left, top, right, bottom."""
    return inner.x0 - outer.x0, inner.y0 - outer.y0, outer.x1 - inner.x1, outer.y1 - inner.y1


def all_round(depths: tuple[float, ...]) -> float | None:
    """The depth, where it is one on every side."""
    return sum(depths) / 4 if max(depths) - min(depths) <= 2 * SLACK_MM else None


def sides_said(depths: tuple[float, ...]) -> str:
    left, top, right, bottom = map(millimetres, depths)
    return say("left {left}, top {top}, right {right}, bottom {bottom}", left=left, top=top, right=right, bottom=bottom)
