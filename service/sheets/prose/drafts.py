"""What a reading of published text comes back as, and how long a text may be. Plain records: none of the grammar is loaded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from service.language.spoken import say

LONGEST_TEXT_BYTES = 200_000
LONGEST_PAGE_BYTES = 1_000_000
"""Of HTML, most of which is not text; what a reader sees of it is held to the length of a text."""
MEDIA_TYPES = ("text/plain", "text/html")


def longest_bytes(media_type: str) -> int:
    return LONGEST_PAGE_BYTES if media_type == "text/html" else LONGEST_TEXT_BYTES


class ProseRefused(ValueError):
    """The text cannot be read at all."""

    def __init__(self, text: str, /, **values: str) -> None:
        """`text`: a sentence about `{what}`, which says what to do."""
        super().__init__(text)
        self.text, self.values = text, values

    def said_of(self, what: str) -> str:
        """`what`: 'The text', or the name of a file."""
        return say(self.text, what=what, **self.values)


@dataclass(frozen=True)
class ReadValue:
    """One value of the draft with the words that it was read from."""

    path: str
    """'bleed.minimum', 'papers.0.ink_limit', 'levels.ink.overprint-black'."""
    value: str | int | bool | list[str] | list[int]
    """In the sheet's own format: '3 mm', 300, ['cmyk', 'gray']."""
    quote: str
    """The words as they stand in the text; of a level that was worked out, those that it follows from."""
    start: int
    end: int
    """Places of the words in `Reading.text`: text[start:end] == quote."""


@dataclass(frozen=True)
class Passage:
    """A sentence, list item or cell that seems to claim something that was not understood."""

    quote: str
    start: int
    end: int


@dataclass(frozen=True)
class OpenQuestion:
    """Something for a person to settle before the draft is used. Without a quote the text is silent on it."""

    about: str
    """A path of the sheet: 'bleed', 'images.bilevel_ppi'."""
    question: str
    quote: str | None = None
    start: int | None = None
    end: int | None = None
    value: Any = None
    """What `about` would say where a person answers yes; None where there is more to say than that."""


@dataclass(frozen=True)
class Draft:
    product: str | None
    """What it is for, as the text names it; None for what the text says of everything."""
    document: Mapping[str, Any]
    """A sheet document without identity that `validation.read_sheet` takes; empty where nothing was read."""
    values: tuple[ReadValue, ...]
    """All of the document, in the order of the text."""
    own: tuple[str, ...]
    """The paths that are said of this product alone."""


@dataclass(frozen=True)
class Reading:
    """Each sentence of the text is the evidence of a value, or open, or `asks_nothing`."""

    text: str
    """What all places refer to: the text as sent; of HTML what a reader sees of it."""
    drafts: tuple[Draft, ...]
    """First what the text says of everything, then one for each product that it says something else of."""
    not_understood: tuple[Passage, ...]
    questions: tuple[OpenQuestion, ...]
    asks_nothing: tuple[Passage, ...] = ()

    @property
    def draft(self) -> Mapping[str, Any]:
        return self.drafts[0].document

    @property
    def values(self) -> tuple[ReadValue, ...]:
        return self.drafts[0].values
