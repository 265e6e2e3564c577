"""Who writes to SQLite next: the threads of a process in the order in which they came.

SQLite lets one write at a time, and those who wait ask again every tenth of a second: whoever comes just when it is free goes
first. With 64 callers on an overloaded machine (measured: 0.1 s a writer) some waited for three seconds and more while newcomers
did not wait at all, and a worker could not put its check back. Between processes it stays so; there are few.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from typing import Any

from sqlalchemy import Connection, Engine, event
from sqlalchemy.pool import ConnectionPoolEntry

_READS = ("SELECT", "PRAGMA", "SAVEPOINT", "RELEASE", "ROLLBACK")
"""So begins what asks nobody to wait, or is within a transaction that has its turn."""
_TURN = "turn"


class Turns:
    def __init__(self) -> None:
        self._changing = threading.Lock()
        self._is_taken = False
        self._waiting: deque[threading.Event] = deque()

    def take(self, seconds: float) -> bool:
        """Wait for the turn at most so long; False where it did not come."""
        with self._changing:
            if not self._is_taken:
                self._is_taken = True
                return True
            called = threading.Event()
            self._waiting.append(called)
        called.wait(seconds)
        with self._changing:
            if not called.is_set():
                self._waiting.remove(called)
            return called.is_set()

    def give_back(self) -> None:
        """The turn is the next one's."""
        with self._changing:
            if self._waiting:
                self._waiting.popleft().set()
            else:
                self._is_taken = False


def take_turns(engine: Engine, seconds: Callable[[Connection], float]) -> None:
    """From the first statement that writes until the connection is given back. `seconds`: how long a connection waits.

    Whose turn does not come in that time asks SQLite all the same, which says whether it is locked.
    """
    turns = Turns()

    def before(connection: Connection, _: Any, statement: str, *__: Any) -> None:
        if not connection.info.get(_TURN) and not statement.lstrip().upper().startswith(_READS):
            connection.info[_TURN] = turns.take(seconds(connection))

    def let_go(_: Any, record: ConnectionPoolEntry, *__: Any) -> None:
        if record.info.pop(_TURN, False):
            turns.give_back()

    event.listen(engine, "before_cursor_execute", before)
    for end in ("checkin", "detach", "invalidate"):
        event.listen(engine, end, let_go)
