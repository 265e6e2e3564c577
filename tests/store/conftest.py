"""The tests of this room run on SQLite and on PostgreSQL, where they open their database by these fixtures."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from service.store.checks import Checks
from service.store.database import open_database
from service.store.files.blobs import Blobs
from tests.databases import copied, give_back


@pytest.fixture
def postgres_database(postgres: str) -> Iterator[str]:
    """The address of one with empty tables."""
    url = copied(postgres)
    yield url
    give_back(url)


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    """An open database with empty tables."""
    url = request.getfixturevalue("postgres_database") if request.param == "postgresql" else ""
    engine = open_database(url, tmp_path)
    yield engine
    engine.dispose()


@pytest.fixture
def checks(database: Engine) -> Checks:
    return Checks(database)


@pytest.fixture
def blobs(tmp_path: Path) -> Blobs:
    return Blobs(tmp_path / "files")
