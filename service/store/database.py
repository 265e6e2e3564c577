"""The database connection: SQLite in the data folder by default, any SQLAlchemy URL by setting."""

from __future__ import annotations

import logging
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Dialect, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection, DBAPICursor, ExceptionContext
from sqlalchemy.exc import OperationalError, SQLAlchemyError
from sqlalchemy.pool import ConnectionPoolEntry

from service.store.schema import bring_up_to_date
from service.store.turns import take_turns

log = logging.getLogger(__name__)

DatabaseError = SQLAlchemyError
DatabaseAway = OperationalError
"""What every failure of the database is, for rooms that do not know SQLAlchemy."""


_BUSY_MS = 10_000
"""A writer takes milliseconds, on an overloaded machine a tenth of a second, and others of this process are before it
(`service.store.turns`). Longer than this, and its callers are told so."""
_BRIEFLY_MS = 1000
_WAITS_MS = "waits_ms"
"""Under this name a connection knows that it waits otherwise."""
_CONNECTIONS = 24
"""For each thread that may ask, so that none waits for another's."""
_WIPE_WITHIN_MS = 200
_ANSWER_WITHIN_SECONDS = 10
"""Of a database on another machine: longer, and it is away."""
_BEGUN_WITHIN_SECONDS = 45
_AGAIN_AFTER_SECONDS = 1.0
_AWAY = ("08", "53", "57")
"""Classes of errors that say so: connection, resources, operator's intervention (PostgreSQL's manual, appendix A)."""


def open_database(url: str, data: Path) -> Engine:
    """Connect, and bring the tables up to date. An empty `url` is SQLite under `data`.

    A new file of SQLite is readable by its own user only: it holds what stands in other people's PDFs. Raises OSError where
    it cannot be made.
    """
    place = url or f"sqlite:///{data / 'checks.sqlite3'}"
    seconds = {"timeout": _ANSWER_WITHIN_SECONDS} if place.startswith("postgresql+pg8000:") else {}
    asks_first = not place.startswith("sqlite:")  # whether a connection still stands; a file does not go away
    engine = create_engine(place, pool_pre_ping=asks_first, pool_size=_CONNECTIONS, hide_parameters=True, connect_args=seconds)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _set_up_sqlite)
        take_turns(engine, lambda connection: connection.info.get(_WAITS_MS, _BUSY_MS) / 1000)
    else:
        event.listen(engine, "do_connect", _connected)
        event.listen(engine, "handle_error", _say_that_it_is_away, retval=True)
        event.listen(engine, "before_cursor_execute", _without_nul, retval=True)
    file = engine.url.database if engine.dialect.name == "sqlite" else None
    if file and file != ":memory:" and not file.startswith("file:") and not Path(file).exists():
        Path(file).touch(mode=0o600)  # before it is first used: its journal gets the same rights
    _begin(engine)
    return engine


def _begin(engine: Engine) -> None:
    """Bring the tables up to date. A database that is just away is waited for: all begin at once after a power cut."""
    last = time.monotonic() + (_BEGUN_WITHIN_SECONDS if engine.dialect.name != "sqlite" else 0)
    while True:
        try:
            bring_up_to_date(engine)
            return
        except DatabaseAway as error:
            if time.monotonic() > last:
                raise
            log.warning("the database cannot be used yet (%s); trying again", type(error.orig).__name__)
            time.sleep(_AGAIN_AFTER_SECONDS)


def wipe_journal(engine: Engine) -> None:
    """SQLite keeps what was written, of deleted rows too, in its journal until that is written over: empty it now."""
    if engine.dialect.name != "sqlite":
        return
    with engine.connect() as connection, waiting_briefly(connection, _WIPE_WITHIN_MS):
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")


@contextmanager
def waiting_briefly(connection: Connection, most_ms: int | None = None) -> Iterator[None]:
    """For another writer (SQLite): for what may as well be left, so that nobody is kept waiting for it."""
    if connection.dialect.name != "sqlite":
        yield
        return
    connection.info[_WAITS_MS] = most_ms or _BRIEFLY_MS
    connection.exec_driver_sql(f"PRAGMA busy_timeout = {connection.info[_WAITS_MS]}")
    try:
        yield
    finally:
        connection.exec_driver_sql(f"PRAGMA busy_timeout = {_BUSY_MS}")
        del connection.info[_WAITS_MS]


def _connected(dialect: Dialect, _: ConnectionPoolEntry, given: tuple[Any, ...], named: dict[str, Any]) -> Any:
    """The driver lets what the network says while it connects pass as it is; it is the same as afterwards."""
    try:
        return dialect.connect(*given, **named)
    except OSError as error:
        raise dialect.loaded_dbapi.InterfaceError("network error") from error


def _without_nul(_: Any, __: Any, statement: str, given: Any, *___: Any) -> tuple[str, Any]:
    """PostgreSQL takes no NUL in a text. A caller may send one, in an address for one, and means nothing that is kept."""
    return statement, _replaced(given)


def _replaced(given: Any) -> Any:
    if isinstance(given, str):
        return given.replace("\0", "\ufffd") if "\0" in given else given
    if isinstance(given, dict):
        return {name: _replaced(value) for name, value in given.items()}
    return type(given)(map(_replaced, given)) if isinstance(given, (list, tuple)) else given


def _say_that_it_is_away(context: ExceptionContext) -> BaseException | None:
    """The driver has one class for a database that is gone and another for one that is just starting: both are `DatabaseAway`."""
    original = context.original_exception
    said = original.args[0] if original.args else None
    code = str(said.get("C", "")) if isinstance(said, dict) else ""
    if context.is_disconnect or code.startswith(_AWAY) or not code:
        away = OperationalError(context.statement, None, original, hide_parameters=True)
        away.connection_invalidated = context.is_disconnect
        return away
    return None


def _set_up_sqlite(connection: DBAPIConnection, _: ConnectionPoolEntry) -> None:
    """Readers and one writer side by side; a writer waits for another; deleted rows leave no bytes in the file."""
    cursor = connection.cursor()
    cursor.execute(f"PRAGMA busy_timeout = {_BUSY_MS}")
    _keep_a_journal(cursor)
    for pragma in ("synchronous = NORMAL", "secure_delete = ON"):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _keep_a_journal(cursor: DBAPICursor) -> None:
    """The first of several who open an old database changes it; to the others it is locked meanwhile, whatever the timeout."""
    last = time.monotonic() + _BUSY_MS / 1000
    while True:
        try:
            cursor.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError:
            if time.monotonic() > last:
                raise
            time.sleep(0.05)
