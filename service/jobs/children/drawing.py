"""Have something drawn from a file in the sandbox, and take the bytes as those of a stranger.

They come with their length and are bounded; what kind they are is for the caller to see to, before anybody else gets them.
"""

from __future__ import annotations

import json

from service.jobs.children.failures import TOOK_TOO_LONG, out_of_time
from service.jobs.children.lines import NOT_DRAWN, Heard
from service.jobs.children.sandbox import listen_to
from service.jobs.children.tasks import DRAWING, DrawingTask, Limits
from service.language.sentence_codec import sentence_from_data
from service.pdf.facts.unknown import Unmeasured

MOST_DRAWN_BYTES = 60 * 2**20
"""A plate of 30 million pixels of noise has 30 MB."""
MOST_ADDED_BYTES = 8 * 2**20
"""A PDF that is made of a larger file may be as large as that file, and so much larger."""
_LONGEST_LINE = 2**17
_LONGEST_WHY = 1000


def draw(task: DrawingTask, limits: Limits) -> bytes | Unmeasured:
    """The bytes, or why they cannot be had of this file: `OutOfTime` where asking again may help.

    Raises `SandboxBroken` or OSError for our own faults.
    """
    size_bytes = task.pdf.stat().st_size if task.pdf else 0  # a file that is gone is told apart from one that cannot be drawn
    said = _HeardOfDrawing(max(MOST_DRAWN_BYTES, size_bytes + MOST_ADDED_BYTES))
    failure = listen_to(DRAWING, task, limits, said, lambda: False)
    if failure is not None:
        return out_of_time(limits) if failure is TOOK_TOO_LONG else failure.reason
    assert said.drawn is not None, "a drawing that was not made has a reason"
    return said.drawn


class _HeardOfDrawing(Heard):
    def __init__(self, most_drawn: int) -> None:
        super().__init__(most_drawn + 2 * _LONGEST_LINE, _LONGEST_LINE, most_drawn)
        self.drawn: bytes | Unmeasured | None = None

    @property
    def complete(self) -> bool:
        return self.error is not None or self.drawn is not None

    def understand(self, letter: bytes, text: str) -> None:
        if letter != NOT_DRAWN:
            raise ValueError(f"no line of ours: {letter!r} {text[:80]!r}")
        self.drawn = _reason(json.loads(text))

    def take(self, data: bytes) -> None:
        self.drawn = data


def _reason(data: object) -> Unmeasured:
    why = sentence_from_data(data)
    if not 0 < len(why.english) <= _LONGEST_WHY:
        raise ValueError("no reason that ours would give")
    return Unmeasured(why.text, why.values)
