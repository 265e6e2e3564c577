"""A value where it stands in its sentence, for what judges whether the sentence is understood."""

from __future__ import annotations

import re
from dataclasses import dataclass

from service.sheets.prose.words.qualifiers import regions


@dataclass(frozen=True)
class Seen:
    """A value where it stands."""

    path: str
    value: str
    text: str
    """Its sentence, folded."""
    start: int
    end: int
    """Its words in the sentence."""
    over: str
    """The heading, label, lead and opening that the sentence stands under."""

    @property
    def words(self) -> str:
        return self.text[self.start : self.end]

    @property
    def first(self) -> int:
        """Where `part` begins."""
        return max((found.end() for found in _PART_ENDS.finditer(self.text, 0, self.start)), default=0)

    @property
    def own(self) -> tuple[int, int]:
        """The stretch of `part` that belongs to its number, where it has one."""
        first, last = self.first, self.first + len(self.part)
        numbers = [(found.start() - first, found.end() - first) for found in _A_NUMBER.finditer(self.text, first, last)]
        for (start, end), (a, b) in zip(numbers, regions(self.part, numbers), strict=True):
            if self.start < first + end and first + start < self.end:
                return min(first + a, self.start), max(first + b, self.end)
        return first, last

    @property
    def clause(self) -> tuple[int, int]:
        """The stretch of `part` between commas and dashes."""
        first, last = self.first, self.first + len(self.part)
        before = max((found.end() for found in _COMMAS.finditer(self.text, 0, self.start)), default=0)
        after = self.text.find(",", self.end, last)
        return max(first, before), after if after >= 0 else last

    @property
    def part(self) -> str:
        """What stands around it between semicolons, colons and full stops."""
        last = _PART_ENDS.search(self.text, self.end)
        return self.text[self.first : last.start() if last else None]


_A_NUMBER = re.compile(r"(?<![a-z0-9/])[0-9]+(?:[.,/:][0-9]+)?(?: ?(?:-|x|to|bis|a) ?[0-9]+(?:[.,/][0-9]+)?)*")
_PART_ENDS = re.compile(r";|\.\s|!\s|\?\s")
_COMMAS = re.compile(r",| - ")
