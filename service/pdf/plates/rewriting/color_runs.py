"""Runs of paths with device colours between them, taken apart once for all renderings of a page.

A map's page sets a hundred thousand colours. All renderings replace the same ones, each by tints of its own inks, and leave what
stands between as it is: so the run is cut once, and each distinct colour is looked at once a rendering.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

_COLORED = re.compile(rb"([^kKgG]*+)([kKgG]|\Z)")
"""What comes before a colour operator, and its letter: in a run no other operator has one of these (`lexer.PATHS_AND_COLORS`).
The end counts as one, without a letter: else a long rest without colours would be searched from each of its places."""
_COMPONENTS = {b"k": 4, b"K": 4, b"g": 1, b"G": 1, b"rg": 3, b"RG": 3}
_DIGITS = b"0123456789.+-"
_MOST_KEPT_BYTES = 32 * 2**20
"""Of runs whose cuts are kept for the next rendering; a longer one is cut again."""


Colors = npt.NDArray[np.float64]
"""(colours, components)."""


@dataclass(frozen=True)
class ColorRun:
    between: list[bytes]
    """What stands before each colour, and after the last one."""
    set_there: list[tuple[bytes, int]]
    """For each place between: the operator, and which of its distinct colours."""
    colors: Mapping[bytes, Colors]
    """By operator, the distinct ones."""

    def last(self) -> list[tuple[bytes, tuple[float, ...]]]:
        """The last colour of each operator, in the order of their places: those in force behind the run are among them."""
        found: dict[bytes, int] = {}
        for operator, which in reversed(self.set_there):
            found.setdefault(operator, which)
            if len(found) == len(self.colors):
                break
        return [(operator, tuple(self.colors[operator][which].tolist())) for operator, which in reversed(found.items())]

    def written(self, rewritten: Callable[[bytes, Colors], list[bytes]]) -> bytes:
        """The run with each colour replaced; `rewritten` is asked once an operator."""
        made = {operator: rewritten(operator, colors) for operator, colors in self.colors.items()}
        pieces = [b""] * (2 * len(self.set_there) + 1)
        pieces[::2] = self.between
        pieces[1::2] = [made[operator][which] for operator, which in self.set_there]
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
    set_there: list[tuple[bytes, int]] = []
    numbered: dict[bytes, dict[bytes, int]] = {operator: {} for operator in _COMPONENTS}
    for text, operator in _COLORED.findall(run):
        if not operator:
            between.append(text)
            break
        if text.endswith((b"r", b"R")):
            operator, text = text[-1:] + operator, text[:-1]
        count = _COMPONENTS[operator]
        parts = text.rsplit(None, count)
        kept = len(parts[0]) if len(parts) > count else 0
        if len(parts) < count or (kept and text[kept - 1] in _DIGITS):  # fewer or more operands than the operator takes
            return None
        between.append(text[:kept] + b"\n")
        known = numbered[operator]
        set_there.append((operator, known.setdefault(text[kept:], len(known))))
    colors = {}
    for operator, known in numbered.items():
        if known:
            try:
                components = [float(one) for one in b" ".join(known).split()]
            except ValueError:
                return None
            colors[operator] = np.array(components).reshape(len(known), _COMPONENTS[operator])
    return ColorRun(between, set_there, colors)
