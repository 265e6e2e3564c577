"""How much of a dear sweep the suite takes: a fixed part, the same each time; all of it with `PRINT_SPEC_SWEEPS=whole`.

The whole is for whoever changes what is swept (plates, the walk, the sandbox, stored sheets), and before a release.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

Thing = TypeVar("Thing")
WHOLE = os.environ.get("PRINT_SPEC_SWEEPS") == "whole"


def part_of(things: Iterable[Thing], one_in: int, kind: Callable[[Thing], Hashable] = lambda _: None) -> list[Thing]:
    """In their order; the first of each kind is always among them."""
    every = list(things)
    first: dict[Hashable, int] = {}
    for number, one in enumerate(every):
        first.setdefault(kind(one), number)
    firsts = set(first.values())
    return every if WHOLE else [one for number, one in enumerate(every) if number % one_in == 0 or number in firsts]
