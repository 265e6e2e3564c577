"""Who waits at the door is looked after when there is something to see, not only now and then."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest

from service.door.holding import Holding
from tests.patience import PATIENCE_SECONDS


def test_who_waits_is_answered_when_the_door_is_told_not_at_its_next_look(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.door.holding.LOOK_EVERY_SECONDS", 100 * PATIENCE_SECONDS)
    over = threading.Event()

    def steps() -> Iterator[bytes]:
        while not over.is_set():
            yield b""

    async def waits(holding: Holding) -> None:
        async for piece in holding.pieces(steps(), "127.0.0.1"):
            pytest.fail(f"{piece!r} was told, and nothing is to be told")

    async def told() -> None:
        with ThreadPoolExecutor(1) as threads:
            holding = Holding(threads)
            waiting = asyncio.create_task(waits(holding))
            await asyncio.sleep(0)  # it is held
            holding.look_now()
            await asyncio.sleep(0.05)
            assert not waiting.done(), "it is not over yet"
            over.set()
            holding.look_now()
            await asyncio.wait_for(waiting, PATIENCE_SECONDS)

    asyncio.run(told())
