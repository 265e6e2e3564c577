"""The latest measurements and judgements as records: a check that was just finished is asked for, told and drawn without reading
them again.
"""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from dataclasses import dataclass

from service.pdf.facts.measurements import Measurements
from service.rules.judgement import Judgements

MOST_CHARACTERS, MOST_JUDGED_CHARACTERS = 6_000_000, 3_000_000
"""Of JSON, all together; as records they take some two to three times as much (measured). Ours, no source."""
MOST_OF_A_LARGE_ONE = 24_000_000
"""Of the latest one that is larger than all of them may be: 1,000 pages of text take 19 million. It is kept until it was told,
so that who waits for it does not wait until it is read anew, and the next one has its room.
"""
UNTOLD_SECONDS = 5.0
"""After which nobody waits for it. Ours, no source."""


@dataclass
class _Large:
    digest: str
    measurements: Measurements
    since: float
    is_told: bool = False


class RecentlyMeasured:
    def __init__(self, most_characters: int = MOST_CHARACTERS) -> None:
        self._most = self._left = most_characters
        self._large: _Large | None = None
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, tuple[Measurements, int]] = OrderedDict()

    def get(self, digest: str, most_characters: int = MOST_CHARACTERS) -> Measurements | None:
        """None as well where their JSON is longer than that."""
        with self._lock:
            if self._large and self._large.digest == digest and most_characters >= self._most:
                self._large.is_told = True
                return self._large.measurements
            found = self._kept.get(digest)
            if found is None or found[1] > most_characters:
                return None
            self._kept.move_to_end(digest)
            return found[0]

    def keep(self, digest: str, measurements: Measurements, characters: int) -> None:
        """`characters`: of their JSON."""
        with self._lock:
            if digest in self._kept:
                return
            if characters > self._most:
                is_kept = characters <= MOST_OF_A_LARGE_ONE
                self._large = _Large(digest, measurements, time.monotonic()) if is_kept else None
                return
            self._kept[digest] = measurements, characters
            self._left -= characters
            while self._left < 0:
                _, (_, freed) = self._kept.popitem(last=False)
                self._left += freed

    def make_room(self) -> None:
        """For another check: a large one goes that was told, or that nobody asks for."""
        with self._lock:
            large = self._large
            if large and (large.is_told or time.monotonic() - large.since > UNTOLD_SECONDS):
                self._large = None

    def forget(self, digest: str) -> None:
        with self._lock:
            if self._large and self._large.digest == digest:
                self._large = None
            _, freed = self._kept.pop(digest, (None, 0))
            self._left += freed


class RecentlyJudged:
    def __init__(self, most_characters: int = MOST_JUDGED_CHARACTERS) -> None:
        self._left = most_characters
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, tuple[str, Judgements]] = OrderedDict()

    def get(self, check_id: str, text: str) -> Judgements | None:
        """Those of which the text is the JSON."""
        with self._lock:
            kept_text, judgements = self._kept.get(check_id, ("", None))
        return judgements if kept_text == text else None

    def keep(self, check_id: str, text: str, judgements: Judgements) -> None:
        self.forget(check_id)  # it was judged anew
        with self._lock:
            self._kept[check_id] = text, judgements
            self._left -= len(text)
            while self._left < 0:
                _, (freed, _) = self._kept.popitem(last=False)
                self._left += len(freed)

    def forget(self, check_id: str) -> None:
        with self._lock:
            freed, _ = self._kept.pop(check_id, ("", None))
            self._left += len(freed)
