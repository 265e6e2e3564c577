"""Checks that an earlier version finished in a form that this one does not read: measured again where their file is kept."""

from __future__ import annotations

from service.jobs.checking import now, sheet_of
from service.jobs.question import question_for
from service.jobs.queue import Queue
from service.jobs.queue_full import QueueFull
from service.pdf.codec import question_to_json
from service.sheets.format.refusals import SheetRefused
from service.sheets.order import OrderRefused
from service.store.checks import Checks
from service.store.files.blobs import Blobs
from service.store.models import CheckRow


def measured_again(row: CheckRow, blobs: Blobs, checks: Checks, queue: Queue) -> CheckRow | None:
    """An outdated check, queued anew under its id; None where its file or its sheet is of no use any longer.

    Where the queue is full, whoever asks is told that the check waits, and the next one to ask tries again.
    """
    if not blobs.holds(row.id):
        return None
    try:
        question = question_to_json(question_for(sheet_of(row)))
    except (SheetRefused, OrderRefused):
        return None
    try:
        return queue.submit_again(row.id, question) or checks.get(row.id, now())  # somebody else was quicker
    except QueueFull:
        row.state, row.finished_at, row.verdict, row.judgement, row.measured = "queued", None, None, None, None
        return row
