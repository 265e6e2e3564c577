"""Forgetting in time: expired checks and stray files."""

from __future__ import annotations

import io
import os
from datetime import timedelta

from service.store.checks import Checks
from service.store.files.blobs import Blobs
from service.store.retention import sweep
from tests.store.rows import NOON, row


def _file(blobs: Blobs, check_id: str, hours_old: float) -> None:
    blobs.save(check_id, io.BytesIO(b"%PDF-"), 100)
    time = (NOON - timedelta(hours=hours_old)).timestamp()
    os.utime(blobs.path(check_id), (time, time))


def test_an_expired_check_goes_with_its_file_and_another_stays(checks: Checks, blobs: Blobs) -> None:
    checks.add(row("old", state="finished", expires_at=NOON))
    checks.add(row("new", state="finished", expires_at=NOON + timedelta(seconds=1)))
    _file(blobs, "old", 24)
    _file(blobs, "new", 24)
    sweep(checks, blobs, NOON)
    assert checks.existing(["old", "new"]) == {"new"}
    assert not blobs.path("old").exists()
    assert blobs.path("new").exists()


def test_a_file_without_a_check_goes_once_no_upload_can_be_writing_it(checks: Checks, blobs: Blobs) -> None:
    _file(blobs, "stray", 2)
    _file(blobs, "arriving", 0.1)
    sweep(checks, blobs, NOON)
    assert not blobs.path("stray").exists()
    assert blobs.path("arriving").exists()

