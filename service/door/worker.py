"""gunicorn's worker: an event loop takes requests and gives out answers, a few threads answer (`service.door`)."""

from __future__ import annotations

import asyncio
import os
import resource
from asyncio import StreamReader, StreamWriter
from collections import Counter
from contextlib import suppress
from typing import Any

from gunicorn.workers.base import Worker

from service.door import refusals
from service.door.answering import Answering, IsRefused
from service.door.bodies import Spools
from service.door.conversation import MOST_HEAD_BYTES, Conversation

MOST_CONNECTIONS = 1000
"""One address may have half of them."""
FILES_OF_A_CONNECTION = 3
"""Its socket, what it sends and what it is sent."""
_OTHER_FILES = 500
_LOOK_EVERY_SECONDS = 1.0


class DoorWorker(Worker):  # type: ignore[misc]  # the package has no types
    spools: Spools
    is_refused: IsRefused
    """Both are set before the worker runs (`service.serving`)."""

    def init_process(self) -> None:
        self._called = asyncio.Event()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._open: dict[asyncio.Task[None], Conversation] = {}
        self._by_address: Counter[str] = Counter()
        self._most = _connections_that_the_files_allow()
        super().init_process()

    def handle_exit(self, sig: int, frame: Any) -> None:
        """A signal: finish what was begun."""
        super().handle_exit(sig, frame)
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._called.set)

    def look_now(self) -> None:
        """There may be something to see for those who wait. From any thread."""
        if self._loop is not None:
            with suppress(RuntimeError):  # it has ended
                self._loop.call_soon_threadsafe(self._answering.look_now)

    def run(self) -> None:
        self._answering = Answering(self.wsgi, self.cfg, self.spools, self.cfg.threads, self.is_refused)
        try:
            asyncio.run(self._serve())
        finally:
            self._answering.close()

    async def _serve(self) -> None:
        self._loop = asyncio.get_running_loop()
        servers = [
            await asyncio.start_server(self._came, sock=one.sock, limit=MOST_HEAD_BYTES, backlog=self.cfg.backlog)
            for one in self.sockets
        ]
        while self.alive and self.ppid == os.getppid():
            self.notify()
            await self._look_again()
        for server in servers:
            server.close()  # newcomers are refused by the system, at once
        await self._finish()

    async def _look_again(self) -> None:
        with suppress(TimeoutError):
            async with asyncio.timeout(_LOOK_EVERY_SECONDS):
                await self._called.wait()

    async def _finish(self) -> None:
        """What was begun is answered; who is still sending is told to come again."""
        self._answering.stop()
        for task, conversation in self._open.items():
            conversation.stop()
            if conversation.receiving:
                task.cancel()
        until = asyncio.get_running_loop().time() + self.cfg.graceful_timeout
        while self._open and asyncio.get_running_loop().time() < until:
            self.notify()
            await asyncio.wait(self._open, timeout=_LOOK_EVERY_SECONDS)

    async def _came(self, reader: StreamReader, writer: StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None, "a caller is served by a task"
        conversation = Conversation(reader, writer, self._answering, self.spools)
        address = str((writer.get_extra_info("peername") or ("",))[0])
        if len(self._open) >= self._most or self._by_address[address] >= self._most // 2:
            conversation.refuse_at_once(refusals.crowded())
            return
        self._open[task] = conversation
        self._by_address[address] += 1
        try:
            with suppress(asyncio.CancelledError):  # of a process that ends
                await conversation.go_on()
        finally:
            del self._open[task]
            self._by_address[address] -= 1
            if not self._by_address[address]:
                del self._by_address[address]


def _connections_that_the_files_allow() -> int:
    """So many that each has its files. The process takes as many files as it may."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = MOST_CONNECTIONS * FILES_OF_A_CONNECTION + _OTHER_FILES
    if soft != resource.RLIM_INFINITY and soft < wanted:
        soft = wanted if hard == resource.RLIM_INFINITY else min(wanted, hard)
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
    if soft == resource.RLIM_INFINITY:
        return MOST_CONNECTIONS
    return max(16, min(MOST_CONNECTIONS, (soft - _OTHER_FILES) // FILES_OF_A_CONNECTION))
