"""On what the tests' services keep their tables: SQLite; with `PRINT_SPEC_TESTS_ON=postgresql` a PostgreSQL server of this run,
and a part of the tests in `tests/api` on both each time (`goes_on_both`).

Whoever starts a service in a data folder, or opens its database, asks for the address here. On the server each folder has a
database of its own, with empty tables at first; the same folder gets the same again, as after a restart.
"""

from __future__ import annotations

import itertools
import os
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, NullPool, create_engine, text

from service.store.database import open_database
from service.store.models import Base
from tests.postgres import begin_for_run, new_database
from tests.sweeps import WHOLE

SWITCH = "PRINT_SPEC_TESTS_ON"
KINDS = ("sqlite", "postgresql")
KIND = os.environ.get(SWITCH, KINDS[0])
ON_POSTGRESQL = KIND == "postgresql"
of_sqlite = pytest.mark.skipif(ON_POSTGRESQL, reason=f"what SQLite alone does ({SWITCH})")

ONE_IN = 16
"""So many tests that start a service of their own run on PostgreSQL as well, where the switch is not set."""
_TABLES = "tables"
"""The database that others are copies of; nobody is connected to it."""
_number = itertools.count()
_server = ""
_urls: dict[Path, str] = {}
_lost: set[str] = set()
_idle: dict[str, list[str]] = {}
"""Databases with empty tables that nobody uses any longer, by their server: to make one takes longer than most tests."""


def begin_with_tables(folder: Path) -> None:
    """A server for this run, and on it the database that is copied."""
    begin_for_run(folder)
    open_database(new_database((folder / "address").read_text(), _TABLES), folder).dispose()


def stand_on(server: str) -> None:
    """From now on databases are made there."""
    global _server
    _server = server


def goes_on_both(test: pytest.Function) -> bool:
    """Drawn by its name: the same each time, and spread over all rooms."""
    drawn = WHOLE or zlib.crc32(test.nodeid.encode()) % ONE_IN == 0
    marks = [mark for mark in test.iter_markers() if mark.name == "parametrize" or mark == of_sqlite.mark]
    return drawn and not marks and not ON_POSTGRESQL


@contextmanager
def standing_on(server: str, folder: Path) -> Iterator[None]:
    """Databases of data folders below this one are made there meanwhile, and are gone afterwards."""
    before = _server
    stand_on(server)
    try:
        yield
    finally:
        drop_below(folder)
        stand_on(before)


def database_url(data: Path) -> str:
    """For a service with this data folder, as in `PRINT_SPEC_DATABASE_URL`; empty: SQLite in the folder."""
    if not _server:
        return ""
    if data not in _urls:
        _urls[data] = copied(_server)
    return _urls[data]


def copied(server: str) -> str:
    """A database there with empty tables: a new one, or one that was given back."""
    idle = _idle.setdefault(server, [])
    return idle.pop() if idle else new_database(server, f"copy-{os.getpid()}-{next(_number)}", like=_TABLES)


def give_back(url: str) -> None:
    """Whoever is still connected; a database whose tables are not as they were is not given to anybody."""
    engine = create_engine(url, poolclass=NullPool, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database()"
                                " AND pid <> pg_backend_pid()"))  # fmt: skip
        tables = set(connection.scalars(text("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")))
        known = {table.name for table in Base.metadata.sorted_tables}
        if tables == {*known, "alembic_version"}:
            connection.execute(text(f"TRUNCATE {', '.join(sorted(known))} RESTART IDENTITY CASCADE"))
            server = engine.url.set(database="postgres").render_as_string(hide_password=False)
            _idle.setdefault(server, []).append(url)


def drop(url: str) -> None:
    """Whoever is still connected."""
    engine = create_engine(url)
    name = engine.url.database
    server = create_engine(engine.url.set(database="postgres"), isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.execute(text(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)'))
    server.dispose()


def drop_below(folder: Path) -> None:
    """The databases of data folders there are others' from now on: one is 8 MB, and a run wants thousands."""
    for data in [one for one in _urls if one.is_relative_to(folder)]:
        if (url := _urls.pop(data)) not in _lost:
            give_back(url)


def engine_of(data: Path) -> Engine:
    """Of the database of that folder, past the service's own."""
    return create_engine(database_url(data) or f"sqlite:///{data / 'checks.sqlite3'}", poolclass=NullPool)


def run_sql(data: Path, statement: str, **values: Any) -> int:
    """What happens to it behind the service's back; how many rows it was."""
    with engine_of(data).begin() as connection:
        return connection.execute(text(statement), values).rowcount


def all_that_is_kept(data: Path) -> bytes:
    """Whatever of it could be read: of SQLite each byte, of PostgreSQL each row."""
    if not database_url(data):
        return b"".join(path.read_bytes() for path in data.glob("checks.sqlite3*"))
    with engine_of(data).connect() as connection:
        rows = (connection.execute(table.select()).all() for table in Base.metadata.sorted_tables)
        return "\n".join(map(repr, itertools.chain(*rows))).encode()


def lose(data: Path) -> None:
    """It is gone, and does not come back."""
    if data in _urls:
        drop(_urls[data])
        _lost.add(_urls[data])
        return
    for file in data.glob("checks.sqlite3*"):
        file.unlink()
    (data / "checks.sqlite3").mkdir()  # or it would be made anew
