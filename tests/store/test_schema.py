"""The tables come to the newest form from nothing, step by step and from before steps were counted, on each engine alike."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import count
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, create_engine, inspect, text

from service.store.database import open_database
from service.store.models import Base
from service.store.schema import FOLDER, NEWEST, SchemaUnknown, _climb, bring_up_to_date
from tests.postgres import new_database
from tests.store.test_database import old_database

_number = count()


@pytest.fixture(params=["sqlite", "postgresql"])
def empty(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    """A database without tables."""
    if request.param == "sqlite":
        url = f"sqlite:///{tmp_path / 'checks.sqlite3'}"
    else:
        url = new_database(request.getfixturevalue("postgres"), f"empty-{os.getpid()}-{next(_number)}")
    engine = create_engine(url)
    yield engine
    engine.dispose()


def differences(engine: Engine) -> list[object]:
    """Between the tables that are there and those that this version works with."""
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        return [one for one in compare_metadata(context, Base.metadata) if "alembic_version" not in str(one)]


def step(engine: Engine) -> str | None:
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def test_all_steps_from_nothing_make_the_tables_of_today(empty: Engine) -> None:
    with empty.begin() as connection:
        _climb(connection)
    assert (differences(empty), step(empty)) == ([], NEWEST)


def test_tables_that_are_made_at_once_are_the_same(empty: Engine) -> None:
    bring_up_to_date(empty)
    assert (differences(empty), step(empty)) == ([], NEWEST)


def test_a_database_from_before_steps_were_counted_comes_to_the_same(tmp_path: Path) -> None:
    old_database(tmp_path)
    engine = open_database("", tmp_path)
    left = {getattr(one[1] if isinstance(one, tuple) else None, "name", None) for one in differences(engine)}
    with engine.connect() as connection:
        kept = connection.scalar(text("SELECT id FROM checks"))
    engine.dispose()
    assert kept == "old"
    assert "checks" not in left, "no table is missing"
    names = {column["name"] for column in inspect(engine).get_columns("checks")}
    engine.dispose()
    assert names >= {column.name for column in Base.metadata.tables["checks"].columns}


def test_several_processes_may_begin_at_once(empty: Engine) -> None:
    engines = [create_engine(empty.url) for _ in range(4)]
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(bring_up_to_date, engines))
    assert step(empty) == NEWEST
    for engine in engines:
        engine.dispose()


def test_a_later_version_s_tables_are_left_alone(empty: Engine) -> None:
    bring_up_to_date(empty)
    with empty.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(SchemaUnknown, match="later version"):
        bring_up_to_date(empty)
    assert step(empty) == "9999"


def test_steps_stand_in_one_row_and_are_named_by_their_numbers() -> None:
    steps = list(ScriptDirectory(str(FOLDER), version_locations=[str(FOLDER)]).walk_revisions())
    names = [Path(one.path).stem for one in steps]
    assert all(re.fullmatch(rf"r{one.revision}_[a-z_]+", name) for one, name in zip(steps, names, strict=True)), names
    assert steps[0].revision == NEWEST
    assert [one.down_revision for one in steps] == [*(one.revision for one in steps[1:]), None]
