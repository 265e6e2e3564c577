"""Finding the word that somebody meant, and text that is safe to show."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable


def nearest(word: str, known: Iterable[str]) -> str | None:
    """None where nothing is close."""
    close = difflib.get_close_matches(word.lower()[:60], list(known), n=1, cutoff=0.6)
    return close[0] if close else None


def file_name(sent: str | None) -> str | None:
    """What the sender called the file, for reading: the last step of a path, without control and direction characters."""
    last = (sent or "").replace("\\", "/").rsplit("/", 1)[-1]
    text = "".join(one for one in last if unicodedata.category(one)[0] != "C").strip()
    return text[:200] or None
