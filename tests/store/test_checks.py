"""Checks in the database: their states and who may change them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import text

from service.store.checks import _ANY_ALIKE, _LATEST_ALIKE, Checks, KeyTaken
from service.store.database import open_database
from tests.store.rows import NOON, row

LATER = NOON + timedelta(minutes=1)
DONE = {"measurements": "{}", "judgement": "{}", "verdict": "conforming"}


def running(checks: Checks, check_id: str = "one") -> None:
    checks.add(row(check_id, state="running", owner="here"))


def test_a_running_check_says_how_far_it_is_and_then_what_came_out(checks: Checks) -> None:
    running(checks)
    assert checks.is_open("one")
    assert checks.progress("one", "here", "pages", 3, 12)
    found = checks.get("one", LATER)
    assert found is not None
    assert (found.stage, found.page, found.pages) == ("pages", 3, 12)
    assert checks.finish("one", "here", LATER, **DONE)
    finished = checks.get("one", LATER)
    assert finished is not None
    assert (finished.state, finished.verdict, finished.finished_at, finished.stage) == ("finished", "conforming", LATER, None)
    assert not checks.is_open("one")


def test_a_forgotten_check_takes_no_progress_and_no_result(checks: Checks) -> None:
    running(checks)
    assert checks.forget("one")
    assert not checks.progress("one", "here", "pages", 1, 2)
    assert not checks.finish("one", "here", LATER, **DONE)
    assert not checks.forget("one")


def test_a_finished_check_is_not_failed_afterwards(checks: Checks) -> None:
    running(checks)
    checks.finish("one", "here", LATER, **DONE)
    assert not checks.fail("one", "here", LATER, "interrupted")


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
    checks.add(row("one", idempotency_key="order-7", state="running", owner="here"))
    checks.fail("one", "here", LATER, "interrupted")
    checks.add(row("two", idempotency_key="order-7"))


def test_sqlite_is_set_up_for_several_writers(tmp_path: Path) -> None:
    engine = open_database("", tmp_path)
    with engine.connect() as connection:
        assert connection.scalar(text("pragma journal_mode")) == "wal"
        assert connection.scalar(text("pragma busy_timeout")) == 10_000
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


# --- The same again -----------------------------------------------------------------------------------------------------


@pytest.fixture
def before(checks: Checks) -> Checks:
    running(checks)
    checks.finish("one", "here", LATER, **DONE, same="card by its sheet")
    return checks


def test_a_check_like_one_that_is_finished_has_its_result(before: Checks) -> None:
    assert before.add_as_before(row("two"), "card by its sheet", LATER)
    found, first = before.get("two", LATER), before.get("one", LATER)
    assert found is not None
    assert first is not None
    assert (found.state, found.verdict, found.finished_at) == ("finished", "conforming", LATER)
    assert (found.measured, found.judgement, found.stored_as) == (first.measured, first.judgement, first.stored_as)
    before.forget("one")
    assert before.add_as_before(row("three"), "card by its sheet", LATER)


def test_a_check_unlike_all_others_is_not_stored(before: Checks) -> None:
    other = row("two")
    for same in ("card by another sheet", ""):
        assert not before.add_as_before(other, same, LATER)
    assert (other.state, other.measured) == ("queued", None)
    assert before.get("two", LATER) is None


def test_nothing_is_taken_from_what_is_expired_or_forgotten(before: Checks) -> None:
    assert not before.add_as_before(row("two"), "card by its sheet", NOON + timedelta(hours=24))
    before.forget("one")
    assert not before.add_as_before(row("two"), "card by its sheet", LATER)


def test_a_key_is_taken_once_also_where_the_result_is_known(before: Checks) -> None:
    assert before.add_as_before(row("two", idempotency_key="mine"), "card by its sheet", LATER)
    with pytest.raises(KeyTaken):
        before.add_as_before(row("three", idempotency_key="mine"), "card by its sheet", LATER)


def test_a_nul_in_what_somebody_sends_finds_nothing_and_breaks_nothing(checks: Checks) -> None:
    checks.add(row("one", file_name="card.pdf"))
    assert checks.get("\0", LATER) is None
    assert checks.get("one\0", LATER) is None
    checks.add(row("two", file_name="a\0b.pdf"))
    kept = checks.get("two", LATER)
    assert kept is not None
    assert kept.file_name in ("a\0b.pdf", "a\ufffdb.pdf")


def test_a_check_that_came_out_alike_is_looked_for_among_those_alike(tmp_path: Path) -> None:
    """Not among all that are finished: each card sent would take longer the more checks are kept."""
    engine = open_database("", tmp_path)
    for question in (_ANY_ALIKE, _LATEST_ALIKE):
        asked = str(question.compile(engine))
        with engine.connect() as connection:
            [look, *_] = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {asked}", ("x",) * asked.count("?"))
        assert "ix_checks_same" in look.detail
    engine.dispose()
