"""Runs of paths with device colours between them, taken apart once for all renderings of a page.

A map's page sets a hundred thousand colours. All renderings replace the same ones, each by tints of its own inks, and leave what
stands between as it is: so the run is cut once, and each distinct colour is looked at once a rendering.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

_COLORED = re.compile(rb"([^kKgG]*+)([kKgG]|\Z)")
"""What comes before a colour operator, and its letter: in a run no other operator has one of these (`lexer.PATHS_AND_COLORS`).
The end counts as one, without a letter: else a long rest without colours would be searched from each of its places."""
_COMPONENTS = {b"k": 4, b"K": 4, b"g": 1, b"G": 1, b"rg": 3, b"RG": 3}
_MOST_KEPT_BYTES = 32 * 2**20
"""Of runs whose cuts are kept for the next rendering; a longer one is cut again."""


Components = tuple[float, ...]


@dataclass(frozen=True)
class ColorRun:
    between: list[bytes]
    """What stands before each colour, and after the last one."""
    which: list[int]
    """For each place between, the colour that is set there."""
    operators: list[bytes]
    """Of the distinct colours; `colors` likewise."""
    colors: list[Components]

    def last(self) -> list[tuple[bytes, Components]]:
        """The last colour of each operator, in the order of their places: those in force behind the run are among them."""
        behind = {}
        for operator in set(self.operators):
            behind[next(at for at in range(len(self.which) - 1, -1, -1) if self.operators[self.which[at]] == operator)] = operator
        return [(behind[at], self.colors[self.which[at]]) for at in sorted(behind)]

    def written(self, rewritten: Callable[[bytes, list[Components]], list[bytes]]) -> bytes:
        """The run with each colour replaced; `rewritten` is asked once an operator."""
        made = [b""] * len(self.colors)
        for operator in set(self.operators):
            those = [at for at, one in enumerate(self.operators) if one == operator]
            for at, replacement in zip(those, rewritten(operator, [self.colors[one] for one in those]), strict=True):
                made[at] = replacement
        pieces = [b""] * (2 * len(self.which) + 1)
        pieces[::2] = self.between
        pieces[1::2] = [made[one] for one in self.which]
        return b"".join(pieces)


class ColorRuns:
    """Remembers the runs of one page from rendering to rendering."""

    def __init__(self) -> None:
        self._known: dict[bytes, ColorRun | None] = {}
        self._bytes_left = _MOST_KEPT_BYTES

    def cut(self, run: bytes) -> ColorRun | None:
        """None where a colour's operands are none that every reader takes alike."""
        if run in self._known:
            return self._known[run]
        made = _cut(run)
        self._bytes_left -= len(run)
        if self._bytes_left >= 0:
            self._known[run] = made
        return made


def _cut(run: bytes) -> ColorRun | None:
    between: list[bytes] = []
    which: list[int] = []
    numbered: dict[tuple[bytes, bytes], int] = {}
    for before, letter in _COLORED.findall(run):
        if not letter:
            between.append(before)
            break
        if before.endswith((b"r", b"R")):
            operator, text, count = before[-1:] + letter, before[:-1], 3
        else:
            operator, text, count = letter, before, _COMPONENTS[letter]
        parts = text.rsplit(None, count)
        kept = len(parts[0]) if len(parts) > count else 0
        if kept and parts[0][-1] in b"0123456789.+-":  # more operands than the operator takes
            return None
        between.append(text[:kept] + b"\n")
        which.append(numbered.setdefault((operator, text[kept:]), len(numbered)))
    try:
        colors = [tuple(map(float, operands.split())) for _, operands in numbered]
    except ValueError:
        return None
    operators = [operator for operator, _ in numbered]
    if any(len(color) != _COMPONENTS[operator] for operator, color in zip(operators, colors, strict=True)):
        return None
    return ColorRun(between, which, operators, colors)
