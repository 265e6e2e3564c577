"""What a child says to its parent over a pipe: lines of one letter and JSON, and bytes whose number a line tells.

| letter | what follows |
| --- | --- |
| `R` | nothing: it is ready, what comes from now on has to do with the file |
| `P` | progress: stage, how many are done, how many there are |
| `D` | the file as a whole; twice, where what takes a look at every object follows later |
| `G` | one page |
| `M` | measurements of a file in one piece, instead of `D` and `G` |
| `J` | judgements of what this child has measured |
| `N` | why something cannot be drawn |
| `B` | a number, and after the end of the line so many bytes of what was drawn |
| `E` | an error of Python, with its trace |

The parent takes what comes as that of a stranger: bounded in each line and as a whole, of known letters, never unpickled.

A child that judges what others measure is told that by its parent: each page by itself (`G`), and once all are told `D`.
"""

from __future__ import annotations

import json
import os
from abc import ABC, abstractmethod
from collections.abc import Iterator
from typing import NamedTuple

READY, PROGRESS, DOCUMENT, PAGE, MEASUREMENTS, JUDGEMENTS, NOT_DRAWN, BYTES, ERROR = (
    letter.encode() for letter in ("R", "P", "D", "G", "M", "J", "N", "B", "E")
)


# --- The child's end --------------------------------------------------------------------------------------------------


def send(out: int, letter: bytes, text: str = "") -> None:
    """One line."""
    _write(out, letter + text.encode("utf-8", "backslashreplace") + b"\n")


def send_progress(out: int, stage: str, done: int, total: int) -> None:
    send(out, PROGRESS, json.dumps([stage, done, total]))


def send_bytes(out: int, data: bytes) -> None:
    send(out, BYTES, str(len(data)))
    _write(out, data)


def send_error(out: int, *, memory: bool, trace: str) -> None:
    """`memory`: it asked for more than it may have."""
    send(out, ERROR, json.dumps([memory, trace[-8000:]]))


def lines_told(heard: int) -> Iterator[tuple[bytes, str]]:
    """By the parent: letters and texts, until it hangs up."""
    with os.fdopen(heard, "rb") as told:
        for line in told:
            yield line[:1], line[1:-1].decode()


def _write(out: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(out, rest) :]


# --- The parent's end -------------------------------------------------------------------------------------------------


class TooMuchSaid(Exception):
    """More came than anybody may say."""


class ErrorTold(NamedTuple):
    memory: bool
    trace: str


class Heard(ABC):
    """What one child has said so far; each kind of child knows letters of its own."""

    def __init__(self, most_bytes: int, longest_line: int | None = None, most_drawn: int = 0) -> None:
        """`most_drawn`: that a line `B` may announce."""
        self.ready = False
        self.error: ErrorTold | None = None
        self._most_bytes, self._longest_line, self._most_drawn = most_bytes, longest_line or most_bytes, most_drawn
        self._received = 0
        self._begun = bytearray()
        """Of a line, or of the bytes, whose end has not come yet."""
        self._bytes_to_come: int | None = None

    @property
    @abstractmethod
    def complete(self) -> bool:
        """Nothing more is to come."""

    @abstractmethod
    def understand(self, letter: bytes, text: str) -> None:
        """Of a line. Raises ValueError or RecursionError where it is nothing that a child of ours sends."""

    def take(self, data: bytes) -> None:
        """Of bytes that a line `B` announced; only where some may be drawn."""
        raise NotImplementedError

    def hear(self, chunk: bytes) -> None:
        """Raises TooMuchSaid, and as `understand`."""
        self._received += len(chunk)
        if self._received > self._most_bytes:
            raise TooMuchSaid
        at = 0
        while self._bytes_to_come is None and (end := chunk.find(b"\n", at)) >= 0:
            line = bytes(self._begun + chunk[at:end])
            self._begun.clear()
            at = end + 1
            self._line(line[:1], line[1:].decode("utf-8"))
        self._begun += chunk[at:]
        if self._bytes_to_come is None:
            if len(self._begun) > self._longest_line:
                raise ValueError("a line without end")
        elif len(self._begun) > self._bytes_to_come:
            raise ValueError("more bytes than were told")
        elif len(self._begun) == self._bytes_to_come:
            self.take(bytes(self._begun))

    def _line(self, letter: bytes, text: str) -> None:
        if len(text) > self._longest_line:
            raise ValueError("a line that is too long")
        if letter == READY:
            self.ready = True
        elif letter == ERROR:
            self.error = _error(text)
        elif letter == BYTES:
            self._bytes_to_come = self._number(text)
        else:
            self.understand(letter, text)

    def _number(self, text: str) -> int:
        if not (text.isascii() and text.isdigit() and len(text) < 12 and 0 < int(text) <= self._most_drawn):
            raise ValueError(f"no number of bytes: {text[:20]!r}")
        return int(text)


def progress_told(text: str) -> tuple[str, int, int]:
    """Of a line `P`. Raises ValueError."""
    match json.loads(text):
        case [str(stage), int(done), int(total)] if stage.isidentifier() and len(stage) < 40 and 0 <= done <= total < 10**9:
            return stage, done, total
        case other:
            raise ValueError(f"no progress: {other!r:.80}")


def _error(text: str) -> ErrorTold:
    match json.loads(text):
        case [bool(memory), str(trace)]:
            return ErrorTold(memory, trace)
        case other:
            raise ValueError(f"no report of an error: {other!r:.80}")
