"""The tables brought to the form that this version works with, step by step (Alembic), by whoever starts first."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

import service.store.accounts.rows
import service.store.catalogues.rows  # noqa: F401  their tables are among those of Base
from service.store.models import Base

FOLDER = Path(__file__).parent / "revisions"
NEWEST = max(path.stem for path in FOLDER.glob("r[0-9]*.py"))[1:5]
"""The number of the last step, which begins the name of its module."""

_LOCK = 0x7072696E74
"""In PostgreSQL, where locks are numbers. Any would do."""


class SchemaUnknown(Exception):
    """A later version has changed the tables, and this one does not know how."""


def bring_up_to_date(engine: Engine) -> None:
    """Raises `SchemaUnknown`; whatever is raised, the tables are as before."""
    if _revision(engine) == NEWEST:
        return
    with engine.begin() as connection:
        _lock(connection)
        revision = _recorded(connection)
        if revision is None and not inspect(connection).has_table("checks"):
            _begin(connection)
        elif revision is None or revision < NEWEST:
            _climb(connection)
        elif revision > NEWEST:
            raise SchemaUnknown(f"The database is of a later version: its tables are at step {revision}, known are {NEWEST}.")


def _revision(engine: Engine) -> str | None:
    with engine.connect() as connection:
        return _recorded(connection)


def _recorded(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    return str(connection.scalar(text("SELECT version_num FROM alembic_version")))


def _lock(connection: Connection) -> None:
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql("BEGIN IMMEDIATE")  # Python's driver begins nothing for a change of tables
    else:
        connection.execute(text("SELECT pg_advisory_xact_lock(:number)"), {"number": _LOCK})


def _begin(connection: Connection) -> None:
    """All tables at once, as the steps would make them (a test holds both alike): loading Alembic takes longer than that."""
    Base.metadata.create_all(connection)
    connection.execute(text("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL PRIMARY KEY)"))
    connection.execute(text("INSERT INTO alembic_version VALUES (:newest)"), {"newest": NEWEST})


def _climb(connection: Connection) -> None:
    from alembic.operations import Operations
    from alembic.runtime.migration import MigrationContext
    from alembic.script import ScriptDirectory

    steps = ScriptDirectory(str(FOLDER), version_locations=[str(FOLDER)])
    context = MigrationContext.configure(connection, opts={"fn": lambda now, _: steps._upgrade_revs("head", now)})
    with Operations.context(context):
        context.run_migrations()
