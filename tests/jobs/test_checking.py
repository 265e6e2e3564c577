"""What a worker does with a check: from its row to its result."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import cast

import pytest

from service.jobs.checking import Checking, now, sheet_of
from service.jobs.children.measuring.check import Unfinished
from service.jobs.children.sandbox import Interrupted
from service.jobs.children.tasks import Limits
from service.jobs.housekeeping import Housekeeping
from service.jobs.judgement_codec import judgement_from_json, judgements_from_json
from service.jobs.queue import Queue
from service.pdf.facts.document import Document
from service.pdf.facts.parts import DocumentPart
from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.database import open_database
from service.store.measured import Measured
from service.store.models import CheckRow
from tests.build import page
from tests.facts import fact
from tests.patience import ended, until
from tests.store.rows import row

SHEET = json.dumps({"trim": {"width": "85 mm", "height": "55 mm"}})


@pytest.fixture
def checks(tmp_path: Path) -> Iterator[Checks]:
    opened = Checks(open_database("", tmp_path))
    yield opened
    opened.close()


@pytest.fixture
def blobs(tmp_path: Path) -> Blobs:
    return Blobs(tmp_path / "files")


@pytest.fixture
def queued(checks: Checks, blobs: Blobs) -> str:
    page(85, 55, bleed=3).fill(cyan=1).save(blobs.path("one"))
    checks.add(row("one", sheet=SHEET, expires_at=now() + timedelta(hours=1)))
    return "one"


def checking(checks: Checks, blobs: Blobs, measure: str | None = None) -> Checking:
    return Checking(checks, Measured(checks._engine), blobs, Limits(60, 2**31), measure)


def settled(checks: Checks, check_id: str) -> CheckRow:
    found = checks.get(check_id, now())
    assert found is not None
    return found


def test_a_check_is_run_to_its_verdict(checks: Checks, blobs: Blobs, queued: str) -> None:
    checking(checks, blobs)(queued, lambda: False)
    done = settled(checks, queued)
    assert done.state == "finished"
    judgement = judgement_from_json(done.judgement or "")
    assert done.verdict == judgement.verdict
    assert judgements_from_json(done.judgement or "").keys() == {"en", "de", "fr", "es"}
    assert next(one.outcome for one in judgement.rules if one.rule == "trim.size") == "met"


def test_a_hostile_file_finishes_and_does_not_fail(checks: Checks, blobs: Blobs, queued: str) -> None:
    checking(checks, blobs, "tests.jobs.faults:aborts")(queued, lambda: False)
    assert (settled(checks, queued).state, settled(checks, queued).verdict) == ("finished", "inconclusive")


def test_a_fault_of_our_own_fails_the_check(checks: Checks, blobs: Blobs, queued: str) -> None:
    checking(checks, blobs, "tests.jobs.faults:no_such_function")(queued, lambda: False)
    assert (settled(checks, queued).state, settled(checks, queued).problem) == ("failed", "internal-error")


def test_a_check_that_is_stopped_waits_again(checks: Checks, blobs: Blobs, queued: str) -> None:
    checking(checks, blobs, "tests.jobs.faults:hangs")(queued, lambda: True)
    assert (settled(checks, queued).state, settled(checks, queued).stage) == ("queued", None)


def test_a_check_that_is_stopped_for_others_keeps_what_it_has(
    checks: Checks, blobs: Blobs, queued: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[Unfinished | None] = []
    half = Unfinished(fact(DocumentPart, fact(Document), 2, complete=True), {})

    def stopped(*arguments: object) -> None:
        given.append(cast(Unfinished | None, arguments[-1]))
        raise Interrupted(half)

    monkeypatch.setattr("service.jobs.checking.run", stopped)
    check = checking(checks, blobs)
    for _ in range(2):
        check(queued, lambda: False)
        assert settled(checks, queued).state == "queued"
    assert given == [None, half]


def test_a_check_that_was_forgotten_while_it_waited_is_not_run(checks: Checks, blobs: Blobs, queued: str) -> None:
    checks.forget(queued)
    checking(checks, blobs, "tests.jobs.faults:hangs")(queued, lambda: False)
    assert checks.get(queued, now()) is None


def test_progress_stands_in_the_row_while_the_check_runs(checks: Checks, blobs: Blobs, queued: str) -> None:
    work = threading.Thread(target=checking(checks, blobs, "tests.jobs.faults:waits_for_a_file"), args=(queued, lambda: False))
    work.start()
    try:
        until(lambda: settled(checks, queued).stage, "how far it is")
        running = settled(checks, queued)
    finally:
        (blobs.path(queued).parent / "go").touch()
        ended(work)
    assert (running.state, running.stage, running.page, running.pages) == ("running", "pages", 1, 2)
    assert settled(checks, queued).state == "finished"


def test_the_orders_facts_are_in_the_sheet_that_is_judged() -> None:
    sheet = json.dumps({"spine": {"page_width": "148 mm"}})
    spine = sheet_of(row(sheet=sheet, order='{"inner_pages": 96, "caliper_mm": 0.11}')).spine
    assert spine is not None
    assert (spine.inner_pages, spine.caliper_mm) == (96, 0.11)


class Taking:
    """A queue that only takes up."""

    owner = "here"

    def __init__(self) -> None:
        self.taken: list[str] = []

    def take_up(self, check_ids: Iterable[str]) -> None:
        self.taken += check_ids


def housekeeping(checks: Checks, blobs: Blobs, queue: Taking) -> Housekeeping:
    return Housekeeping(checks, blobs, cast(Queue, queue))


def lost(check_id: str) -> CheckRow:
    old = now() - timedelta(minutes=5)
    return row(check_id, state="running", owner="dead", heartbeat_at=old, expires_at=now() + timedelta(hours=1))


def test_what_an_earlier_process_left_is_taken_up(checks: Checks, blobs: Blobs) -> None:
    checks.add(lost("lost"))
    queue = Taking()
    here = housekeeping(checks, blobs, queue)
    here.start()
    here.close()
    assert queue.taken == ["lost"]
    assert (settled(checks, "lost").state, settled(checks, "lost").owner) == ("queued", "here")


def test_after_a_jump_of_the_clock_nothing_is_swept_or_taken_up(
    checks: Checks, blobs: Blobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.housekeeping.BEAT_SECONDS", 0.02)
    monkeypatch.setattr("service.jobs.housekeeping.SWEEP_EVERY_BEATS", 1)
    checks.add(row("kept", state="running", owner="here", heartbeat_at=now(), expires_at=now() + timedelta(hours=1)))
    queue = Taking()
    here = housekeeping(checks, blobs, queue)
    here.start()
    ahead = timedelta(hours=2)
    monkeypatch.setattr("service.jobs.housekeeping.now", lambda: now() + ahead)
    until(lambda: settled(checks, "kept").heartbeat_at > now() + ahead / 2, "a beat by the new clock")
    checks.add(lost("lost"))
    beat = settled(checks, "kept").heartbeat_at
    until(lambda: settled(checks, "kept").heartbeat_at > beat + timedelta(seconds=0.2), "some more beats")
    here.close()
    assert queue.taken == []
    assert checks.existing(["kept", "lost"]) == {"kept", "lost"}, "by the new clock they expired an hour ago"


def test_a_process_that_beats_keeps_its_checks_and_sweeps_what_expires(
    checks: Checks, blobs: Blobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.housekeeping.BEAT_SECONDS", 0.02)
    checks.add(row("kept", state="running", owner="here", heartbeat_at=now(), expires_at=now() + timedelta(hours=1)))
    checks.add(row("brief", state="finished", expires_at=now() + timedelta(seconds=0.1)))
    here = housekeeping(checks, blobs, Taking())
    began = now()
    here.start()
    until(lambda: not checks.existing(["brief"]), "swept")
    here.close()
    assert checks.existing(["brief", "kept"]) == {"kept"}
    assert settled(checks, "kept").heartbeat_at > began


def test_a_check_that_nobody_wants_any_longer_is_not_begun(
    checks: Checks, blobs: Blobs, queued: str, caplog: pytest.LogCaptureFixture
) -> None:
    blobs.forget(queued)
    checking(checks, blobs)(queued, lambda: True)
    assert settled(checks, queued).state == "queued"
    assert not caplog.records, "it is no fault that has to be told"
