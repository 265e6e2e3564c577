"""Why a file could not be measured here, where that says nothing against it: our limits, or a fault that may be ours as well."""

from __future__ import annotations

import logging
import signal

from service.jobs.children.lines import ErrorTold
from service.jobs.children.tasks import Limits
from service.language.spoken import to_say
from service.pdf.facts.unknown import Failure, Unmeasured, failed

log = logging.getLogger(__name__)

TOOK_TOO_LONG = Failure(
    "limits",
    "The measuring took longer than a check may take, so it was stopped; the service may have been busy, so check the file "
    "again. Where that does not help, ask the printer to see it, or make its heaviest pages simpler.",
)
SAID_TOO_MUCH = Failure(
    "limits", "The file holds more than one check can report; ask the printer to see it, or check it in several parts."
)
NOT_TRUSTED = Failure(
    "hostile",
    "The measuring gave no answer that can be trusted, and whether the file or this service is at fault is not known; export the "
    "file again, or ask the printer to see it.",
)

_OUT_OF_TIME = to_say(
    "This took longer than the {seconds} s that it may take, so it was stopped. Other work may have kept the service busy: "
    "ask again in a minute. Where that does not help, send less of it: fewer pages, or only the part of a text that matters."
)


class OutOfTime(Unmeasured):
    """What was not drawn or read in time: a limit of ours, and on a busy machine nothing that the file is to blame for."""


def out_of_time(limits: Limits) -> OutOfTime:
    return OutOfTime(_OUT_OF_TIME, (("seconds", float(limits.seconds)),))


def failure_of(error: ErrorTold) -> Failure:
    if error.memory:
        return Failure(
            "limits",
            "The measuring asked for more memory than a check may use, so it was stopped; ask the printer to see the file, or "
            "make its heaviest pages simpler.",
        )
    log.error("measuring raised:\n%s", error.trace.encode("ascii", "backslashreplace").decode())
    return Failure(
        "hostile",
        "The measuring failed part way through, and whether the file or this service is at fault is not known; export the file "
        "again, or ask the printer to see it.",
    )


def crash(exit_code: int | None, limits: Limits) -> Failure:
    log.warning("a measuring process ended with %s", exit_code)
    if exit_code in (-signal.SIGXCPU, -signal.SIGKILL, -signal.SIGALRM):
        return failed(
            "limits",
            "The measuring was stopped, because a check may use {seconds} seconds and limited memory; ask the printer to see the "
            "file, or make its heaviest pages simpler.",
            seconds=float(limits.seconds),
        )
    return Failure(
        "hostile",
        "The measuring process crashed, and whether the file or this service is at fault is not known; export the file again, or "
        "ask the printer to see it.",
    )
