"""What `PRINT_SPEC_TESTS_ON=postgresql` stands on: a database for each data folder, as long as the test lasts."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import create_engine

from tests import databases
from tests.databases import ON_POSTGRESQL, database_url, drop_below, run_sql

ADDED = "insert into accounts (name, created_at) values ('bakery', now())"


@pytest.fixture(autouse=not ON_POSTGRESQL)
def on_postgresql(postgres: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(databases, "_server", postgres)


def test_each_folder_has_a_database_of_its_own_with_empty_tables_and_has_it_again(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    assert [run_sql(one, ADDED), run_sql(other, ADDED)] == [1, 1]
    assert database_url(one) == database_url(one)
    assert run_sql(one, "delete from accounts") == 1
    drop_below(tmp_path)


def test_it_is_emptied_with_the_test_although_somebody_is_connected_and_is_the_next_ones(tmp_path: Path) -> None:
    url = database_url(tmp_path / "data")
    assert run_sql(tmp_path / "data", ADDED) == 1
    connected = create_engine(url).raw_connection()
    drop_below(tmp_path)
    with pytest.raises(Exception, match=r"terminat|network|closed"):
        connected.cursor().execute("select 1")
    connected.invalidate()
    assert database_url(tmp_path / "next") == url
    assert run_sql(tmp_path / "next", "delete from accounts where name = 'bakery'") == 0
    assert run_sql(tmp_path / "next", ADDED) == 1
    drop_below(tmp_path)


def test_one_whose_tables_were_changed_is_nobodys(tmp_path: Path) -> None:
    url = database_url(tmp_path / "data")
    run_sql(tmp_path / "data", "create table more (number integer)")
    drop_below(tmp_path)
    assert database_url(tmp_path / "data") != url
    drop_below(tmp_path)
