"""What a demand is: what it demands, of which editions, on which source it rests, and one function that looks for breaches."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import wraps
from typing import Literal, get_args

from service.pdf.facts.measurements import Measurements
from service.rules.base import Place
from service.rules.seen import Needed, Needs, NotMeasured, looking

Edition = Literal["PDF/X-1a:2001", "PDF/X-1a:2003", "PDF/X-3:2002", "PDF/X-3:2003", "PDF/X-4", "PDF/X-4p"]
"""The names by which files claim a conformance level of a part of ISO 15930, and of which this service knows the demands."""

ALL: tuple[Edition, ...] = get_args(Edition)
X_1A: tuple[Edition, ...] = ("PDF/X-1a:2001", "PDF/X-1a:2003")
X_3: tuple[Edition, ...] = ("PDF/X-3:2002", "PDF/X-3:2003")
X_4: tuple[Edition, ...] = ("PDF/X-4", "PDF/X-4p")

PARTS: dict[Edition, str] = {
    "PDF/X-1a:2001": "ISO 15930-1:2001",
    "PDF/X-1a:2003": "ISO 15930-4:2003",
    "PDF/X-3:2002": "ISO 15930-3:2002",
    "PDF/X-3:2003": "ISO 15930-6:2003",
    "PDF/X-4": "ISO 15930-7:2010",
    "PDF/X-4p": "ISO 15930-7:2010",
}


@dataclass(frozen=True)
class Breach:
    found: str
    """What was found, a clause for a designer that can follow 'it is not:'; 'it' in it is the file."""
    pages: tuple[int, ...] = ()
    places: tuple[Place, ...] = ()


Told = Breach | NotMeasured


@dataclass(frozen=True)
class Demand:
    id: str
    subject: str
    """What is demanded, a short clause."""
    editions: tuple[Edition, ...]
    remedy: str
    source: str
    look: Callable[[Measurements, Edition], Iterator[Told]]


DEMANDS: dict[str, Demand] = {}
"""Every demand by its id, in the order of their modules (`demands` imports them all)."""


def demand(
    demand_id: str, *, needs: Needs[Needed], of: Iterable[Edition], subject: str, remedy: str, source: str
) -> Callable[[Callable[[Needed, Edition], Iterator[Told]]], Callable[[Needed, Edition], Iterator[Told]]]:
    """Declare the decorated function as a demand of these editions. `source` is what the demand rests on beside ISO 15930.

    `needs` as of a rule: what it lacks is told once, however many demands lack it.
    """

    def declare(function: Callable[[Needed, Edition], Iterator[Told]]) -> Callable[[Needed, Edition], Iterator[Told]]:
        if demand_id in DEMANDS:
            raise ValueError(f"two demands are called {demand_id}")

        @wraps(function)
        def look(measurements: Measurements, edition: Edition) -> Iterator[Told]:
            return looking(needs, function, measurements, edition)

        DEMANDS[demand_id] = Demand(demand_id, subject, tuple(of), remedy, source, look)
        return function

    return declare
