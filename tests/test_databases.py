"""What `PRINT_SPEC_TESTS_ON=postgresql` stands on: a database for each data folder, which ends with the test."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import NullPool, create_engine, text

from tests import databases
from tests.databases import ON_POSTGRESQL, database_url, drop_below, run_sql


@pytest.fixture(autouse=not ON_POSTGRESQL)
def on_postgresql(postgres: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(databases, "_server", postgres)


def is_there(url: str) -> bool:
    """Asked of the server: it may have closed a connection to what is gone before the driver has read why."""
    address = create_engine(url).url
    with create_engine(address.set(database="postgres"), poolclass=NullPool).connect() as server:
        named = text("select count(*) from pg_database where datname = :name")
        return bool(server.execute(named, {"name": address.database}).scalar())


def test_each_folder_has_a_database_of_its_own_with_empty_tables_and_has_it_again(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    added = "insert into accounts (name, created_at) values ('bakery', now())"
    assert [run_sql(one, added), run_sql(other, added)] == [1, 1]
    assert database_url(one) == database_url(one)
    assert run_sql(one, "delete from accounts") == 1
    drop_below(tmp_path)


def test_it_is_gone_with_the_test_although_somebody_is_connected(tmp_path: Path) -> None:
    url = database_url(tmp_path / "data")
    assert is_there(url)
    connected = create_engine(url).raw_connection()
    drop_below(tmp_path)
    connected.invalidate()
    assert not is_there(url)
    assert database_url(tmp_path / "data") != url
    drop_below(tmp_path)
