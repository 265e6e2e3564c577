"""What happens to checks, told inside this process: by itself, and by others through the database where that tells."""

from __future__ import annotations

from collections.abc import Callable

from service.store.notices import CALL, DONE, STOP, WAITS

Ear = Callable[[str, str], None]
"""Gets the word and the check's id, if it is about one."""


class Bell:
    def __init__(self) -> None:
        self._ears: list[Ear] = []

    def hear(self, ear: Ear) -> None:
        """From now on it is called at each word; it must return at once."""
        self._ears.append(ear)

    def ring(self, word: str, check_id: str = "") -> None:
        for ear in self._ears:
            ear(word, check_id)

    def missed(self) -> None:
        """Nobody knows what was told meanwhile: whoever waits looks for himself."""
        for word in (WAITS, DONE, STOP, CALL):
            self.ring(word)
