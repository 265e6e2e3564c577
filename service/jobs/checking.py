"""One check from its row to its result: what a worker does."""

from __future__ import annotations

import json
import logging
import time
from collections.abc import Callable
from contextlib import ExitStack
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from service.jobs.again.recent import RecentlyJudged, RecentlyMeasured
from service.jobs.again.same_again import likeness
from service.jobs.children.measuring.check import Result, Unfinished, run
from service.jobs.children.measuring.unfinished import UnfinishedChecks
from service.jobs.children.sandbox import Interrupted
from service.jobs.children.tasks import Limits, Task
from service.jobs.judgement_codec import judgements_to_json
from service.pdf.codec import measurements_to_json, question_from_json
from service.rules.catalogue import RULES
from service.sheets.format.validation import read_sheet
from service.sheets.model import SpecSheet
from service.sheets.order import for_order
from service.store.checks import Checks
from service.store.database import DatabaseAway, DatabaseError
from service.store.files.blobs import Blobs, FilesAway
from service.store.measured import Measured
from service.store.models import CheckRow
from service.tracing import Span, check_span

log = logging.getLogger(__name__)

_SAY_EVERY_SECONDS = 0.25
_AWAY_AT_MOST_SECONDS = 120.0
_AWAY_SECONDS = 1.0
_LONGEST_REMEMBERED_SHEET = 20_000
"""Characters; a stored one has 1,000 to 5,000."""


def now() -> datetime:
    return datetime.now(UTC)


class Checking:
    def __init__(
        self,
        owner: str,
        checks: Checks,
        measured: Measured,
        blobs: Blobs,
        limits: Limits,
        measure: str | None = None,
        recent: RecentlyMeasured | None = None,
        judged: RecentlyJudged | None = None,
        done: Callable[[str], None] = lambda _: None,
    ) -> None:
        """`owner`: the process, as it stands in the rows of the checks that it runs; `done`: told of each that has its result."""
        self._owner, self._checks, self._measured, self._blobs = owner, checks, measured, blobs
        self._limits, self._measure = limits, measure
        self._recent, self._unfinished = recent or RecentlyMeasured(), UnfinishedChecks()
        self._judged, self._done = judged or RecentlyJudged(), done

    def __call__(self, row: CheckRow, stopped: Callable[[], bool]) -> bool:
        """Run the check and settle its row, whatever happens; False where it was stopped, and still waits for that."""
        try:
            if stopped():  # forgotten just now, its file too
                return False
            self._recent.make_room()
            with check_span(row.id, row.size_bytes) as span:
                self._settle(row, stopped, span)
        except Interrupted as interrupted:
            if isinstance(interrupted.unfinished, Unfinished):
                self._unfinished.keep(row.id, interrupted.unfinished)
            return False
        except DatabaseAway as error:
            log.warning("a check cannot be begun (%s); it waits again", type(error).__name__)
            return False
        except Exception:  # around a worker: the second place where everything is caught
            log.exception("a check failed")
            self._while_the_database_is_away(lambda: self._checks.fail(row.id, self._owner, now(), "internal-error"))
        return True

    def _settle(self, row: CheckRow, stopped: Callable[[], bool], span: Span) -> None:
        measurements = self._measured.text(row.measured) if row.measured else None
        task = Task(
            sheet=sheet_of(row),
            question=question_from_json(row.question),
            pdf=None if measurements else self._file(row.id, stopped),
            measurements=measurements,
            measure=self._measure,
        )
        teller = _Teller(self._checks, row.id, self._owner, span)
        before = self._unfinished.take(row.id)
        with ExitStack() as endings:
            result = run(task, self._limits, teller, lambda: stopped() or teller.is_unwanted(), before, endings=endings)
            self._keep(row, result, span)

    def _keep(self, row: CheckRow, result: Result, span: Span) -> None:
        text = result.text or measurements_to_json(result.measurements)
        everything = all(one.outcome != "not_measured" for one in result.judgement.rules)
        judgement = result.judgements_told or judgements_to_json(result.judgements)
        verdict = result.judgement.verdict
        span.note("print_spec.verdict", verdict)
        same = likeness(row) if everything and self._measure is None else None

        def settle() -> None:
            found = {"measurements": text, "judgement": judgement, "verdict": verdict}
            digest = self._checks.finish(row.id, self._owner, now(), **found, same=same)
            if digest:
                self._recent.keep(digest, result.measurements, len(text))
                self._judged.keep(row.id, judgement, result.judgements)

        self._while_the_database_is_away(settle)
        self._done(row.id)

    def _file(self, check_id: str, stopped: Callable[[], bool]) -> Path:
        """Raises Interrupted where it cannot be had: the check waits again."""
        last = time.monotonic() + _AWAY_AT_MOST_SECONDS
        while True:
            try:
                return self._blobs.path(check_id)
            except FilesAway as error:
                log.warning("the file of a check cannot be had (%s); trying again", error)
                if stopped() or time.monotonic() > last:
                    raise Interrupted from error
                time.sleep(_AWAY_SECONDS)

    def _while_the_database_is_away(self, settle: Callable[[], object]) -> None:
        """Try again for a while; after that the check waits again, once this process seems dead to the others."""
        last = time.monotonic() + _AWAY_AT_MOST_SECONDS
        while True:
            try:
                settle()
                return
            except DatabaseError as error:
                if time.monotonic() > last:
                    log.exception("a check cannot be settled")
                    return
                log.warning("a check cannot be settled yet (%s); trying again", type(error).__name__)
                time.sleep(_AWAY_SECONDS)


class _Teller:
    """Writes progress into the row, a few times a second at most; a card is done before the first time."""

    def __init__(self, checks: Checks, check_id: str, owner: str, span: Span) -> None:
        self._checks, self._check_id, self._owner, self._span = checks, check_id, owner, span
        self._stage, self._next = "", time.monotonic() + _SAY_EVERY_SECONDS
        self._to_say: tuple[str, int, int] | None = None
        self._unwanted = False

    def __call__(self, stage: str, page: int, pages: int) -> None:
        if stage != self._stage:
            self._span.event(stage)
        self._stage, self._to_say = stage, (stage, page, pages)
        self._say_in_time()

    def is_unwanted(self) -> bool:
        """Asked now and then: a page that takes long does not keep what came before from being told."""
        self._say_in_time()
        return self._unwanted

    def _say_in_time(self) -> None:
        if self._to_say is None or time.monotonic() < self._next:
            return
        said, self._to_say, self._next = self._to_say, None, time.monotonic() + _SAY_EVERY_SECONDS
        try:
            self._unwanted = not self._checks.progress(self._check_id, self._owner, *said)
        except DatabaseError as error:
            log.warning("how far a check is cannot be told (%s)", type(error).__name__)


def sheet_of(row: CheckRow) -> SpecSheet:
    """The sheet that the check is judged against, the order's facts filled in."""
    read = _read_before if len(row.sheet) <= _LONGEST_REMEMBERED_SHEET else _read
    return read(row.sheet, row.order)


def _read(text: str, order: str | None) -> SpecSheet:
    sheet = read_sheet(json.loads(text), stored=False, known_rules=RULES)
    return for_order(sheet, json.loads(order)) if order else sheet


_read_before = lru_cache(maxsize=64)(_read)
"""A printer's checks name the same few sheets."""
