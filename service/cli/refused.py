"""A command that cannot do what it was told to, and why, for the person at the terminal."""

from __future__ import annotations

import sys

NOT_DONE = 2
"""What such a command ends with."""


class Refused(Exception):
    """Raised anywhere in a command; `print-spec` says the sentences and ends."""

    def __init__(self, *sentences: str) -> None:
        super().__init__("\n".join(sentences))


def told(refused: Exception) -> int:
    """Says why on stderr."""
    print(refused, file=sys.stderr)
    return NOT_DONE
