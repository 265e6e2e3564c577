"""What a demand is: what it asks, of which editions, on which source it rests, and one function that looks for breaches."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeVar, get_args

from service.language.wording import reason
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import NotMeasured, Place

Edition = Literal["PDF/X-1a:2001", "PDF/X-1a:2003", "PDF/X-3:2002", "PDF/X-3:2003", "PDF/X-4", "PDF/X-4p"]
"""The names by which files claim a conformance level of a part of ISO 15930, and of which this service knows the demands."""

ALL: tuple[Edition, ...] = get_args(Edition)
X_1A: tuple[Edition, ...] = ("PDF/X-1a:2001", "PDF/X-1a:2003")
X_3: tuple[Edition, ...] = ("PDF/X-3:2002", "PDF/X-3:2003")
X_4: tuple[Edition, ...] = ("PDF/X-4", "PDF/X-4p")

PARTS: dict[Edition, str] = {
    "PDF/X-1a:2001": "ISO 15930-1:2001", "PDF/X-1a:2003": "ISO 15930-4:2003", "PDF/X-3:2002": "ISO 15930-3:2002",
    "PDF/X-3:2003": "ISO 15930-6:2003", "PDF/X-4": "ISO 15930-7:2010", "PDF/X-4p": "ISO 15930-7:2010",
}  # fmt: skip

Known = TypeVar("Known")


@dataclass(frozen=True)
class Breach:
    found: str
    """What was found, a clause for a designer that can follow 'it is not:'; 'it' in it is the file."""
    pages: tuple[int, ...] = ()
    places: tuple[Place, ...] = ()


Seen = Breach | NotMeasured
Look = Callable[[Measurements, Edition], Iterator[Seen]]


@dataclass(frozen=True)
class Demand:
    id: str
    subject: str
    """What is demanded, a short clause."""
    editions: tuple[Edition, ...]
    remedy: str
    source: str
    look: Look


DEMANDS: dict[str, Demand] = {}
"""Every demand by its id, in the order of their modules (`demands` imports them all)."""


def demand(demand_id: str, *, of: Iterable[Edition], subject: str, remedy: str, source: str) -> Callable[[Look], Look]:
    """Declare the decorated function as a demand of these editions. `source` is what the demand rests on beside ISO 15930."""

    def declare(look: Look) -> Look:
        if demand_id in DEMANDS:
            raise ValueError(f"two demands are called {demand_id}")
        DEMANDS[demand_id] = Demand(demand_id, subject, tuple(of), remedy, source, look)
        return look

    return declare


def known(value: Known | Unmeasured, unknown: list[NotMeasured]) -> Known | None:
    """The value, or None with the reason put on the list."""
    if isinstance(value, Unmeasured):
        unknown.append(NotMeasured(reason(value)))
        return None
    return value
