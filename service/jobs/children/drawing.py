"""Have something drawn from a file in the sandbox, and take the bytes as those of a stranger.

They come with their length and are bounded; what kind they are is for the caller to see to, before anybody else gets them.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from service.jobs.children.child import Limits
from service.jobs.children.drawing_child import DrawingTask, main
from service.jobs.children.sandbox import error_told, listen_to
from service.language.sentence_codec import sentence_from_data
from service.pdf.facts.unknown import Failure, Unmeasured

MOST_DRAWN_BYTES = 60 * 2**20
"""A plate of 30 million pixels of noise has 30 MB."""
MOST_ADDED_BYTES = 8 * 2**20
"""A PDF that is made of a larger file may be as large as that file, and so much larger."""
_LONGEST_LINE = 2**17
_LONGEST_WHY = 1000


def draw(task: DrawingTask, limits: Limits) -> bytes | Unmeasured:
    """The bytes, or why they cannot be had of this file. Raises `SandboxBroken` or OSError for our own faults."""
    size_bytes = task.pdf.stat().st_size  # a file that is gone is told apart from one that cannot be drawn
    said = _SaidOfDrawing(max(MOST_DRAWN_BYTES, size_bytes + MOST_ADDED_BYTES))
    failure = listen_to(main, task, limits, said, lambda: False, most_bytes=said.most_bytes + 2 * _LONGEST_LINE)
    if failure is not None:
        return failure.reason
    assert said.drawn is not None, "a drawing that was not made has a reason"
    return said.drawn


@dataclass
class _SaidOfDrawing:
    most_bytes: int
    ready: bool = False
    failure: Failure | None = None
    drawn: bytes | Unmeasured | None = None
    _received: bytearray = field(default_factory=bytearray)
    _length: int | None = None
    """Of the bytes that follow, once it was told."""

    @property
    def complete(self) -> bool:
        return self.failure is not None or self.drawn is not None

    def hear(self, chunk: bytes) -> None:
        self._received += chunk
        while self._length is None and (end := self._received.find(b"\n")) >= 0:
            line = bytes(self._received[:end])
            del self._received[: end + 1]
            self._understand(line[:1], line[1:])
        if self._length is None:
            if len(self._received) > _LONGEST_LINE:
                raise ValueError("a line without end")
        elif len(self._received) > self._length:
            raise ValueError("more bytes than were told")
        elif len(self._received) == self._length:
            self.drawn = bytes(self._received)

    def _understand(self, kind: bytes, text: bytes) -> None:
        if kind == b"R":
            self.ready = True
        elif kind == b"B" and text.isdigit() and len(text) < 12 and 0 < int(text) <= self.most_bytes:
            self._length = int(text)
        elif kind == b"N":
            self.drawn = _reason(json.loads(text))
        elif kind == b"E":
            self.failure = error_told(text.decode("utf-8"))
        else:
            raise ValueError(f"no line of ours: {kind + text[:80]!r}")


def _reason(data: object) -> Unmeasured:
    why = sentence_from_data(data)
    if not 0 < len(why.english) <= _LONGEST_WHY:
        raise ValueError("no reason that ours would give")
    return Unmeasured(why.text, why.values)
