"""Words from process to process through PostgreSQL (LISTEN and NOTIFY), which come with the transaction that they speak of.

SQLite has none: there, who waits looks again now and then.
"""

from __future__ import annotations

import logging
import select
import threading
from collections.abc import Callable
from typing import Any

from sqlalchemy import Connection, Engine, text
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.orm import Session

log = logging.getLogger(__name__)

WAITS, DONE, STOP, CALL = "waits", "done", "stop", "call"
"""A check waits; a check is done with; a check is to stop; a callback is due."""
_CHANNEL = "print_spec"
_LOOK_EVERY_SECONDS = 1.0
_AGAIN_AFTER_SECONDS = 1.0


def are_heard(engine: Engine) -> bool:
    return engine.dialect.name == "postgresql"


def tell(speaker: Session | Connection, word: str, check_id: str = "") -> None:
    """Once the transaction is committed, each process hears it."""
    connection = speaker.connection() if isinstance(speaker, Session) else speaker
    if are_heard(connection.engine):
        connection.execute(text("SELECT pg_notify(:channel, :said)"), {"channel": _CHANNEL, "said": f"{word} {check_id}"})


class Listening:
    """A thread that hears what is told, and after the database was away says so: then everything may have changed."""

    def __init__(self, engine: Engine, heard: Callable[[str, str], None], missed: Callable[[], None]) -> None:
        self._engine, self._heard, self._missed = engine, heard, missed
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._listen, name="listening", daemon=True)

    def start(self) -> None:
        if are_heard(self._engine):
            self._thread.start()

    def close(self) -> None:
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join(10 * _LOOK_EVERY_SECONDS)

    def _listen(self) -> None:
        while not self._stop.is_set():
            try:
                with self._engine.connect() as connection:
                    connection.exec_driver_sql(f"LISTEN {_CHANNEL}")
                    connection.commit()
                    try:
                        self._missed()
                        self._hear(connection)
                    finally:
                        connection.detach()  # nobody else gets one that listens
            except (SQLAlchemyError, OSError) as error:
                log.warning("the database does not tell what happens (%s); trying again", type(error).__name__)
                self._stop.wait(_AGAIN_AFTER_SECONDS)

    def _hear(self, connection: Connection) -> None:
        driver: Any = connection.connection.driver_connection
        while not self._stop.is_set():
            readable, _, _ = select.select([driver._usock], [], [], _LOOK_EVERY_SECONDS)
            if readable or self._stop.is_set():
                connection.exec_driver_sql("SELECT 1")  # the driver takes in what has come
                connection.commit()  # and the database tells nothing within a transaction
            while driver.notifications:
                _, _, said = driver.notifications.popleft()
                word, _, check_id = said.partition(" ")
                self._heard(word, check_id)
