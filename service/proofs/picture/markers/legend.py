"""The legend below a picture: how each box is drawn, what each number stands for, and what the picture cannot show.

It stands outside the artwork, on a ground of its own. Words are broken into lines, never cut; a word that is longer than a line
is broken where the line ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw

from service.pdf.facts.geometry import Box
from service.proofs.picture.markers.lettering import LEAST_WIDTH, LINE, MARGIN, TEXT, broken, font
from service.proofs.picture.markers.marking import INK, MARKER_REACH, MUTED, PAPER, Pen
from service.proofs.picture.page_brief import Line, Mark

_BETWEEN = 10.0
"""Px at scale 1; so are the next ones."""
_SAMPLE = 34.0
_COLUMN = 300.0
"""Findings stand in as many columns as have this width."""


@dataclass(frozen=True)
class Legend:
    lines: Sequence[Line]
    marks: Sequence[Mark]
    marks_heading: str
    notes: Sequence[str]


def with_legend(picture: Image.Image, legend: Legend, scale: float) -> Image.Image:
    """The picture at the top left, the legend below it."""
    width = max(picture.width, round(LEAST_WIDTH * scale))
    height = round(_drawn(None, width, legend, scale))
    whole = Image.new("RGB", (width, picture.height + height), PAPER)
    whole.paste(picture, (0, 0))
    below = Image.new("RGB", (width, height), PAPER)
    _drawn(below, width, legend, scale)
    whole.paste(below, (0, picture.height))
    return whole


def _drawn(ground: Image.Image | None, width: int, legend: Legend, scale: float) -> float:
    """Draws, or only measures where there is no ground; the height that it takes."""
    sheet = _Sheet(ground, width, scale)
    sheet.lines(list({(line.style, line.label): line for line in legend.lines}.values()))
    if legend.marks:
        sheet.heading(legend.marks_heading)
    sheet.marks(legend.marks)
    sheet.notes(legend.notes)
    return sheet.y + (MARGIN - _BETWEEN) * scale


class _Sheet:
    """Fills a ground from top to bottom; `y` is how far it came."""

    def __init__(self, ground: Image.Image | None, width: int, scale: float) -> None:
        self.scale, self.y = scale, MARGIN * scale
        self.left, self.right = MARGIN * scale, width - MARGIN * scale
        self._pen = Pen(ground, scale) if ground else None
        self._draw = ImageDraw.Draw(ground) if ground else None
        self._face = font(TEXT * scale)
        self._line_height = LINE * scale

    def lines(self, lines: Sequence[Line]) -> None:
        """Side by side as far as they fit."""
        x, sample = self.left, _SAMPLE * self.scale
        for line in lines:
            words = broken(line.label, self.right - self.left - sample - 6 * self.scale, self._face)
            width = sample + 6 * self.scale + max(self._face.getlength(one) for one in words)
            if x > self.left and x + width > self.right:
                x, self.y = self.left, self.y + self._line_height * 1.15
            if self._pen:
                middle = self.y + self._line_height / 2
                self._pen.line(Box(x, middle, x + sample, middle), line.style)
            bottom = self._text(words, x + sample + 6 * self.scale, self.y)
            if len(words) > 1:
                x, self.y = self.left, bottom
            else:
                x += width + 16 * self.scale
        if lines:
            self.y += (self._line_height if x > self.left else 0) + _BETWEEN * self.scale

    def heading(self, text: str) -> None:
        self.y = self._text(broken(text, self.right - self.left, self._face), self.left, self.y) + 3 * self.scale

    def marks(self, marks: Sequence[Mark]) -> None:
        """In columns, row by row."""
        columns = max(1, int((self.right - self.left) // (_COLUMN * self.scale)))
        width = (self.right - self.left) / columns
        indent = (2 * MARKER_REACH + 7) * self.scale
        for start in range(0, len(marks), columns):
            bottoms = []
            for place, mark in enumerate(marks[start : start + columns]):
                x = self.left + place * width
                words = broken(mark.label, width - indent - 8 * self.scale, self._face)
                first = self.y + MARKER_REACH * self.scale - self._line_height / 2
                if self._pen:
                    self._pen.marker((x + MARKER_REACH * self.scale, self.y + MARKER_REACH * self.scale), mark.number, mark.level)
                bottoms.append(max(self._text(words, x + indent, first), self.y + 2 * MARKER_REACH * self.scale))
            self.y = max(bottoms) + 3 * self.scale
        if marks:
            self.y += (_BETWEEN - 3) * self.scale

    def notes(self, notes: Sequence[str]) -> None:
        for note in notes:
            self.y = self._text(broken(note, self.right - self.left, self._face), self.left, self.y, muted=True)
        if notes:
            self.y += _BETWEEN * self.scale

    def _text(self, words: Sequence[str], x: float, y: float, *, muted: bool = False) -> float:
        """Line by line; where the next line would begin."""
        for line in words:
            if self._draw:
                at = (round(x), round(y + self._line_height / 2))
                self._draw.text(at, line, fill=MUTED if muted else INK, font=self._face, anchor="lm")
            y += self._line_height
        return y
