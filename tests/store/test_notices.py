"""What one process tells another through PostgreSQL: with the transaction it is about, and again after the database was away."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, text

from service.store.database import open_database
from service.store.line import Line
from service.store.notices import STOP, WAITS, Listening, are_heard, tell
from tests.patience import until
from tests.store.rows import row


class Ear:
    def __init__(self) -> None:
        self.heard: list[tuple[str, str]] = []
        self.missed = 0

    def hear(self, word: str, check_id: str) -> None:
        self.heard.append((word, check_id))

    def miss(self) -> None:
        self.missed += 1


@pytest.fixture
def elsewhere(postgres_database: str, tmp_path: Path) -> Iterator[Engine]:
    engine = open_database(postgres_database, tmp_path)
    yield engine
    engine.dispose()


@pytest.fixture
def ear(postgres_database: str, tmp_path: Path) -> Iterator[Ear]:
    engine, ear = open_database(postgres_database, tmp_path), Ear()
    listening = Listening(engine, ear.hear, ear.miss)
    listening.start()
    until(lambda: ear.missed, "it listens")
    yield ear
    listening.close()
    engine.dispose()


def test_a_check_that_waits_is_heard_of_once_it_is_there(elsewhere: Engine, ear: Ear) -> None:
    Line(elsewhere).join(row("one"), "studio", 5, 5)
    until(lambda: ear.heard == [(WAITS, "")], "heard")
    with elsewhere.connect() as connection:
        tell(connection, STOP, "undone")
        connection.rollback()
        tell(connection, STOP, "one")
        connection.commit()
    until(lambda: len(ear.heard) > 1, "the next word")
    assert ear.heard[1:] == [(STOP, "one")]


def test_who_was_cut_off_listens_again_and_looks_for_himself(elsewhere: Engine, ear: Ear) -> None:
    others = "FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
    with elsewhere.begin() as connection:
        connection.execute(text(f"SELECT pg_terminate_backend(pid) {others}"))
    until(lambda: ear.missed > 1, "it listens again")
    with elsewhere.begin() as connection:
        tell(connection, STOP, "one")
    until(lambda: (STOP, "one") in ear.heard, "heard")


def test_sqlite_tells_nobody(tmp_path: Path) -> None:
    engine = open_database("", tmp_path)
    assert not are_heard(engine)
    with engine.begin() as connection:
        tell(connection, WAITS)
    engine.dispose()
