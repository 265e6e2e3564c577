"""What is drawn of one page of a checked file on demand (plates, pictures): what it has in common over HTTP."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from service.api.http.blueprint import parts
from service.api.http.problems import Problem
from service.api.proofs.on_demand import file_gone, finished_check, made
from service.jobs.children.tasks import DrawingTask
from service.language.first_words import begun_after_colon
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.store.models import CheckRow

log = logging.getLogger(__name__)

T = TypeVar("T")

PAGE = {"in": "path", "name": "page", "required": True, "schema": {"type": "integer", "minimum": 1}, "description": "From 1."}


def measured_page(check_id: str, page: str, not_made: str) -> tuple[CheckRow, Page]:
    """The finished check and its page, as `finished_check`. Raises `Problem`."""
    row, pages = finished_check(check_id, not_made)
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
        raise file_gone()
    return path


def drawn(task: DrawingTask, page: int, read: Callable[[bytes], T], not_made: str) -> T:
    """What was drawn, once `read` has found it to be what ours would draw. Raises `Problem`."""
    bytes_drawn = made(task)
    if isinstance(bytes_drawn, Unmeasured):
        raise Problem(not_made, say("Page {page}: {reason}", page=page, reason=begun_after_colon(reason(bytes_drawn))))
    try:
        return read(bytes_drawn)
    except ValueError as error:
        log.warning("a drawing process sent what ours does not draw: %.300s", error)
        detail = say("Page {page}: the drawing process was disturbed by this file, and its answer cannot be trusted.", page=page)
        raise Problem(not_made, detail) from error
