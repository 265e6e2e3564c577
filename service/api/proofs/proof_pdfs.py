"""PDFs that are made from a checked file on demand (preview, dummy, single pages): what they have in common over HTTP.

One that cannot be made from this file is the problem `proof-not-made`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from typing import Literal, TypeVar
from urllib.parse import quote

from flask import Response

from service.api.http.blueprint import BARE_PDF, parts
from service.api.http.languages import in_spoken_language
from service.api.http.problems import Problem
from service.api.proofs.on_demand import finished_check, kept, made, tag_of, unchanged
from service.jobs.checking import sheet_of
from service.jobs.children.tasks import DrawingTask
from service.language.spoken import say, spoken
from service.language.wording import reason
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.wishes import WishesRefused
from service.sheets.model import SpecSheet
from service.store.models import CheckRow

Wishes = TypeVar("Wishes")
Brief = TypeVar("Brief")

PROOF_NOT_MADE = "proof-not-made"
PDF_HEADERS = {
    "ETag": {"schema": {"type": "string"}, "description": "Stays the same as long as the PDF does."},
    "Content-Digest": {"schema": {"type": "string"}, "description": "Of a PDF: `sha-256=:…:` (RFC 9530)."},
    "Content-Disposition": {"schema": {"type": "string"}, "description": "The name that a browser saves it under."},
}


def pdf_answer(
    check_id: str,
    draw: str,
    brief_for: Callable[[Sequence[Page], SpecSheet, Wishes], Brief | Unmeasured],
    wishes: Wishes,
    *,
    suffix: str,
    headers: Callable[[Brief], Mapping[str, str]] = lambda _: {},
) -> Response:
    """The PDF that the function `draw` ('module:function') makes by the brief; 304 where the caller has it. Raises `Problem`."""
    row, pages = finished_check(check_id, PROOF_NOT_MADE)
    try:
        brief = brief_for(pages, sheet_of(row), wishes)
    except WishesRefused as refused:
        mistakes = [(f"/{field}", sentence) for field, sentence in refused.mistakes]
        raise Problem("invalid-request", mistakes[0][1], errors=mistakes) from refused
    if isinstance(brief, Unmeasured):
        raise Problem(PROOF_NOT_MADE, reason(brief))
    tag = tag_of(row, draw, brief, spoken())
    if known := unchanged(tag):
        return in_spoken_language(known)
    answer = Response(_made(row, brief, draw), mimetype=BARE_PDF)
    answer.headers["Content-Disposition"] = saved_as(row.file_name, suffix)
    answer.headers.update(headers(brief))
    return kept(in_spoken_language(answer), tag)


def _made(row: CheckRow, brief: object, draw: str) -> bytes:
    pdf = made(DrawingTask(pdf=parts().blobs.path(row.id), brief=brief, draw=draw))
    if isinstance(pdf, Unmeasured):
        raise Problem(PROOF_NOT_MADE, reason(pdf))
    if not pdf.startswith(b"%PDF-"):
        detail = say("The drawing process was disturbed by this file, and its answer cannot be trusted.")
        raise Problem(PROOF_NOT_MADE, detail)
    return pdf


def saved_as(name: str | None, suffix: str, shown: Literal["attachment", "inline"] = "attachment") -> str:
    """A Content-Disposition: 'brochure-dummy.pdf', in plain letters and once more as it is (RFC 6266, RFC 8187)."""
    stem = re.sub(r"\.pdf$", "", name or "file", flags=re.IGNORECASE)
    full = re.sub(r'[\\/:*?"<>|]+', "-", stem).strip(". ")[:100] or "file"
    plain = unicodedata.normalize("NFKD", full).encode("ascii", "ignore").decode()
    plain = re.sub(r"[^A-Za-z0-9 ._()-]+", "-", plain).strip(". -") or "file"
    extended = f"; filename*=UTF-8''{quote(f'{full}-{suffix}.pdf', safe='')}" if plain != full else ""
    return f'{shown}; filename="{plain}-{suffix}.pdf"{extended}'
