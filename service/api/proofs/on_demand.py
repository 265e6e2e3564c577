"""What is made from a checked file on demand (plates, pictures, PDFs, the report): what it has in common over HTTP.

Made in the sandbox from the file that the check keeps. What cannot be made from this file is a problem of its own (422): the
address is right, and trying again does not help.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable, Sequence
from typing import TypeVar

from flask import Response, request

from service.api.checks.kept_checks import found_check
from service.api.checks.measured import pages_of
from service.api.checks.pages_apart import PagesApart
from service.api.http.blueprint import Blueprint, parts
from service.api.http.problems import Problem, busy, not_in_time
from service.api.reference.openapi import service_version
from service.jobs.children.failures import OutOfTime
from service.jobs.children.tasks import DrawingTask
from service.jobs.queue_full import QueueFull
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.store.models import CheckRow

View = TypeVar("View")
_MOST_FILES_KEPT, _MOST_BYTES_KEPT = 2, 24_000_000
"""Whose pages are kept, and packed ones of how many bytes each: those of 1,000 pages of text have 3 MB. Ours, no source."""
_LATEST: dict[str, Sequence[Page]] = {}
"""By the digest of the measurements."""
_LOOKING = threading.Lock()
_INSTEAD = {
    404: "NOT_FOUND", 409: "CONFLICT", 410: "GONE", 422: "UNPROCESSABLE_ENTITY", 429: "TOO_MANY_REQUESTS",
}


def on_demand(blueprint: Blueprint) -> Callable[[View], View]:
    """Describes what a view of these may answer instead of what was wished for."""

    def described(view: View) -> View:
        for status, name in _INSTEAD.items():
            view = blueprint.alt_response(status, name)(view)
        return blueprint.alt_response(304, description="Nothing has changed.", success=True)(view)

    return described


def finished_check(check_id: str, not_made: str) -> tuple[CheckRow, Sequence[Page]]:
    """The finished check and its pages; `not_made` is the problem of a file that could not be measured. Raises `Problem`."""
    row = found_check(check_id)
    if row.state in ("queued", "running"):
        detail = say("The check is still waiting or running; what is made from its file can be had once it is finished.")
        raise Problem("check-not-finished", detail, headers={"Retry-After": "2"})
    if row.state != "finished" or row.measured is None:
        detail = say("The check failed, so that nothing is known of the file's pages. Send the PDF again.")
        raise Problem("check-failed", detail)
    pages = _pages_of(row, row.measured)
    if isinstance(pages, Unmeasured):
        raise Problem(not_made, say("The file could not be measured. {reason}", reason=reason(pages)))
    return row, pages


def _pages_of(row: CheckRow, digest: str) -> Sequence[Page] | Unmeasured:
    """Whoever looks at a file asks for its pages one after the other: the latest are kept. Raises `Problem`."""
    with _LOOKING:
        known = _LATEST.get(digest)
    if known is not None:
        return known
    pages = pages_of(row)
    if not isinstance(pages, Unmeasured) and not (isinstance(pages, PagesApart) and pages.size_bytes > _MOST_BYTES_KEPT):
        with _LOOKING:
            _LATEST[digest] = pages
            while len(_LATEST) > _MOST_FILES_KEPT:
                del _LATEST[next(iter(_LATEST))]
    return pages


def made(task: DrawingTask) -> bytes | Unmeasured:
    """What the sandbox sends, trusted in nothing yet.

    Raises `Problem` where the file is gone, too many are waiting, or the time is over.
    """
    try:
        drawn = parts().workbench.drawn(task)
    except FileNotFoundError as error:  # forgotten just now
        raise file_gone() from error
    except QueueFull as full:
        raise busy(full) from full
    if isinstance(drawn, OutOfTime):
        raise not_in_time(drawn)
    return drawn


def file_gone() -> Problem:
    detail = say("The check's result is kept, but its PDF is not, and this is made from it. Send the PDF again.")
    return Problem("file-forgotten", detail)


# --- Made once and kept by whoever asked ------------------------------------------------------------------------------


def tag_of(row: CheckRow, *wished: object) -> str:
    """The same file, wishes and version give the same answer: whoever has it need not have it made again."""
    return hashlib.sha256(f"{service_version()} {row.sha256} {wished!r}".encode()).hexdigest()[:32]


def has(tag: str) -> bool:
    """Whether the caller has that answer already."""
    return request.if_none_match.contains_weak(tag)


def unchanged(tag: str) -> Response | None:
    """The answer to a caller who has it already."""
    return kept(Response(status=304), tag) if has(tag) else None


def kept(answer: Response, tag: str) -> Response:
    """Not by anybody in between, and not past the check: every use asks again, which costs no drawing."""
    answer.set_etag(tag, weak=True)
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer
