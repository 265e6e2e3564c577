"""Checks in the database: their states and who may change them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import text

from service.store.checks import Checks, KeyTaken
from service.store.database import open_database
from tests.store.rows import NOON, row

LATER = NOON + timedelta(minutes=1)
DONE = {"measurements": "{}", "judgement": "{}", "verdict": "conforming"}


def test_a_check_goes_from_queued_through_running_to_finished(checks: Checks) -> None:
    checks.add(row())
    started = checks.start("one", LATER)
    assert started is not None
    assert started.state == "running"
    assert checks.progress("one", "pages", 3, 12)
    running = checks.get("one", LATER)
    assert running is not None
    assert (running.stage, running.page, running.pages) == ("pages", 3, 12)
    assert checks.finish("one", LATER, **DONE)
    finished = checks.get("one", LATER)
    assert finished is not None
    assert (finished.state, finished.verdict, finished.finished_at, finished.stage) == ("finished", "conforming", LATER, None)


def test_only_a_queued_check_is_started_and_only_once(checks: Checks) -> None:
    checks.add(row())
    assert checks.start("one", LATER)
    assert checks.start("one", LATER) is None


def test_a_forgotten_check_takes_no_progress_and_no_result(checks: Checks) -> None:
    checks.add(row())
    checks.start("one", LATER)
    assert checks.forget("one")
    assert not checks.progress("one", "pages", 1, 2)
    assert not checks.finish("one", LATER, **DONE)
    assert not checks.forget("one")


def test_a_finished_check_is_not_failed_afterwards(checks: Checks) -> None:
    checks.add(row())
    checks.start("one", LATER)
    checks.finish("one", LATER, **DONE)
    assert not checks.fail("one", LATER, "interrupted")


def test_an_expired_check_is_gone_before_it_is_swept(checks: Checks) -> None:
    checks.add(row())
    assert checks.get("one", NOON + timedelta(hours=24)) is None
    assert checks.expired(NOON + timedelta(hours=24)) == ["one"]
    assert checks.expired(NOON) == []


def test_times_come_back_in_utc_whatever_zone_they_were_in(checks: Checks) -> None:
    checks.add(row(created_at=datetime(2026, 3, 2, 14, 0, tzinfo=timezone(timedelta(hours=2)))))
    again = checks.get("one", NOON)
    assert again is not None
    assert (again.created_at, again.created_at.tzinfo) == (NOON, UTC)


def test_an_idempotency_key_belongs_to_one_check(checks: Checks) -> None:
    checks.add(row("one", idempotency_key="order-7"))
    with pytest.raises(KeyTaken):
        checks.add(row("two", idempotency_key="order-7"))
    first = checks.by_key("order-7", NOON)
    assert first is not None
    assert first.id == "one"


def test_many_checks_have_no_key(checks: Checks) -> None:
    checks.add(row("one"))
    checks.add(row("two"))
    assert checks.existing(["one", "two", "three"]) == {"one", "two"}


def test_a_failed_check_gives_its_key_back(checks: Checks) -> None:
    checks.add(row("one", idempotency_key="order-7"))
    checks.fail("one", LATER, "interrupted")
    checks.add(row("two", idempotency_key="order-7"))


def state(checks: Checks, check_id: str) -> tuple[str, str, str | None]:
    found = checks.get(check_id, LATER)
    assert found is not None
    return found.state, found.owner, found.problem


SILENT = timedelta(seconds=20)


def test_only_checks_of_a_silent_process_are_taken_up(checks: Checks) -> None:
    checks.add(row("lost", state="running", owner="dead", stage="pages", page=3, pages=9))
    checks.add(row("waiting", state="queued", owner="dead"))
    checks.add(row("kept", state="running", owner="there"))
    checks.add(row("own", state="running", owner="here"))
    checks.add(row("done", state="finished", owner="dead"))
    checks.beat("there", LATER)
    assert sorted(checks.take_up("here", LATER, SILENT, "interrupted")) == ["lost", "waiting"]
    assert state(checks, "lost") == ("queued", "here", None)
    assert [state(checks, one)[0] for one in ("waiting", "kept", "own", "done")] == ["queued", "running", "running", "finished"]
    assert checks.take_up("here", LATER, SILENT, "interrupted") == []


def test_a_check_is_begun_three_times_and_then_failed_with_the_reason(checks: Checks) -> None:
    checks.add(row("deadly", owner="0", idempotency_key="order-7"))
    checks.add(row("unlucky", owner="0"))
    for number in range(1, 4):
        checks.start("deadly", NOON)
        taken = checks.take_up(str(number), LATER, SILENT, "interrupted")
        checks.release("deadly")
        checks.release("unlucky")
        assert sorted(taken) == (["deadly", "unlucky"] if number < 3 else ["unlucky"])
    assert state(checks, "deadly")[::2] == ("failed", "interrupted")
    assert state(checks, "unlucky")[0] == "queued", "what only waited ended nobody"


def test_what_is_let_go_is_taken_up_at_once(checks: Checks) -> None:
    checks.add(row("let go", state="running", owner="here", heartbeat_at=NOON))
    checks.release("let go")
    assert checks.take_up("next", NOON, SILENT, "interrupted") == ["let go"]


def test_a_clock_that_was_set_back_hides_nobody(checks: Checks) -> None:
    checks.add(row("lost", state="running", owner="dead", heartbeat_at=LATER))
    assert checks.take_up("here", LATER - timedelta(hours=1), SILENT, "interrupted") == ["lost"]


def test_sqlite_is_set_up_for_several_writers(tmp_path: Path) -> None:
    engine = open_database("", tmp_path)
    with engine.connect() as connection:
        assert connection.scalar(text("pragma journal_mode")) == "wal"
        assert connection.scalar(text("pragma busy_timeout")) == 3000
        assert connection.scalar(text("pragma secure_delete")) == 1
    engine.dispose()


def test_the_tables_are_kept_from_start_to_start(tmp_path: Path) -> None:
    first = Checks(open_database("", tmp_path))
    first.add(row())
    first.close()
    second = Checks(open_database("", tmp_path))
    assert second.get("one", NOON) is not None
    second.close()


def test_nothing_of_a_forgotten_check_stays_in_the_files_of_the_database(tmp_path: Path) -> None:
    database = open_database("", tmp_path)
    checks = Checks(database)
    for number in range(20):
        checks.add(row(f"c{number}", file_name=f"lane-{number}.pdf", judgement="Halyard Lane" * 1000))
    for number in range(20):
        assert checks.forget(f"c{number}")
    left = b"".join(path.read_bytes() for path in tmp_path.iterdir())
    checks.close()
    assert b"Halyard Lane" not in left
    assert b"lane-" not in left


def test_forgetting_waits_for_no_reader_and_the_sweep_wipes_later(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.store.database._BUSY_MS", 3_600_000)  # what writers wait for each other at most
    database = open_database("", tmp_path)
    checks = Checks(database)
    checks.add(row("c1", judgement="Halyard Lane" * 1000))
    with database.connect() as reader:
        reader.execute(text("select * from checks")).all()
        assert checks.forget("c1")
    checks.wipe()
    left = b"".join(path.read_bytes() for path in tmp_path.iterdir())
    checks.close()
    assert b"Halyard Lane" not in left


def test_the_database_is_for_its_own_user_only(tmp_path: Path) -> None:
    database = open_database("", tmp_path)
    Checks(database).add(row("c1"))
    rights = {path.name: path.stat().st_mode & 0o077 for path in tmp_path.iterdir()}
    database.dispose()
    assert set(rights.values()) == {0}, rights
