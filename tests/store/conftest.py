"""The tests of this room run on SQLite and on PostgreSQL, where they open their database by these fixtures."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, text

from service.store.checks import Checks
from service.store.database import open_database
from service.store.files.blobs import Blobs
from service.store.models import Base
from tests.postgres import new_database


@pytest.fixture(scope="session")
def postgres_database(postgres: str) -> str:
    """One for all tests of this process."""
    return new_database(postgres, f"store-{os.getpid()}")


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    """An open database with empty tables."""
    url = request.getfixturevalue("postgres_database") if request.param == "postgresql" else ""
    engine = open_database(url, tmp_path)
    if url:
        with engine.begin() as connection:
            connection.execute(text("TRUNCATE " + ", ".join(table.name for table in Base.metadata.sorted_tables)))
    yield engine
    engine.dispose()


@pytest.fixture
def checks(database: Engine) -> Checks:
    return Checks(database)


@pytest.fixture
def blobs(tmp_path: Path) -> Blobs:
    return Blobs(tmp_path / "files")
