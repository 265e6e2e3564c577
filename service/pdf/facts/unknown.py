"""What is not known, and why: a value of its own, never zero, never a pass. Reasons can be said in other languages."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.language.sentences import Sentence


class Unmeasured(Sentence):
    """A value that is not known, and why, in a sentence for the reader of the result."""

    @property
    def why(self) -> str:
        """In English."""
        return self.english


class BeyondLimits(Unmeasured):
    """A value that is not known because a check may not do so much: a limit of ours, which says nothing against the file."""


class NotAsked(Unmeasured):
    """A value that was not measured because the answer to what was asked hangs on nothing of it."""


def unmeasured(text: str, /, **values: str | int | float | Sentence) -> Unmeasured:
    return Unmeasured(text, tuple(values.items()))


NOT_LOOKED_AT = Unmeasured("This part of the file was not looked at.")

FailureKind = Literal["locked", "broken", "hostile", "limits"]


@dataclass(frozen=True)
class Failure:
    """Why nothing beyond the file's first bytes could be measured."""

    kind: FailureKind
    """`locked`: needs a password; `broken`: no reader can follow it. The others say nothing against the file: `limits`, it asked
    for more time, memory or depth than a check may use; `hostile`, measuring failed on it, by whose fault is not known."""
    text: str
    values: tuple[tuple[str, str | int | float | Sentence], ...] = ()
    """With `text` as in a `Sentence`."""

    @property
    def reason(self) -> Unmeasured:
        """Of everything that is not known for it."""
        return Unmeasured(self.text, self.values)

    @property
    def why(self) -> str:
        """In English."""
        return self.reason.english


def beyond_limits(text: str, /, **values: str | int | float | Sentence) -> BeyondLimits:
    return BeyondLimits(text, tuple(values.items()))


def failed(kind: FailureKind, text: str, /, **values: str | int | float | Sentence) -> Failure:
    return Failure(kind, text, tuple(values.items()))
