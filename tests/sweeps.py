"""How much of a dear sweep the suite takes: a fixed part, the same each time; all of it with `PRINT_SPEC_SWEEPS=whole`.

The whole is for whoever changes what is swept (plates, the walk, the sandbox, stored sheets), and before a release.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TypeVar

Thing = TypeVar("Thing")
WHOLE = os.environ.get("PRINT_SPEC_SWEEPS") == "whole"


def part_of(things: Iterable[Thing], one_in: int) -> list[Thing]:
    """In their order; the first is always among them."""
    every = list(things)
    return every if WHOLE else every[::one_in]
