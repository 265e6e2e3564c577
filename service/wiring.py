"""The parts of the running service, made once from the settings."""

from __future__ import annotations

from dataclasses import dataclass, field

from service.jobs.checking import Checking
from service.jobs.children.sandbox import demand
from service.jobs.children.tasks import Limits
from service.jobs.housekeeping import Housekeeping
from service.jobs.local import LocalQueue
from service.jobs.queue import Queue
from service.jobs.workbench import Workbench
from service.settings import Settings
from service.store.accounts import Accounts
from service.store.audit import Audit
from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.database import open_database
from service.store.measured import Measured
from service.store.sheets import Sheets
from service.store.token_secret import kept_secret
from service.store.upload_tokens import UploadTokens
from service.store.usage import Usage


@dataclass(frozen=True)
class Parts:
    settings: Settings
    checks: Checks
    measured: Measured
    sheets: Sheets
    accounts: Accounts
    usage: Usage
    upload_tokens: UploadTokens
    audit: Audit
    blobs: Blobs
    queue: Queue
    workbench: Workbench
    housekeeping: Housekeeping
    token_secrets: tuple[str, ...] = field(repr=False)
    """The first signs; all are taken."""

    def close(self) -> None:
        """Settle what is open, end the threads, let go of the database."""
        self.queue.close()
        self.housekeeping.close()
        self.checks.close()


def make_parts(settings: Settings, measure: str | None = None) -> Parts:
    """Makes the data folder where it is missing; raises OSError where that cannot be, SettingsRefused as `demand`."""
    demand(settings.sandbox)
    settings.data.mkdir(parents=True, exist_ok=True)
    database = open_database(settings.database_url, settings.data)
    checks = Checks(database)
    blobs = Blobs(settings.data / "files", settings.free_space_bytes)
    limits = Limits(settings.check_seconds, settings.check_memory_bytes)
    measured = Measured(database)
    checking = Checking(checks, measured, blobs, limits, measure)
    queue = LocalQueue(
        checking,
        checking.give_up,
        workers=settings.workers,
        length=settings.queue_length,
        stop_seconds=settings.stop_seconds,
        first_pass_seconds=settings.first_pass_seconds,
        most_waiting_callers=max(1, settings.threads // 4),
    )
    workbench = Workbench(
        limits,
        at_once=settings.workers,
        wait_seconds=settings.wait_seconds,
        most_callers=settings.threads // 2,  # a quarter of all waits for checks, the last one answers what is quick
        measure=measure,
    )
    upload_tokens, audit = UploadTokens(database), Audit(database)
    return Parts(
        settings=settings,
        checks=checks,
        measured=measured,
        sheets=Sheets(database),
        accounts=Accounts(database),
        usage=Usage(database),
        upload_tokens=upload_tokens,
        audit=audit,
        blobs=blobs,
        queue=queue,
        workbench=workbench,
        housekeeping=Housekeeping(checks, blobs, queue, (upload_tokens.forget_old, audit.forget_old)),
        token_secrets=settings.token_secrets or (kept_secret(settings.data),),
    )
