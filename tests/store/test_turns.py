"""Writers of one process take turns in the order in which they came (SQLite), and no turn is lost."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import OperationalError

from service.store.database import open_database, waiting_briefly
from service.store.turns import Turns
from tests.patience import PATIENCE_SECONDS, ended, until

NOTE = "insert into accounts (name, created_at) values ('bakery-{number}', '2026-11-27 13:00:00')"


@pytest.fixture
def engine(tmp_path: Path) -> Iterator[Engine]:
    opened = open_database("", tmp_path)
    yield opened
    opened.dispose()


def test_whoever_came_first_is_next() -> None:
    turns, order = Turns(), []
    assert turns.take(0)

    def come(number: int) -> None:
        assert turns.take(PATIENCE_SECONDS)
        order.append(number)
        turns.give_back()

    threads = [threading.Thread(target=come, args=(number,)) for number in range(8)]
    for count, thread in enumerate(threads, 1):
        thread.start()
        until(lambda count=count: len(turns._waiting) == count, "in line")  # type: ignore[misc]
    turns.give_back()
    for thread in threads:
        ended(thread)
    assert order == list(range(8))
    assert turns.take(0)


def test_who_does_not_wait_any_longer_is_not_called() -> None:
    turns = Turns()
    assert turns.take(0)
    assert not turns.take(0.01)
    turns.give_back()
    assert turns.take(0)


def test_many_who_write_at_once_are_all_written_and_none_is_refused(engine: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.store.database._BUSY_MS", PATIENCE_SECONDS * 1000)
    refused = []

    def write(number: int) -> None:
        try:
            with engine.begin() as connection:
                connection.execute(text(NOTE.format(number=number)))
        except OperationalError as error:
            refused.append(error)

    threads = [threading.Thread(target=write, args=(number,)) for number in range(24)]
    for thread in threads:
        thread.start()
    for thread in threads:
        ended(thread)
    with engine.connect() as connection:
        assert (refused, connection.scalar(text("select count(*) from accounts"))) == ([], 24)


@pytest.mark.parametrize("how", ["commit", "rollback", "error", "invalidate", "detach"])
def test_a_turn_ends_with_its_transaction_however_that_ends(engine: Engine, monkeypatch: pytest.MonkeyPatch, how: str) -> None:
    """The next one does not even wait."""
    monkeypatch.setattr("service.store.database._BUSY_MS", 0)
    given = [asked_of(engine, monkeypatch, how, number) for number in range(2)]
    assert given == [True, True]


def asked_of(engine: Engine, monkeypatch: pytest.MonkeyPatch, how: str, number: int) -> bool:
    """Whether the turn came at once."""
    came: list[bool] = []
    take = Turns.take
    with monkeypatch.context() as patch:
        patch.setattr(Turns, "take", lambda turns, seconds: came.append(take(turns, seconds)) or came[-1])  # type: ignore[func-returns-value]
        with engine.connect() as connection:
            connection.execute(text(NOTE.format(number=number)))
            if how == "error":
                with pytest.raises(OperationalError):
                    connection.execute(text("insert into nowhere values (1)"))
            elif how != "rollback":
                connection.commit()
            if how == "invalidate":
                connection.invalidate()
            elif how == "detach":
                connection.detach()
    (at_once,) = came
    return at_once


def test_a_reader_takes_no_turn(engine: Engine) -> None:
    with engine.connect() as writer, engine.connect() as reader:
        writer.execute(text(NOTE.format(number=1)))
        assert reader.scalar(text("select count(*) from accounts")) == 0
        assert "turn" not in reader.info
        assert writer.info["turn"]


def test_a_writer_outside_the_process_is_waited_for_and_not_for_long_by_what_may_be_left(
    engine: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.store.database._BRIEFLY_MS", 20)
    other = sqlite3.connect(tmp_path / "checks.sqlite3", isolation_level=None, check_same_thread=False)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(OperationalError, match="locked"), engine.begin() as connection, waiting_briefly(connection):
        connection.execute(text(NOTE.format(number=1)))
    with engine.connect() as connection:
        waits = connection.scalar(text("PRAGMA busy_timeout"))
    assert waits == 10_000
    other.close()
    with engine.begin() as connection:
        connection.execute(text(NOTE.format(number=1)))
