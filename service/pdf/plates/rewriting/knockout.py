"""Whether a knockout group looks as one that is none (ISO 32000-2:2020, 11.4.6).

Each object of a knockout group is composited with what lies below the group, not with the objects before it; PDFium composites it
with these. The two differ only where an object that is blended, half opaque or masked lies over an earlier one of the group: an
opaque one covers it in both. So the group's content is walked once and its objects are compared by their bounds.

* An object is what one operator paints: an area with its outline, a piece of text, a picture, a group with all that it holds.
* A form that is no group adds its own objects (8.10.1).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import pikepdf

from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import IDENTITY, Box
from service.pdf.reading.lexer import RUN
from service.pdf.reading.operands import Operands, name_of
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Handler, Mark, PlacedImage, Walk

_EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)
_TOUCHING = 1e-3
"""Of the group's units: objects that share only an edge do not lie over each other."""
MOST_OBJECTS = 500
"""Told apart; all before count as one. Ours, no source."""


def blends_over_itself(pieces: Iterable[bytes], resources: Resources, bounds: Box | None, shared: Shared) -> bool:
    """Whether some blended object of the content may lie over an earlier one. Raises what walking raises."""
    objects = _Objects()
    walk = Walk(objects.handlers(), IDENTITY, bounds or _EVERYWHERE, shared, [objects.add])
    for data in pieces:
        walk.run(data, resources)
    return objects.blended_over_another


class _Objects:
    def __init__(self) -> None:
        self.blended_over_another = False
        self._before: list[Box] = []
        self._now: list[Mark] = []
        self._inside = 0
        """How many operators are at work that each paint one object."""

    def add(self, mark: Mark) -> None:
        if mark.visible is not None and mark.prints and mark.kind != "soft mask":
            self._now.append(mark)

    def handlers(self) -> Mapping[bytes, Handler]:
        return {operator: self._one_object(operator, handler) for operator, handler in HANDLERS.items() if operator != RUN}

    def _one_object(self, operator: bytes, handler: Handler) -> Handler:
        def handle(walk: Walk, operands: Operands) -> None:
            if operator == b"Do" and _is_plain_form(walk, operands):
                handler(walk, operands)
                return
            self._inside += 1
            handler(walk, operands)
            self._inside -= 1
            if not self._inside and self._now:
                self._end()

        return handle

    def _end(self) -> None:
        boxes = [mark.visible for mark in self._now if mark.visible is not None]
        box = boxes[0]
        for one in boxes[1:]:
            box = box.union(one)
        if not self.blended_over_another and any(_is_blended(mark) for mark in self._now):
            self.blended_over_another = any(_overlap(box, one) for one in self._before)
        if len(self._before) < MOST_OBJECTS:
            self._before.append(box)
        else:
            self._before[-1] = self._before[-1].union(box)
        self._now = []


def _is_plain_form(walk: Walk, operands: Operands) -> bool:
    stream = walk.resources.stream("/XObject", name_of(operands) or "")
    if stream is None or stream.get("/Subtype") != "/Form":
        return False
    group = stream.get("/Group")
    return not (isinstance(group, pikepdf.Dictionary) and group.get("/S") == "/Transparency")


def _is_blended(mark: Mark) -> bool:
    masked = mark.masked or (isinstance(mark.detail, PlacedImage) and mark.detail.facts.transparent)
    return masked or mark.alpha < 1 or mark.blend_mode != "Normal"


def _overlap(one: Box, other: Box) -> bool:
    both = one.intersection(other)
    return both is not None and min(both.width, both.height) > _TOUCHING
