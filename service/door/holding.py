"""Callers who wait for something that is not there yet: each costs a connection and no thread.

An application that is asked for what will come says so to the `Wishes` in the environment of the request (`DOOR`), and answers at
once. The door then looks again for all who wait together, in one thread, a few times a second and whenever it is told that there
is something to see (`look_now`):

* `wait`: until the steps end; then the application is asked anew, and that answer is given out.
* `follow`: each step's bytes are given out as they come, after the answer's own, until the steps end.

A step gives b"" where there is nothing new. It knows its own end: the door ends nothing but when the service stops.
"""

from __future__ import annotations

import asyncio
from collections import Counter
from collections.abc import AsyncIterator, Iterator, Mapping
from concurrent.futures import Executor
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

DOOR = "print_spec.door"
"""Where the application finds its `Wishes` in the environment of a request."""
GOES_ON = "print_spec.goes_on"
"""In the environment of what belongs to a request that was answered in part: it is not counted once more."""
MOST_HELD = 250
"""In one process; one address may have half of them."""
LOOK_EVERY_SECONDS = 0.2
_LOOK_AT_MOST_EVERY_SECONDS = 0.01
"""However often it is told."""

Steps = Iterator[bytes]


@dataclass
class Wishes:
    """What the application wants done with its answer."""

    may_be_held: bool
    steps: Steps | None = None
    again: Mapping[str, Any] = field(default_factory=dict)
    """Changes of the environment with which the application is asked anew."""
    is_followed: bool = False

    def wait(self, steps: Steps, again: Mapping[str, Any]) -> bool:
        """False where too many wait: answer now."""
        if self.may_be_held:
            self.steps, self.again = steps, again
        return self.may_be_held

    def follow(self, steps: Steps) -> bool:
        """False where too many do: say so."""
        if self.may_be_held:
            self.steps, self.is_followed = steps, True
        return self.may_be_held


class Holding:
    def __init__(self, threads: Executor) -> None:
        self._threads = threads
        self._held: dict[Steps, asyncio.Queue[bytes | None]] = {}
        self._by_address: Counter[str] = Counter()
        self._looking: asyncio.Task[None] | None = None
        self._told = asyncio.Event()
        self.stopping = False

    def has_room_for(self, address: str) -> bool:
        return not self.stopping and len(self._held) < MOST_HELD and self._by_address[address] < MOST_HELD // 2

    def look_now(self) -> None:
        """There may be something new. On the event loop."""
        self._told.set()

    def stop(self) -> None:
        """Whoever waits gets what there is."""
        self.stopping = True
        for queue in self._held.values():
            queue.put_nowait(None)

    async def pieces(self, steps: Steps, address: str) -> AsyncIterator[bytes]:
        queue: asyncio.Queue[bytes | None] = asyncio.Queue()
        self._held[steps] = queue
        self._by_address[address] += 1
        if self._looking is None or self._looking.done():
            self._looking = asyncio.create_task(self._look())
        try:
            while not self.stopping and (piece := await queue.get()) is not None:
                yield piece
        finally:
            del self._held[steps]
            self._by_address[address] -= 1
            if not self._by_address[address]:
                del self._by_address[address]

    async def _look(self) -> None:
        try:
            while self._held:
                await self._told_or_time()
                self._told.clear()
                said = await asyncio.get_running_loop().run_in_executor(self._threads, _next_of, list(self._held))
                for steps, piece in said:
                    if piece != b"" and steps in self._held:
                        self._held[steps].put_nowait(piece)
        finally:
            for queue in self._held.values():  # a step that fails is a fault of ours; nobody waits for ever for it
                queue.put_nowait(None)

    async def _told_or_time(self) -> None:
        await asyncio.sleep(_LOOK_AT_MOST_EVERY_SECONDS)
        with suppress(TimeoutError):
            async with asyncio.timeout(LOOK_EVERY_SECONDS):
                await self._told.wait()


def _next_of(held: list[Steps]) -> list[tuple[Steps, bytes | None]]:
    return [(steps, next(steps, None)) for steps in held]
