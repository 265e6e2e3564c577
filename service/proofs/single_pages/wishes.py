"""What a caller may wish of a file's single pages."""

from __future__ import annotations

from dataclasses import dataclass

from service.language.spoken import say
from service.proofs.wishes import NotUnderstood, page_numbers


@dataclass(frozen=True)
class SinglePagesWishes:
    spreads: str | None = None
    """As `spreads_named` reads it; None: by size."""


def spreads_named(text: str, page_count: int) -> frozenset[int]:
    """Page numbers as a person writes them: 'all', 'none', '2-6', '2,4-6'. Raises `NotUnderstood`."""
    match text.strip().lower():
        case "all":
            return frozenset(range(1, page_count + 1))
        case "none":
            return frozenset()
        case "":
            raise NotUnderstood(say("Write 'all', 'none', or the pages that are spreads, such as 2-6."))
    return frozenset(page_numbers(text, page_count))
