"""What a worker does with a check: from its row to its result."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

import service.jobs.housekeeping
from service.jobs.again.recent import RecentlyJudged
from service.jobs.bell import Bell
from service.jobs.checking import Checking, _Teller, now, sheet_of
from service.jobs.children import sandbox
from service.jobs.children.measuring.check import Unfinished
from service.jobs.children.sandbox import Interrupted
from service.jobs.children.tasks import Limits
from service.jobs.housekeeping import Housekeeping
from service.jobs.judgement_codec import judgement_from_json, judgements_from_json, judgements_to_json
from service.jobs.workers import Workers
from service.pdf.facts.document import Document
from service.pdf.facts.parts import DocumentPart
from service.store.checks import Checks
from service.store.database import DatabaseAway, open_database
from service.store.files.blobs import Blobs
from service.store.files.uploads import Uploads
from service.store.line import Line, Pace
from service.store.measured import Measured
from service.store.models import CheckRow
from service.tracing import Span
from tests.build import page
from tests.databases import database_url
from tests.facts import fact
from tests.jobs.children import processes
from tests.patience import ended, until
from tests.store.rows import row

SHEET = json.dumps({"trim": {"width": "85 mm", "height": "55 mm"}})


@pytest.fixture
def checks(tmp_path: Path) -> Iterator[Checks]:
    opened = Checks(open_database(database_url(tmp_path), tmp_path))
    yield opened
    opened.close()


@pytest.fixture
def blobs(tmp_path: Path) -> Blobs:
    return Blobs(tmp_path / "files")


@pytest.fixture
def running(checks: Checks, blobs: Blobs) -> str:
    page(85, 55, bleed=3).fill(cyan=1).save(blobs.path("one"))
    checks.add(row("one", state="running", owner="here", sheet=SHEET, expires_at=now() + timedelta(hours=1)))
    return "one"


def checked(
    checks: Checks, blobs: Blobs, check_id: str, measure: str | None = None, stopped: Callable[[], bool] = lambda: False
) -> bool:
    run = Checking("here", checks, Measured(checks._engine), blobs, Limits(60, 2**31), measure)
    return run(settled(checks, check_id), stopped)


def settled(checks: Checks, check_id: str) -> CheckRow:
    found = checks.get(check_id, now())
    assert found is not None
    return found


def test_a_check_is_run_to_its_verdict(checks: Checks, blobs: Blobs, running: str) -> None:
    checked(checks, blobs, running)
    done = settled(checks, running)
    assert done.state == "finished"
    judgement = judgement_from_json(done.judgement or "")
    assert done.verdict == judgement.verdict
    assert judgements_from_json(done.judgement or "").keys() == {"en", "de", "fr", "es"}
    assert next(one.outcome for one in judgement.rules if one.rule == "trim.size") == "met"


def test_the_result_is_stored_and_told_as_the_child_wrote_it(checks: Checks, blobs: Blobs, running: str) -> None:
    """So it is not put together a second time; that it is read from end to end before is `judgements_from_json`."""
    told: list[str] = []
    judged, others = RecentlyJudged(), processes.children_of(sandbox.SERVER)  # what an earlier test has left is being ended
    run = Checking("here", checks, Measured(checks._engine), blobs, Limits(60, 2**31), judged=judged, done=told.append)
    assert run(settled(checks, running), lambda: False)
    text = settled(checks, running).judgement or ""
    assert told == [running]
    assert judgements_to_json(judgements_from_json(text)) == text
    assert judged.get(running, text) == judgements_from_json(text)
    assert processes.children_of(sandbox.SERVER) <= others


def test_a_hostile_file_finishes_and_does_not_fail(checks: Checks, blobs: Blobs, running: str) -> None:
    checked(checks, blobs, running, "tests.jobs.faults:aborts")
    assert (settled(checks, running).state, settled(checks, running).verdict) == ("finished", "inconclusive")


def test_a_fault_of_our_own_fails_the_check(checks: Checks, blobs: Blobs, running: str) -> None:
    checked(checks, blobs, running, "tests.jobs.faults:no_such_function")
    assert (settled(checks, running).state, settled(checks, running).problem) == ("failed", "internal-error")


def test_a_check_that_is_stopped_is_not_settled(checks: Checks, blobs: Blobs, running: str) -> None:
    assert not checked(checks, blobs, running, "tests.jobs.faults:hangs", lambda: True)
    assert settled(checks, running).state == "running", "whoever stopped it says what becomes of it"


def test_a_check_that_is_stopped_for_others_goes_on_with_what_it_has(
    checks: Checks, blobs: Blobs, running: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[Unfinished | None] = []
    half = Unfinished(fact(DocumentPart, fact(Document), 2, complete=True), {})

    def stopped(*arguments: object, **_: object) -> None:
        given.append(cast(Unfinished | None, arguments[-1]))
        raise Interrupted(half)

    monkeypatch.setattr("service.jobs.checking.run", stopped)
    run = Checking("here", checks, Measured(checks._engine), blobs, Limits(60, 2**31))
    assert not run(settled(checks, running), lambda: False)
    assert not run(settled(checks, running), lambda: False)
    assert given == [None, half]


def test_a_check_that_was_forgotten_while_it_ran_ends(checks: Checks, blobs: Blobs, running: str) -> None:
    one = settled(checks, running)
    checks.forget(running)
    run = Checking("here", checks, Measured(checks._engine), blobs, Limits(60, 2**31), "tests.jobs.faults:waits_for_a_file")
    assert not run(one, lambda: False)
    assert checks.get(running, now()) is None


def test_progress_stands_in_the_row_while_the_check_runs(checks: Checks, blobs: Blobs, running: str) -> None:
    work = threading.Thread(target=checked, args=(checks, blobs, running, "tests.jobs.faults:waits_for_a_file"))
    work.start()
    try:
        until(lambda: settled(checks, running).stage, "how far it is")
        row = settled(checks, running)
    finally:
        (blobs.path(running).parent / "go").touch()
        ended(work)
    assert (row.state, row.stage, row.page, row.pages) == ("running", "pages", 1, 2)
    assert settled(checks, running).state == "finished"


def test_what_is_done_at_once_writes_no_progress_and_what_takes_long_tells_how_far_it_has_come(
    checks: Checks, running: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    time = [100.0]
    monkeypatch.setattr("service.jobs.checking.time", SimpleNamespace(monotonic=lambda: time[0]))
    teller = _Teller(checks, running, "here", Span())

    def told() -> int | None:
        return settled(checks, running).page

    teller("pages", 1, 9)
    teller("pages", 2, 9)
    assert (teller.is_unwanted(), told()) == (False, None)
    time[0] += 0.3  # the third page takes long
    assert (teller.is_unwanted(), told()) == (False, 2)
    teller("pages", 3, 9)
    assert told() == 2
    time[0] += 0.3
    teller("pages", 4, 9)
    assert told() == 4
    checks.forget(running)
    teller("pages", 5, 9)
    time[0] += 0.3
    assert teller.is_unwanted()


def test_the_orders_facts_are_in_the_sheet_that_is_judged() -> None:
    sheet = json.dumps({"spine": {"page_width": "148 mm"}})
    spine = sheet_of(row(sheet=sheet, order='{"inner_pages": 96, "caliper_mm": 0.11}')).spine
    assert spine is not None
    assert (spine.inner_pages, spine.caliper_mm) == (96, 0.11)


class Beating:
    """Workers that run one check, as far as housekeeping sees of them."""

    def __init__(self, checks: Checks) -> None:
        self._line = Line(checks._engine)

    def beat(self) -> None:
        self._line.beat("here", ["kept"], Pace(1, 0.5, 10.0), housekeeping_time())


def housekeeping_time() -> datetime:
    return service.jobs.housekeeping.now()


def housekeeping(checks: Checks, blobs: Blobs) -> Housekeeping:
    uploads = Uploads(blobs.path("x").parent / "uploads", blobs, timedelta(hours=1))
    return Housekeeping(checks, Line(checks._engine), blobs, uploads, Bell(), cast(Workers, Beating(checks)))


def lost(check_id: str) -> CheckRow:
    old = now() - timedelta(minutes=5)
    return row(check_id, state="running", owner="dead", heartbeat_at=old, expires_at=now() + timedelta(hours=1))


def test_what_an_earlier_process_left_is_taken_up(checks: Checks, blobs: Blobs) -> None:
    checks.add(lost("lost"))
    here = housekeeping(checks, blobs)
    here.start()
    here.close()
    assert (settled(checks, "lost").state, settled(checks, "lost").owner) == ("queued", "")


def test_after_a_jump_of_the_clock_nothing_is_swept_or_taken_up(
    checks: Checks, blobs: Blobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.housekeeping.BEAT_SECONDS", 0.02)
    monkeypatch.setattr("service.jobs.housekeeping.SWEEP_EVERY_BEATS", 1)
    checks.add(row("kept", state="running", owner="here", heartbeat_at=now(), expires_at=now() + timedelta(hours=1)))
    here = housekeeping(checks, blobs)
    here.start()
    ahead = timedelta(hours=2)
    monkeypatch.setattr("service.jobs.housekeeping.now", lambda: now() + ahead)
    until(lambda: settled(checks, "kept").heartbeat_at > now() + ahead / 2, "a beat by the new clock")
    checks.add(lost("lost"))
    beat = settled(checks, "kept").heartbeat_at
    until(lambda: settled(checks, "kept").heartbeat_at > beat + timedelta(seconds=0.2), "some more beats")
    here.close()
    assert settled(checks, "lost").state == "running"
    assert checks.existing(["kept", "lost"]) == {"kept", "lost"}, "by the new clock they expired an hour ago"


def test_a_process_that_beats_keeps_its_checks_and_sweeps_what_expires(
    checks: Checks, blobs: Blobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.housekeeping.BEAT_SECONDS", 0.02)
    checks.add(row("kept", state="running", owner="here", heartbeat_at=now(), expires_at=now() + timedelta(hours=1)))
    checks.add(row("brief", state="finished", expires_at=now() + timedelta(seconds=0.1)))
    here = housekeeping(checks, blobs)
    began = now()
    here.start()
    until(lambda: not checks.existing(["brief"]), "swept")
    here.close()
    assert checks.existing(["brief", "kept"]) == {"kept"}
    assert settled(checks, "kept").heartbeat_at > began


def test_a_check_that_nobody_wants_any_longer_is_not_begun(
    checks: Checks, blobs: Blobs, running: str, caplog: pytest.LogCaptureFixture
) -> None:
    blobs.forget(running)
    assert not checked(checks, blobs, running, stopped=lambda: True)
    assert settled(checks, running).state == "running"
    assert not caplog.records, "it is no fault that has to be told"


class Flaky(Checks):
    """Its database is away for the first attempts to settle a check."""

    away = 2

    def finish(self, *given: Any, **found: Any) -> bool:
        if self.away:
            self.away -= 1
            raise DatabaseAway("finish", None, OSError("away"))
        return super().finish(*given, **found)


def test_a_result_waits_for_a_database_that_is_away(
    checks: Checks, blobs: Blobs, running: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.checking._AWAY_SECONDS", 0.01)
    flaky = Flaky(checks._engine)
    assert checked(flaky, blobs, running)
    assert (settled(checks, running).state, flaky.away) == ("finished", 0)
