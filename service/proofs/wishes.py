"""What a caller wishes of a drawing: what the wishes of all drawings have in common.

Command line and HTTP declare a wish by the same record (`wishes` in each room): its fields are their names, its defaults theirs,
and so are ranges and choices. One function makes of wishes and measurements the brief that the drawing process gets.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from service.language.spoken import say, say_many


@dataclass(frozen=True)
class WholeNumbers:
    """From `least` to `most`; `usual` where nobody says."""

    least: int
    usual: int
    most: int


PAGE_PPI = WholeNumbers(10, 100, 300)
"""Pixels an inch of a page on a screen, and of its plates: alike, so that they can be laid over each other."""


class NotUnderstood(ValueError):
    """A wish that cannot be; the text says what to write."""


class WishesRefused(ValueError):
    """Every wish that cannot be: its field, and a sentence."""

    def __init__(self, mistakes: list[tuple[str, str]]) -> None:
        super().__init__(" ".join(sentence for _, sentence in mistakes))
        self.mistakes = mistakes


def understood(**read: Callable[[], Any]) -> dict[str, Any]:
    """What each wish comes to, by its field; each function may raise `NotUnderstood`. Raises `WishesRefused`."""
    found: dict[str, Any] = {}
    mistakes = []
    for field, reads in read.items():
        try:
            found[field] = reads()
        except NotUnderstood as error:
            mistakes.append((field, str(error)))
    if mistakes:
        raise WishesRefused(mistakes)
    return found


def page_numbers(text: str | None, count: int) -> tuple[int, ...]:
    """'1-4,9-12' as page numbers, in order, each once; all pages where nothing is written. Raises `NotUnderstood`."""
    if text is None or not text.strip():
        return tuple(range(1, count + 1))
    chosen: set[int] = set()
    for part in text.split(","):
        found = re.fullmatch(r"\s*(\d{1,9})\s*(?:[-\u2013]\s*(\d{1,9})\s*)?", part, re.ASCII)
        if not found:
            raise NotUnderstood(say("Write pages as numbers and ranges, such as 1-4,9-12."))
        first, last = int(found[1]), int(found[2] or found[1])
        if not 1 <= first <= last:
            raise NotUnderstood(
                say("'{part}' is no range of pages: pages count from 1, the lower number comes first.", part=part.strip())
            )
        if last > count:
            raise NotUnderstood(
                say_many(
                    "The file has {count} page, and no page {last}.",
                    "The file has {count} pages, and no page {last}.",
                    count,
                    last=last,
                )
            )
        chosen.update(range(first, last + 1))
    return tuple(sorted(chosen))
