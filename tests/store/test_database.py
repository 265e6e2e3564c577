"""Opening a database that an earlier version made: its tables get the columns that came later, and lose nothing."""

from __future__ import annotations

import gc
import socket
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import inspect

from service.store.checks import READ, STORED_AS, Checks, is_outdated
from service.store.database import DatabaseAway, open_database
from service.store.line import Line, LineFull
from tests.store.rows import NOON, row

BEFORE_ORIGINS = """
CREATE TABLE checks (
    id VARCHAR(40) NOT NULL, state VARCHAR(10) NOT NULL, created_at DATETIME NOT NULL, finished_at DATETIME,
    expires_at DATETIME NOT NULL, owner VARCHAR(40) NOT NULL, heartbeat_at DATETIME NOT NULL, stage TEXT, page BIGINT,
    pages BIGINT, file_name TEXT, size_bytes BIGINT NOT NULL, sha256 VARCHAR(64) NOT NULL, spec_id TEXT, spec_revision BIGINT,
    spec_title TEXT, spec_digest TEXT NOT NULL, sheet TEXT NOT NULL, order_facts TEXT,
    question TEXT NOT NULL, measurements TEXT, judgement TEXT,
    verdict VARCHAR(40), problem VARCHAR(40), idempotency_key VARCHAR(255), fingerprint VARCHAR(64) NOT NULL,
    PRIMARY KEY (id), UNIQUE (idempotency_key)
);
CREATE TABLE own_sheets (
    id VARCHAR(64) NOT NULL, owner VARCHAR(64), revision BIGINT NOT NULL, created_at DATETIME NOT NULL, deleted_at DATETIME,
    PRIMARY KEY (id)
);
CREATE TABLE own_sheet_revisions (
    sheet_id VARCHAR(64) NOT NULL, revision BIGINT NOT NULL, created_at DATETIME NOT NULL, sent TEXT NOT NULL,
    complete TEXT NOT NULL, digest VARCHAR(64) NOT NULL, PRIMARY KEY (sheet_id, revision)
);
INSERT INTO checks (id, state, created_at, expires_at, owner, heartbeat_at, size_bytes, sha256, spec_digest, sheet, question,
                    fingerprint)
VALUES ('old', 'queued', '2026-03-02 12:00:00',
        '2026-03-03 12:00:00', 'here', '2026-03-02 12:00:00', 10, 'a', 'd', '{}', '[]', 'f');
"""
"""As the version before upload tokens made it."""


def old_database(folder: Path) -> None:
    connection = sqlite3.connect(folder / "checks.sqlite3")
    connection.executescript(BEFORE_ORIGINS)
    connection.close()


def test_an_old_database_gets_the_column_and_keeps_its_checks(tmp_path: Path) -> None:
    old_database(tmp_path)
    checks = Checks(open_database("", tmp_path))
    found = checks.get("old", NOON)
    assert found is not None
    assert (found.spec_digest, found.origin) == ("d", None)
    checks.add(row("new", origin="https://shop.example"))
    new = checks.get("new", NOON)
    assert new is not None
    assert new.origin == "https://shop.example"
    checks.close()


def test_several_processes_may_open_an_old_database_at_once(tmp_path: Path) -> None:
    """Threads with an engine each: to the database the same as processes."""
    for attempt in range(5):
        folder = tmp_path / str(attempt)
        folder.mkdir()
        old_database(folder)
        with ThreadPoolExecutor(6) as pool:
            engines = list(pool.map(lambda _, here=folder: open_database("", here), range(6)))
        names = [column["name"] for column in inspect(engines[0]).get_columns("checks")]
        assert names.count("origin") == 1
        for engine in engines:
            engine.dispose()


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")  # the driver forgets to close its socket then
def test_a_server_that_takes_calls_and_says_nothing_is_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As one that is paused or starved; what the driver raises then is the network's own error."""
    monkeypatch.setattr("service.store.database._ANSWER_WITHIN_SECONDS", 0.1)
    monkeypatch.setattr("service.store.database._BEGUN_WITHIN_SECONDS", 0.2)
    monkeypatch.setattr("service.store.database._AGAIN_AFTER_SECONDS", 0.01)
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
        with pytest.raises(DatabaseAway):
            open_database(f"postgresql+pg8000://tests@127.0.0.1:{port}/postgres", tmp_path)
    with pytest.raises(DatabaseAway):
        open_database(f"postgresql+pg8000://tests@127.0.0.1:{port}/postgres", tmp_path)
    gc.collect()  # so that it is told here, and not in a later test


def test_a_database_of_today_is_left_as_it_is(tmp_path: Path) -> None:
    open_database("", tmp_path).dispose()
    file = sqlite3.connect(tmp_path / "checks.sqlite3")
    before = file.execute("select sql from sqlite_master order by name").fetchall()
    open_database("", tmp_path).dispose()
    assert file.execute("select sql from sqlite_master order by name").fetchall() == before
    file.close()


@pytest.mark.parametrize("stored_as", [None, min(READ) - 1, STORED_AS + 1])
def test_a_check_that_another_version_finished_is_opened_again_once(tmp_path: Path, stored_as: int | None) -> None:
    engine = open_database("", tmp_path)
    checks, line = Checks(engine), Line(engine)
    checks.add(row("old", state="finished", verdict="conforming", measured="d", judgement="{}", stored_as=stored_as))
    old = checks.get("old", NOON)
    assert old is not None
    assert is_outdated(old)
    again = line.join_again("old", "?", 1)
    assert again is not None
    assert (again.state, again.question, again.measured, again.verdict) == ("queued", "?", None, None)
    with pytest.raises(LineFull):
        line.join_again("old", "?", 1)
    assert line.join_again("old", "?", 2) is None
    checks.close()


@pytest.mark.parametrize("stored_as", READ)
def test_a_check_of_a_form_that_is_read_is_not_opened_again(stored_as: int) -> None:
    assert not is_outdated(row(state="finished", measured="d", stored_as=stored_as))


def test_what_this_version_finished_is_not_opened_again(tmp_path: Path) -> None:
    engine = open_database("", tmp_path)
    checks, line = Checks(engine), Line(engine)
    checks.add(row("now", state="running"))
    assert checks.finish("now", "here", NOON, measurements="{}", judgement="{}", verdict="conforming")
    found = checks.get("now", NOON)
    assert found is not None
    assert not is_outdated(found)
    assert line.join_again("now", "?", 1) is None
    checks.close()


def test_measurements_that_wait_to_be_judged_again_are_outdated_too() -> None:
    assert is_outdated(row(measured="d", stored_as=None))
    assert not is_outdated(row(measured=None, stored_as=None))
