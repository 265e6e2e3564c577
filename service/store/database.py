"""The database connection: SQLite in the data folder by default, any SQLAlchemy URL by setting."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import ConnectionPoolEntry

from service.store.models import Base

DatabaseError = SQLAlchemyError
"""What every failure of the database is, for rooms that do not know SQLAlchemy."""


def open_database(url: str, data: Path) -> Engine:
    """Connect and make the tables that are missing. An empty `url` is SQLite under `data`."""
    engine = create_engine(url or f"sqlite:///{data / 'checks.sqlite3'}", pool_pre_ping=True)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _set_up_sqlite)
    Base.metadata.create_all(engine)
    return engine


def _set_up_sqlite(connection: DBAPIConnection, _: ConnectionPoolEntry) -> None:
    """Readers and one writer side by side; a writer waits for another; deleted rows leave no bytes in the file."""
    cursor = connection.cursor()
    for pragma in ("journal_mode = WAL", "busy_timeout = 10000", "synchronous = NORMAL", "secure_delete = ON"):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()
