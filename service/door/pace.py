"""How long a caller may take: a while for nothing, then as long as the bytes need that came or went, together, at the least pace.

The time counts from the first byte to the last. A limit for each piece would not end: whoever sends a byte before each of its
ends would stay for as long as he likes.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

HEAD_SECONDS = 10.0
"""For the request line and the headers, all of them."""
GRACE_SECONDS = 30.0
"""That a body or an answer may take however few bytes it has."""
LEAST_BYTES_A_SECOND = 20_000
"""What the slowest mobile networks carry (from memory)."""


class Pace:
    """Of one body or one answer, while it is under way."""

    def __init__(self, limit: asyncio.Timeout, grace_seconds: float) -> None:
        self._limit, self._until = limit, asyncio.get_running_loop().time() + grace_seconds

    def went(self, count: int) -> None:
        """So many more bytes came or went."""
        self._until += count / LEAST_BYTES_A_SECOND
        self._limit.reschedule(self._until)


@asynccontextmanager
async def paced(grace_seconds: float = GRACE_SECONDS) -> AsyncIterator[Pace]:
    """Raises TimeoutError where it takes longer."""
    async with asyncio.timeout(grace_seconds) as limit:
        yield Pace(limit, grace_seconds)
