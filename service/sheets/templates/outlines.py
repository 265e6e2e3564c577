"""The named shapes of one page put together: rectangles and lines by what they stand for, in mm from one corner.

* Four lines that are named alike make a rectangle, whether they end at its corners or run on across the page.
* A fold is one line across the page, or two short ones outside of it that point at each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from service.pdf.facts.geometry import Box
from service.pdf.facts.guide_names import Role, role_of
from service.pdf.facts.guides import GuideShape

SAME_MM = 0.1
"""Two outlines within this are one: a line drawn twice, or rounded by its program. Ours, no source."""
_SMALLEST_MM = 10.0
"""Nothing smaller is trimmed."""


@dataclass(frozen=True)
class Named:
    """An outline with the name that it goes by."""

    box_mm: Box
    name: str
    dashed: bool = False


@dataclass(frozen=True)
class Outlines:
    rectangles: dict[Role, tuple[Named, ...]]
    lines: dict[Role, tuple[Named, ...]]
    """Level and upright ones that are part of no rectangle."""
    others: dict[Role, tuple[Named, ...]]
    """Shapes that are neither, by the box around them."""


def outlines_of(shapes: Iterable[GuideShape]) -> Outlines:
    """A shape is what its ink says, else what its layer says; on a layer that does not print it is a guide at least."""
    by_role: dict[Role, list[GuideShape]] = {}
    for shape in shapes:
        role, _ = _said(shape)
        if role:
            by_role.setdefault(role, []).append(shape)
    rectangles: dict[Role, tuple[Named, ...]] = {}
    lines: dict[Role, tuple[Named, ...]] = {}
    others: dict[Role, tuple[Named, ...]] = {}
    for role, those in by_role.items():
        found = [_named(one) for one in those if one.kind == "rectangle"]
        straight = _once([_named(one) for one in those if one.kind == "line"])
        framed = _frame(straight) if role in ("trim", "bleed", "margin") else None
        rectangles[role] = tuple(_once([*found, *([framed] if framed else [])]))
        lines[role] = () if framed else tuple(straight)
        others[role] = tuple(_once([_named(one) for one in those if one.kind == "other"]))
    return Outlines(rectangles, lines, others)


def _said(shape: GuideShape) -> tuple[Role | None, str]:
    """The role and the name that says it; of two the one that says more."""
    by_ink, by_layer = role_of(shape.ink), role_of(shape.layer)
    if by_ink and (by_ink != "guides" or not by_layer):
        return by_ink, shape.ink or ""
    if by_layer:
        return by_layer, shape.layer or ""
    return (None if shape.prints else "guides"), shape.layer or shape.ink or ""


def _named(shape: GuideShape) -> Named:
    return Named(shape.box_mm, _said(shape)[1], shape.dashed)


def _once(outlines: Sequence[Named]) -> list[Named]:
    kept: list[Named] = []
    for one in outlines:
        if not any(same(one.box_mm, other.box_mm) for other in kept):
            kept.append(one)
    return kept


def same(one: Box, other: Box, within: float = SAME_MM) -> bool:
    return all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def _frame(lines: Sequence[Named]) -> Named | None:
    """The rectangle that exactly two level and two upright lines bound, each as long as its side at least."""
    level = sorted(one.box_mm.y0 for one in lines if is_level(one.box_mm))
    upright = sorted(one.box_mm.x0 for one in lines if not is_level(one.box_mm))
    if len(level) != 2 or len(upright) != 2:
        return None
    frame = Box(upright[0], level[0], upright[1], level[1])
    if min(frame.width, frame.height) < _SMALLEST_MM or not all(_along(one.box_mm, frame) for one in lines):
        return None
    return Named(frame, lines[0].name, lines[0].dashed)


def _along(line: Box, frame: Box) -> bool:
    if is_level(line):
        return line.x0 <= frame.x0 + SAME_MM and line.x1 >= frame.x1 - SAME_MM
    return line.y0 <= frame.y0 + SAME_MM and line.y1 >= frame.y1 - SAME_MM


def is_level(line: Box) -> bool:
    return line.width > line.height


# --- Folds --------------------------------------------------------------------------------------------------------------------


def crossing(lines: Sequence[Named], trim: Box, reach_mm: float) -> list[Named]:
    """The lines that run across the whole trimmed page, each cut to it; a pair of short ones outside of it counts as one.

    `reach_mm`: how far outside the short ones may stand.
    """
    across = [one for one in lines if _along(one.box_mm, trim) and _inside(one.box_mm, trim)]
    short = [one for one in lines if one not in across and _beside(one.box_mm, trim, reach_mm)]
    for at, one in enumerate(short):
        for other in short[at + 1 :]:
            if _face(one.box_mm, other.box_mm, trim):
                across.append(one)
    cut = [Named(_cut_to(one.box_mm, trim), one.name, one.dashed) for one in across]
    return sorted(_once(cut), key=lambda one: (is_level(one.box_mm), _at(one.box_mm)))


def _at(line: Box) -> float:
    return line.y0 if is_level(line) else line.x0


def _inside(line: Box, trim: Box) -> bool:
    """Not on the edge itself, which is no fold."""
    low, high = (trim.y0, trim.y1) if is_level(line) else (trim.x0, trim.x1)
    return low + 1 < _at(line) < high - 1


def _beside(line: Box, trim: Box, reach_mm: float) -> bool:
    if not _inside(line, trim):
        return False
    start, end, low, high = (line.x0, line.x1, trim.x0, trim.x1) if is_level(line) else (line.y0, line.y1, trim.y0, trim.y1)
    return low - reach_mm <= start and end <= high + reach_mm and (end <= low + SAME_MM or start >= high - SAME_MM)


def _face(one: Box, other: Box, trim: Box) -> bool:
    """On either side of the page and in line."""
    in_line = is_level(one) == is_level(other) and abs(_at(one) - _at(other)) <= SAME_MM
    return in_line and _before(one, trim) != _before(other, trim)


def _before(line: Box, trim: Box) -> bool:
    return line.x1 <= trim.x0 + SAME_MM if is_level(line) else line.y1 <= trim.y0 + SAME_MM


def _cut_to(line: Box, trim: Box) -> Box:
    return line._replace(x0=trim.x0, x1=trim.x1) if is_level(line) else line._replace(y0=trim.y0, y1=trim.y1)
