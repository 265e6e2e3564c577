"""The service under gunicorn, started from this process: what `print-spec serve` runs."""

from __future__ import annotations

import logging
import signal
import threading
from functools import partial
from typing import Any

from gunicorn.app.base import BaseApplication

from service import FORM_BYTES, create_app, tracing
from service.api.http.callers.access import is_refused
from service.api.specs.kept_sheets import read_stored_sheets
from service.door.bodies import Spools
from service.door.worker import DoorWorker
from service.jobs.children import sandbox
from service.jobs.children.confinement.privileges import hide_memory
from service.log_lines import log_to_the_console
from service.setting_values import KEYS, OPEN, OPEN_ANYWHERE
from service.settings import Settings
from service.store.database import open_database
from service.store.notices import DONE, STOP
from service.wiring import Parts
from service.working import say_what_is_odd

log = logging.getLogger(__name__)

_ACCESS = {
    OPEN: "open to this machine: whoever reaches %s may do everything (PRINT_SPEC_ACCESS=keys asks for API keys)",
    OPEN_ANYWHERE: "OPEN: whoever reaches %s may do everything, as PRINT_SPEC_ACCESS=open-anywhere says",
    KEYS: "callers of %s need an API key (print-spec keys)",
}


def serve(host: str, port: int, settings: Settings) -> None:
    """Serve until a signal ends it: SIGTERM lets running checks finish for `stop_seconds`. Raises OSError for a bad folder."""
    log_to_the_console(settings.log)
    say_what_is_odd()
    log.info(_ACCESS[settings.access], host)
    hide_memory()  # secrets are in the environment, and in every process that is forked from this one
    settings.data.mkdir(parents=True, exist_ok=True)
    open_database(settings.database_url, settings.data).dispose()  # one process makes the tables, before there are several
    _Server(host, port, settings).run()


class _Server(BaseApplication):  # type: ignore[misc]  # the package has no types
    def __init__(self, host: str, port: int, settings: Settings) -> None:
        self._settings = settings
        self._bind = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
        super().__init__()

    def load_config(self) -> None:
        for name, value in {
            "bind": self._bind,
            "workers": self._settings.processes,
            "threads": self._settings.threads,
            "worker_class": DoorWorker,
            "graceful_timeout": round(self._settings.stop_seconds) + 10,
            "timeout": 60,
            "proc_name": "print-spec",
            "post_worker_init": _begin,
            "worker_exit": _end,
            "control_socket_disable": True,
        }.items():
            if name in self.cfg.settings:  # the last one came with a later version
                self.cfg.set(name, value)

    def load(self) -> Any:
        return create_app(self._settings)


def _begin(worker: Any) -> None:
    """In each server process: begin housekeeping, load the measuring modules and the sheets, and stop in time when asked to."""
    parts: Parts = worker.wsgi.extensions["print-spec"]
    settings = parts.settings
    worker.spools = Spools(settings.data, settings.maximum_upload_bytes + FORM_BYTES, parts.blobs.has_room)
    parts.bell.hear(lambda word, _: worker.look_now() if word in (DONE, STOP) else None)
    worker.is_refused = partial(is_refused, worker.wsgi)
    tracing.begin(settings.telemetry)
    parts.begin()
    sandbox.warm()
    threading.Thread(target=read_stored_sheets, name="reading the sheets", daemon=True).start()  # or the first caller waits

    def stop(number: int, frame: Any) -> None:
        parts.stop_soon()
        worker.handle_exit(number, frame)

    signal.signal(signal.SIGTERM, stop)


def _end(_: Any, worker: Any) -> None:
    if worker.wsgi is not None:
        worker.wsgi.extensions["print-spec"].close()
        tracing.end()
