"""Forgetting: checks past their time with their files, and files without a check.

Every process of the service may sweep at any time; each step is harmless when done twice.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from service.store.checks import Checks
from service.store.files.blobs import Blobs

STRAY_AFTER = timedelta(hours=1)
"""A file is written before its check: only an older one without a check is a stray."""


def sweep(checks: Checks, blobs: Blobs, now: datetime) -> None:
    for check_id in checks.expired(now):
        blobs.forget(check_id)
        checks.forget(check_id)
    checks.wipe()
    old = list(blobs.older_than((now - STRAY_AFTER).timestamp()))
    for start in range(0, len(old), 500):
        some = old[start : start + 500]
        for stray in set(some) - checks.existing(some):
            blobs.forget(stray)
