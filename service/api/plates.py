"""`/v1/checks/{id}/pages/{page}/plates`: which ink lies where on a page, and how much.

Made on demand from the file of a finished check, in the sandbox. A plate that cannot be made of this file is a problem of its
own (422): there is no picture that could be the answer, the address is right, and asking again does not help.
"""

from __future__ import annotations

import hashlib
import logging
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import urlencode

from flask import Response, jsonify, request
from flask.views import MethodView

from service.api.blueprint import Blueprint, parts
from service.api.checks import found_check
from service.api.openapi import service_version
from service.api.plate_answers import PlatesAnswer, PlatesQuery, plate_steps, plates_answer
from service.api.problems import Problem
from service.api.spec_matches import busy
from service.api.words import nearest
from service.jobs.drawing_child import DrawingTask
from service.jobs.queue import QueueFull
from service.pdf.codec import measurements_from_json
from service.pdf.measurements import Page, Unmeasured
from service.proofs.plates_asked import LIST, PLATE, TOTAL_BLACK_PERCENT, PlatesAsked, asked_of, grey_png, told_from_json
from service.store.models import CheckRow

log = logging.getLogger(__name__)

T = TypeVar("T")

_MOST_NAMED = 20
"""Inks that a sentence lists."""

blueprint = Blueprint("plates", __name__, url_prefix="/v1/checks", description="Ink plates: which ink lies where on a page.")

_PAGE = {"in": "path", "name": "page", "required": True, "schema": {"type": "integer", "minimum": 1}, "description": "From 1."}
_INK = {"in": "path", "name": "ink", "required": True, "schema": {"type": "string"},
        "description": "Name of the ink; the list of plates has its address."}  # fmt: skip
_IF_NONE_MATCH = {"in": "header", "name": "If-None-Match", "schema": {"type": "string"}, "description": "An ETag from before."}
_ETAG = {"ETag": {"schema": {"type": "string"}, "description": "Stays the same as long as the plate does."}}
_SCALE = {"Plate-Black-Percent": {"schema": {"type": "number"}, "description": "How much ink black stands for; white is none."}}
_PNG = {"content_type": "image/png", "headers": {**_ETAG, **_SCALE}}


@blueprint.route("/<check_id>/pages/<page>/plates", parameters=[_PAGE, _IF_NONE_MATCH])
class PlatesView(MethodView):
    @blueprint.arguments(PlatesQuery, location="query")
    @blueprint.response(200, PlatesAnswer, headers=_ETAG)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def get(self, query: dict[str, Any], check_id: str, page: str) -> Response:
        """List the inks of a page, how much of each lies on it, and where their plates are."""
        row, measured = _measured(check_id, page)
        asked = _asked(measured, query)
        tag = _tag(row, asked, "list")
        if unchanged := _unchanged(tag):
            return unchanged
        told = _drawn(_file(row), asked, LIST, lambda data: told_from_json(data, asked.inks))
        check = f"/v1/checks/{row.id}"
        address = f"{check}/pages/{measured.number}/plates"
        answer = plates_answer(told, address, urlencode(query), check=check, page=measured.number, area=query["area"])
        return _kept(jsonify(answer), tag)


@blueprint.route("/<check_id>/pages/<page>/plates/total", parameters=[_PAGE, _IF_NONE_MATCH])
class TotalView(MethodView):
    @blueprint.arguments(PlatesQuery, location="query")
    @blueprint.response(200, {}, **_PNG, description="Grey; white is no ink, black 400 % or more, linear between.")
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def get(self, query: dict[str, Any], check_id: str, page: str) -> Response:
        """The map of total ink of a page: all its inks added."""
        row, measured = _measured(check_id, page)
        return _picture(row, _asked(measured, query), TOTAL_BLACK_PERCENT)


@blueprint.route("/<check_id>/pages/<page>/plates/<ink>", parameters=[_PAGE, _INK, _IF_NONE_MATCH])
class PlateView(MethodView):
    @blueprint.arguments(PlatesQuery, location="query")
    @blueprint.response(200, {}, **_PNG, description="Grey; white is no ink, black its full tint, linear between.")
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def get(self, query: dict[str, Any], check_id: str, page: str, ink: str) -> Response:
        """One ink's plate of a page."""
        row, measured = _measured(check_id, page)
        asked = _asked(measured, query)
        return _picture(row, asked.of(_named(ink, asked.inks)), 100)


# --- What is asked ------------------------------------------------------------------------------------------------------


def _measured(check_id: str, page: str) -> tuple[CheckRow, Page]:
    """The finished check and its page. Raises `Problem`."""
    row = found_check(check_id)
    if row.state in ("queued", "running"):
        detail = "The check is still waiting or running; its plates can be had once it is finished."
        raise Problem("check-not-finished", detail, headers={"Retry-After": "2"})
    if row.state != "finished" or not row.measurements:
        raise Problem("check-failed", "The check failed, so that nothing is known of the file's pages. Send the PDF again.")
    pages = measurements_from_json(row.measurements).pages
    if isinstance(pages, Unmeasured):
        raise Problem("plates-not-made", f"The file could not be measured. {pages.why}")
    found = pages[int(page) - 1 : int(page)] if re.fullmatch(r"[1-9]\d{0,8}", page) else ()
    if not found:
        has = "only page 1" if len(pages) == 1 else f"the pages 1 to {len(pages)}"
        raise Problem("page-not-found", f"The file has {has}, and no page '{page[:20]}'.")
    return row, found[0]


def _named(step: str, inks: tuple[str, ...]) -> str:
    """The ink that the last step of the address means. Raises `Problem`."""
    found = plate_steps(inks).get(step) or (step if step in inks else None)
    if found is None:
        near = nearest(step, inks)
        more = f" and {len(inks) - _MOST_NAMED} more" if len(inks) > _MOST_NAMED else ""
        there = f"Its inks are {', '.join(one[:60] for one in inks[:_MOST_NAMED])}{more}" if inks else "It has no ink at all"
        hint = f"; do you mean '{near}'?" if near else "."
        raise Problem("ink-not-found", f"The page has no ink '{step[:60]}'. {there}{hint}")
    return found


def _asked(page: Page, query: dict[str, Any]) -> PlatesAsked:
    asked = asked_of(page, query["area"], query["ppi"])
    if isinstance(asked, Unmeasured):
        raise Problem("plates-not-made", asked.why)
    return asked


# --- What is answered ---------------------------------------------------------------------------------------------------


def _picture(row: CheckRow, asked: PlatesAsked, black_percent: int) -> Response:
    tag = _tag(row, asked, "plate")
    if unchanged := _unchanged(tag):
        return unchanged
    answer = Response(_drawn(_file(row), asked, PLATE, grey_png), mimetype="image/png")
    answer.headers["Plate-Black-Percent"] = str(black_percent)
    return _kept(answer, tag)


def _file(row: CheckRow) -> Path:
    path = parts().blobs.path(row.id)
    if not path.is_file():
        raise _gone()
    return path


def _gone() -> Problem:
    return Problem("file-forgotten", "The check's result is kept, but its PDF is not: plates are made from it. Send it again.")


def _drawn(pdf: Path, asked: PlatesAsked, what: str, read: Callable[[bytes], T]) -> T:
    """What was drawn, once `read` has found it to be what ours would draw. Raises `Problem`."""
    try:
        drawn = parts().asking.drawn(DrawingTask(pdf=pdf, asked=asked, draw=what))
    except FileNotFoundError as error:  # forgotten just now
        raise _gone() from error
    except QueueFull as full:
        raise busy(full) from full
    if isinstance(drawn, Unmeasured):
        raise Problem("plates-not-made", f"Page {asked.page}: {drawn.why}")
    try:
        return read(drawn)
    except ValueError as error:
        log.warning("a drawing process sent what ours does not draw: %.300s", error)
        detail = f"Page {asked.page}: the drawing process was disturbed by this file, and its answer cannot be trusted."
        raise Problem("plates-not-made", detail) from error


def _tag(row: CheckRow, asked: PlatesAsked, kind: str) -> str:
    """The same file, question and version give the same plate: whoever has it need not have it made again."""
    return hashlib.sha256(f"{service_version()} {row.sha256} {kind} {asked!r}".encode()).hexdigest()[:32]


def _unchanged(tag: str) -> Response | None:
    return _kept(Response(status=304), tag) if request.if_none_match.contains_weak(tag) else None


def _kept(answer: Response, tag: str) -> Response:
    """Not by anybody in between, and not past the check: every use asks again, which costs no drawing."""
    answer.set_etag(tag, weak=True)
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer
