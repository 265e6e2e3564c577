"""PDFs that are made of a checked file on demand (preview, dummy, single pages): what they have in common over HTTP.

They are made in the sandbox of the file that the check keeps. One that cannot be made of this file is the problem
`proof-not-made` (422): the address is right, and asking again does not help.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Mapping
from typing import Literal
from urllib.parse import quote

from flask import Response, request

from service.api.blueprint import BARE_PDF, parts
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

IF_NONE_MATCH = {
    "in": "header", "name": "If-None-Match", "schema": {"type": "string"}, "description": "An ETag from before.",
}  # fmt: skip
PDF_HEADERS = {
    "ETag": {"schema": {"type": "string"}, "description": "Stays the same as long as the PDF does."},
    "Content-Disposition": {"schema": {"type": "string"}, "description": "The name that a browser saves it under."},
}


def finished_check(check_id: str) -> tuple[CheckRow, tuple[Page, ...]]:
    """The finished check and its measured pages. Raises `Problem`."""
    row = found_check(check_id)
    if row.state in ("queued", "running"):
        detail = say("The check is still waiting or running; what is made of its file can be had once it is finished.")
        raise Problem("check-not-finished", detail, headers={"Retry-After": "2"})
    if row.state != "finished" or not row.measurements:
        detail = say("The check failed, so that nothing is known of the file's pages. Send the PDF again.")
        raise Problem("check-failed", detail)
    pages = measurements_from_json(row.measurements).pages
    if isinstance(pages, Unmeasured):
        raise Problem("proof-not-made", say("The file could not be measured. {reason}", reason=reason(pages)))
    return row, pages


def pdf_answer(row: CheckRow, asked: object, draw: str, *, suffix: str, headers: Mapping[str, str]) -> Response:
    """The PDF that the function `draw` ('module:function') makes of `asked`; 304 where the caller has it. Raises `Problem`."""
    tag = hashlib.sha256(f"{service_version()} {row.sha256} {draw} {asked!r}".encode()).hexdigest()[:32]
    if request.if_none_match.contains_weak(tag):
        return _kept(Response(status=304), tag)
    answer = Response(_made(row, asked, draw), mimetype=BARE_PDF)
    answer.headers["Content-Disposition"] = saved_as(row.file_name, suffix)
    answer.headers.update(headers)
    return _kept(answer, tag)


def _made(row: CheckRow, asked: object, draw: str) -> bytes:
    try:
        made = parts().asking.drawn(DrawingTask(pdf=parts().blobs.path(row.id), asked=asked, draw=draw))
    except FileNotFoundError as error:
        detail = say("The check's result is kept, but its PDF is not, and this is made of it. Send the PDF again.")
        raise Problem("file-forgotten", detail) from error
    except QueueFull as full:
        raise busy(full) from full
    if isinstance(made, Unmeasured):
        raise Problem("proof-not-made", reason(made))
    if not made.startswith(b"%PDF-"):
        detail = say("The drawing process was disturbed by this file, and its answer cannot be trusted.")
        raise Problem("proof-not-made", detail)
    return made


def saved_as(name: str | None, suffix: str, shown: Literal["attachment", "inline"] = "attachment") -> str:
    """A Content-Disposition: 'brochure-dummy.pdf', in plain letters and once more as it is (RFC 6266, RFC 8187)."""
    stem = re.sub(r"\.pdf$", "", name or "file", flags=re.IGNORECASE)
    full = re.sub(r'[\\/:*?"<>|]+', "-", stem).strip(". ")[:100] or "file"
    plain = unicodedata.normalize("NFKD", full).encode("ascii", "ignore").decode()
    plain = re.sub(r"[^A-Za-z0-9 ._()-]+", "-", plain).strip(". -") or "file"
    extended = f"; filename*=UTF-8''{quote(f'{full}-{suffix}.pdf', safe='')}" if plain != full else ""
    return f'{shown}; filename="{plain}-{suffix}.pdf"{extended}'


def _kept(answer: Response, tag: str) -> Response:
    """Not by anybody in between, and not past the check: every use asks again, which costs no drawing."""
    answer.set_etag(tag, weak=True)
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer
