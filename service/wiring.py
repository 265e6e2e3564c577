"""The parts of the running service, made once from the settings."""

from __future__ import annotations

import secrets
import threading
from dataclasses import dataclass, field
from datetime import timedelta
from functools import partial

from service.jobs.again.recent import RecentlyJudged, RecentlyMeasured
from service.jobs.bell import Bell
from service.jobs.calling.addresses import Allowed
from service.jobs.calling.callbacks import Callbacks
from service.jobs.checking import Checking
from service.jobs.children.sandbox import demand
from service.jobs.children.tasks import Limits
from service.jobs.housekeeping import Housekeeping
from service.jobs.queue import SILENT_AFTER, Queue
from service.jobs.watching import Watching
from service.jobs.workbench import Workbench
from service.jobs.workers import Workers
from service.settings import Settings
from service.store.accounts.accounts import Accounts
from service.store.accounts.audit import Audit
from service.store.accounts.upload_tokens import UploadTokens
from service.store.accounts.usage import Usage
from service.store.calls import Calls
from service.store.catalogues.catalogues import Catalogues
from service.store.checks import Checks
from service.store.database import open_database
from service.store.files.blobs import Blobs
from service.store.files.uploads import Uploads
from service.store.line import Line
from service.store.measured import Measured
from service.store.notices import DONE, Listening, are_heard
from service.store.sheets import Sheets
from service.store.token_secret import kept_secret

DRAW_AT_ONCE = 2
"""Where no checks run that would say how much the machine can do."""
LOOK_EVERY_SECONDS = 0.5
"""At the database, where that tells nothing."""
LISTENING_LOOK_EVERY_SECONDS = 5.0
"""Where it tells: in case that a word is lost."""


@dataclass(frozen=True)
class Parts:
    settings: Settings
    checks: Checks
    line: Line
    measured: Measured
    recent: RecentlyMeasured
    judged: RecentlyJudged
    sheets: Sheets
    accounts: Accounts
    usage: Usage
    upload_tokens: UploadTokens
    audit: Audit
    catalogues: Catalogues
    blobs: Blobs
    uploads: Uploads
    queue: Queue
    workers: Workers | None
    """None where this process runs no checks."""
    watching: Watching
    bell: Bell
    callbacks: Callbacks | None
    """None where it delivers none."""
    workbench: Workbench
    housekeeping: Housekeeping
    listening: Listening
    token_secrets: tuple[str, ...] = field(repr=False)
    """The first signs; all are taken."""

    def begin(self) -> None:
        """Start the threads, in the process that is to have them; a second call does nothing."""
        if self.housekeeping.start():
            if self.workers:
                self.workers.start()
            if self.callbacks:
                self.callbacks.start()
            self.listening.start()

    def stop_soon(self) -> None:
        """Begin to close and return at once; may be called from a signal handler."""
        self.queue.close_soon()
        # In a thread: a signal handler must not wait for a lock that the interrupted code may hold.
        threading.Thread(target=self._stop, name="closing", daemon=True).start()

    def _stop(self) -> None:
        self.queue.close_soon()
        if self.callbacks:
            self.callbacks.close_soon()
        if self.workers:
            self.workers.close()
        self.queue.close()  # who waits here is answered once it is clear what is with the checks that ran here

    def close(self) -> None:
        """Let go of what is open, end the threads, let go of the database."""
        self._stop()
        if self.callbacks:
            self.callbacks.close()
        self.listening.close()
        self.housekeeping.close()
        self.checks.close()


def _files(settings: Settings) -> Blobs:
    if not settings.files:
        return Blobs(settings.data / "files", settings.free_space_bytes)
    from service.store.files.bucket import Bucket  # its library is an extra

    return Bucket(settings.files, settings.data / "cache", settings.free_space_bytes)


def _workers(settings: Settings, owner: str, line: Line, checking: Checking, bell: Bell, look_every_seconds: float) -> Workers:
    return Workers(
        owner,
        line,
        checking,
        bell,
        places=settings.workers,
        stop_seconds=settings.stop_seconds,
        first_pass_seconds=settings.first_pass_seconds,
        look_every_seconds=look_every_seconds,
    )


def _workbench(settings: Settings, limits: Limits, measure: str | None) -> Workbench:
    return Workbench(
        limits,
        at_once=settings.workers or DRAW_AT_ONCE,
        wait_seconds=settings.wait_seconds,
        most_callers=settings.threads // 2,  # a quarter of all waits for checks, the last one answers what is quick
        measure=measure,
    )


def make_parts(settings: Settings, measure: str | None = None) -> Parts:
    """Makes the data folder where it is missing; raises OSError where that cannot be, SettingsRefused as `demand`."""
    demand(settings.sandbox)
    settings.data.mkdir(parents=True, exist_ok=True)
    database = open_database(settings.database_url, settings.data)
    tells = are_heard(database)
    checks, line, measured, bell = Checks(database), Line(database), Measured(database), Bell()
    blobs, recent, judged = _files(settings), RecentlyMeasured(), RecentlyJudged()
    limits = Limits(settings.check_seconds, settings.check_memory_bytes)
    look_every = LISTENING_LOOK_EVERY_SECONDS if tells else LOOK_EVERY_SECONDS
    queue = Queue(
        checks,
        line,
        bell,
        length=settings.queue_length,
        look_every_seconds=look_every,
        most_waiting_callers=max(1, settings.threads // 4),
    )
    told = partial(bell.ring, DONE)
    checking = Checking(owner := secrets.token_urlsafe(12), checks, measured, blobs, limits, measure, recent, judged, told)
    workers = _workers(settings, owner, line, checking, bell, look_every) if settings.workers else None
    callbacks = None
    if settings.workers and settings.callback_secrets:  # who answers callers need not be let out to the world
        allowed = Allowed(settings.callback_hosts, settings.callback_networks)
        callbacks = Callbacks(Calls(database), bell, allowed, settings.callback_secrets, look_every)
    uploads = Uploads(settings.data / "uploads", blobs, timedelta(hours=settings.retention_hours))
    upload_tokens, audit = UploadTokens(database), Audit(database)
    return Parts(
        settings=settings,
        checks=checks,
        line=line,
        measured=measured,
        recent=recent,
        judged=judged,
        sheets=Sheets(database),
        accounts=Accounts(database),
        usage=Usage(database),
        upload_tokens=upload_tokens,
        audit=audit,
        catalogues=Catalogues(database),
        blobs=blobs,
        uploads=uploads,
        queue=queue,
        workers=workers,
        callbacks=callbacks,
        watching=Watching(checks, bell),
        bell=bell,
        workbench=_workbench(settings, limits, measure),
        housekeeping=Housekeeping(
            checks,
            line,
            blobs,
            uploads,
            bell,
            workers,
            SILENT_AFTER.total_seconds() if tells else 0.0,
            (upload_tokens.forget_old, audit.forget_old),
        ),
        listening=Listening(database, bell.ring, bell.missed),
        token_secrets=settings.token_secrets or (kept_secret(settings.data),),
    )
