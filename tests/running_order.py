"""The order of a run: what takes longest begins first, in each of its processes, so that none is left alone with it at the end.

xdist gives each process a part of the list, one after the other and of the same length, and later moves the ends of long parts
to whoever has finished (`--dist=worksteal`). A room stays in one process as long as it can: what it starts is started once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import TypeVar

Thing = TypeVar("Thing")

BEGINNINGS: tuple[tuple[str, ...], ...] = (
    ("browser",),
    ("test_readme.py", "chaos", "test_serving.py", "demo", "outside/generated"),
    ("hostile", "recorded", "api/description/test_code.py", "outside", "jobs/children"),
)
"""Files and rooms for the beginning of each process: those with single tests of ten seconds and more."""


def in_order(tests: Sequence[Thing], place: Callable[[Thing], str], processes: int) -> list[Thing]:
    """`place`: a test's file, from this folder. The same tests, in the order in which they are dealt out."""
    first: list[list[Thing]] = [[] for _ in range(processes)]
    rest: list[Thing] = []
    for test in tests:
        number = _beginning(place(test))
        (rest if number is None else first[number % processes]).append(test)
    dealt: list[Thing] = []
    for number, beginning in enumerate(first):
        size = (len(tests) - len(dealt)) // (processes - number)  # as xdist deals
        fill = max(0, size - len(beginning))
        dealt += [*beginning, *rest[:fill]]
        del rest[:fill]
    return [*dealt, *rest]


@cache
def _beginning(place: str) -> int | None:
    """The longest name counts: a room may begin elsewhere than one of its own rooms."""
    found = [(len(name), number) for number, names in enumerate(BEGINNINGS) for name in names if Path(place).is_relative_to(name)]
    return max(found)[1] if found else None
