"""One check from its row to its result: what a worker does."""

from __future__ import annotations

import json
import logging
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from datetime import UTC, datetime

from service.jobs.children.measuring.check import Unfinished, run
from service.jobs.children.sandbox import Interrupted
from service.jobs.children.tasks import Limits, Task
from service.jobs.judgement_codec import judgements_to_json
from service.jobs.recent import RecentlyMeasured
from service.jobs.same_again import likeness
from service.pdf.codec import measurements_to_json, question_from_json
from service.rules.catalogue import RULES
from service.sheets.format.validation import read_sheet
from service.sheets.model import SpecSheet
from service.sheets.order import for_order
from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.measured import Measured
from service.store.models import CheckRow

log = logging.getLogger(__name__)

_SAY_EVERY_SECONDS = 0.25
MOST_UNFINISHED = 32
"""Whose measured pages are kept: others begin anew. A first pass is short, so that they are few. Ours, no source."""


def now() -> datetime:
    return datetime.now(UTC)


class Checking:
    def __init__(
        self,
        checks: Checks,
        measured: Measured,
        blobs: Blobs,
        limits: Limits,
        measure: str | None = None,
        recent: RecentlyMeasured | None = None,
    ) -> None:
        self._checks, self._measured, self._blobs, self._recent = checks, measured, blobs, recent or RecentlyMeasured()
        self._limits, self._measure, self._unfinished = limits, measure, _UnfinishedChecks()

    def __call__(self, check_id: str, stopped: Callable[[], bool]) -> None:
        """Run the check and settle its row, whatever happens; one that is stopped waits again, and goes on with what it has."""
        before = self._unfinished.take(check_id)
        try:
            row = self._checks.start(check_id, now())
            if row and stopped():  # forgotten just now, its file too
                raise Interrupted
            if row:
                self._settle(row, stopped, before)
        except Interrupted as interrupted:
            waits_again = self._checks.put_back(check_id)
            if waits_again and isinstance(interrupted.unfinished, Unfinished):
                self._unfinished.keep(check_id, interrupted.unfinished)
        except Exception:  # around a worker: the second place where everything is caught
            log.exception("a check failed")
            self._checks.fail(check_id, now(), "internal-error")

    def give_up(self, check_id: str) -> None:
        """The process ends: another one, or the next, takes the check up."""
        self._checks.release(check_id)

    def _settle(self, row: CheckRow, stopped: Callable[[], bool], before: Unfinished | None) -> None:
        measurements = self._measured.text(row.measured) if row.measured else None
        task = Task(
            sheet=sheet_of(row),
            question=question_from_json(row.question),
            pdf=None if measurements else self._blobs.path(row.id),
            measurements=measurements,
            measure=self._measure,
        )
        teller = _Teller(self._checks, row.id)
        result = run(task, self._limits, teller, lambda: stopped() or teller.unwanted, before)
        text = result.text or measurements_to_json(result.measurements)
        everything = all(one.outcome != "not_measured" for one in result.judgement.rules)
        digest = self._checks.finish(
            row.id,
            now(),
            measurements=text,
            judgement=judgements_to_json(result.judgements),
            verdict=result.judgement.verdict,
            same=likeness(row) if everything and self._measure is None else None,
        )
        if digest:
            self._recent.keep(digest, result.measurements, len(text))


class _UnfinishedChecks:
    """What checks had measured when they were stopped for others, while they wait for their turn."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, Unfinished] = OrderedDict()

    def keep(self, check_id: str, unfinished: Unfinished) -> None:
        with self._lock:
            self._kept[check_id] = unfinished
            if len(self._kept) > MOST_UNFINISHED:
                self._kept.popitem(last=False)

    def take(self, check_id: str) -> Unfinished | None:
        with self._lock:
            return self._kept.pop(check_id, None)


class _Teller:
    """Writes progress into the row, a few times a second at most."""

    def __init__(self, checks: Checks, check_id: str) -> None:
        self._checks, self._check_id = checks, check_id
        self._stage, self._next = "", 0.0
        self.unwanted = False

    def __call__(self, stage: str, page: int, pages: int) -> None:
        if stage == self._stage and time.monotonic() < self._next:
            return
        self._stage, self._next = stage, time.monotonic() + _SAY_EVERY_SECONDS
        self.unwanted = not self._checks.progress(self._check_id, stage, page, pages)


def sheet_of(row: CheckRow) -> SpecSheet:
    """The sheet that the check is judged against, the order's facts filled in."""
    sheet = read_sheet(json.loads(row.sheet), stored=False, known_rules=RULES)
    return for_order(sheet, json.loads(row.order)) if row.order else sheet
