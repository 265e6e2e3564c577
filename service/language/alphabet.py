"""The order of words in a list that is read: by their letters, whatever stands on them."""

from __future__ import annotations

import unicodedata


def by_letters(word: str) -> str:
    """What to sort by: 'Österreich' stands between 'Norwegen' and 'Polen', and not behind 'Zypern'."""
    parts = unicodedata.normalize("NFKD", word)
    return "".join(letter for letter in parts if not unicodedata.combining(letter)).casefold()
