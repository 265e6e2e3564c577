"""What is drawn of one page of a checked file on demand (plates, pictures): what it has in common over HTTP.

Made in the sandbox from the file that the check keeps. What cannot be made of this file is a problem of its own (422): the
address is right, and asking again does not help.
"""

from __future__ import annotations

import hashlib
import logging
import re
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from flask import Response, request

from service.api.blueprint import parts
from service.api.checks import found_check
from service.api.openapi import service_version
from service.api.problems import Problem
from service.api.spec_matches import busy
from service.jobs.drawing_child import DrawingTask
from service.jobs.queue import QueueFull
from service.language.spoken import say
from service.pdf.codec import measurements_from_json
from service.pdf.measurements import Page, Unmeasured
from service.rules.wording import reason
from service.store.models import CheckRow

log = logging.getLogger(__name__)

T = TypeVar("T")

PAGE = {"in": "path", "name": "page", "required": True, "schema": {"type": "integer", "minimum": 1}, "description": "From 1."}


def measured_page(check_id: str, page: str, not_made: str) -> tuple[CheckRow, Page]:
    """The finished check and its page; `not_made` is the problem of a file that could not be measured. Raises `Problem`."""
    row = found_check(check_id)
    if row.state in ("queued", "running"):
        detail = say("The check is still waiting or running; what is drawn of its pages can be had once it is finished.")
        raise Problem("check-not-finished", detail, headers={"Retry-After": "2"})
    if row.state != "finished" or not row.measurements:
        detail = say("The check failed, so that nothing is known of the file's pages. Send the PDF again.")
        raise Problem("check-failed", detail)
    pages = measurements_from_json(row.measurements).pages
    if isinstance(pages, Unmeasured):
        raise Problem(not_made, say("The file could not be measured. {reason}", reason=reason(pages)))
    found = pages[int(page) - 1 : int(page)] if re.fullmatch(r"[1-9]\d{0,8}", page) else ()
    if not found:
        wrong = page[:20]
        raise Problem(
            "page-not-found",
            say("The file has only page 1, and no page '{page}'.", page=wrong)
            if len(pages) == 1
            else say("The file has the pages 1 to {count}, and no page '{page}'.", count=len(pages), page=wrong),
        )
    return row, found[0]


def file_of(row: CheckRow) -> Path:
    path = parts().blobs.path(row.id)
    if not path.is_file():
        raise _gone()
    return path


def _gone() -> Problem:
    detail = say("The check's result is kept, but its PDF is not, and this is drawn from it. Send it again.")
    return Problem("file-forgotten", detail)


def drawn(task: DrawingTask, page: int, read: Callable[[bytes], T], not_made: str) -> T:
    """What was drawn, once `read` has found it to be what ours would draw. Raises `Problem`."""
    try:
        bytes_drawn = parts().asking.drawn(task)
    except FileNotFoundError as error:  # forgotten just now
        raise _gone() from error
    except QueueFull as full:
        raise busy(full) from full
    if isinstance(bytes_drawn, Unmeasured):
        raise Problem(not_made, say("Page {page}: {reason}", page=page, reason=reason(bytes_drawn)))
    try:
        return read(bytes_drawn)
    except ValueError as error:
        log.warning("a drawing process sent what ours does not draw: %.300s", error)
        detail = say("Page {page}: the drawing process was disturbed by this file, and its answer cannot be trusted.", page=page)
        raise Problem(not_made, detail) from error


def tag_of(row: CheckRow, asked: object, kind: str) -> str:
    """The same file, question and version give the same drawing: whoever has it need not have it made again."""
    return hashlib.sha256(f"{service_version()} {row.sha256} {kind} {asked!r}".encode()).hexdigest()[:32]


def unchanged(tag: str) -> Response | None:
    return kept(Response(status=304), tag) if request.if_none_match.contains_weak(tag) else None


def kept(answer: Response, tag: str) -> Response:
    """Not by anybody in between, and not past the check: every use asks again, which costs no drawing."""
    answer.set_etag(tag, weak=True)
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer
