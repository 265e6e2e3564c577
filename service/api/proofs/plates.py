"""`/v1/checks/{id}/pages/{page}/plates`: which ink lies where on a page, and how much.

Made on demand from the file of a finished check, in the sandbox. A plate that cannot be made of this file is a problem of its
own (422): there is no picture that could be the answer, the address is right, and trying again does not help.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar
from urllib.parse import urlencode

from flask import Response, jsonify
from flask.views import MethodView

from service.answers.plates import plate_steps, plates_answer
from service.api.http.blueprint import IF_NONE_MATCH, Blueprint
from service.api.http.languages import in_spoken_language
from service.api.http.problems import Problem
from service.api.http.words import nearest
from service.api.proofs.on_demand import kept, on_demand, tag_of, unchanged
from service.api.proofs.page_drawings import PAGE, drawn, file_of, measured_page
from service.api.proofs.plate_shapes import PlateQuery, PlatesAnswer, PlatesQuery, TotalQuery
from service.jobs.checking import sheet_of
from service.jobs.children.tasks import DrawingTask
from service.language.spoken import say, spoken
from service.language.wording import first_few, reason
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.plates.brief import LIST, PLATE, PlatesBrief, plates_brief, read_plate, told_from_json
from service.proofs.plates.ink_scale_brief import TOTAL_BLACK_PERCENT, scale_for
from service.proofs.plates.wishes import PlatesWishes
from service.store.models import CheckRow

T = TypeVar("T")

_NOT_MADE = "plates-not-made"
_MOST_NAMED = 20
"""Inks that a sentence lists."""

blueprint = Blueprint("plates", __name__, url_prefix="/v1/checks", description="Ink plates: which ink lies where on a page.")

_INK = {"in": "path", "name": "ink", "required": True, "schema": {"type": "string"},
        "description": "Name of the ink; the list of plates has its address."}
_ETAG = {"ETag": {"schema": {"type": "string"}, "description": "Stays the same as long as the plate does."}}
_SCALE = {
    "Plate-Black-Percent": {"schema": {"type": "number"}, "description": "Of a grey plate: how much ink black is; white is none."}
}
_PNG = {"content_type": "image/png", "headers": {**_ETAG, **_SCALE}}


@blueprint.route("/<check_id>/pages/<page>/plates", parameters=[PAGE, IF_NONE_MATCH])
class PlatesView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(PlatesQuery, location="query")
    @blueprint.response(200, PlatesAnswer, headers=_ETAG)
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str, page: str) -> Response:
        """List the inks of a page, how much of each lies on it, and where their plates are."""
        row, measured = measured_page(check_id, page, _NOT_MADE)
        brief = _brief(measured, query)
        tag = tag_of(row, LIST, brief, spoken())
        if known := unchanged(tag):
            return in_spoken_language(known)
        told = _drawn(row, brief, LIST, lambda data: told_from_json(data, brief.inks))
        check = f"/v1/checks/{row.id}"
        address = f"{check}/pages/{measured.number}/plates"
        wished = urlencode({key: value for key, value in query.items() if key != "lang"})
        answer = plates_answer(told, address, wished, check=check, page=measured.number, area=query["area"])
        return in_spoken_language(kept(jsonify(answer), tag))


@blueprint.route("/<check_id>/pages/<page>/plates/total", parameters=[PAGE, IF_NONE_MATCH])
class TotalView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(TotalQuery, location="query")
    @blueprint.response(
        200, {}, **_PNG, description="Grey: white is no ink, black 400 % or more, linear between. Or in colours, with a scale."
    )
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str, page: str) -> Response:
        """The map of total ink of a page: all its inks added."""
        row, measured = measured_page(check_id, page, _NOT_MADE)
        brief = _brief(measured, query)
        if query["look"] == "scale":
            brief = brief.with_scale(scale_for(sheet_of(row), brief.inks))
        answer = _picture(row, brief, TOTAL_BLACK_PERCENT)
        return answer if brief.scale is None else in_spoken_language(answer)


@blueprint.route("/<check_id>/pages/<page>/plates/<ink>", parameters=[PAGE, _INK, IF_NONE_MATCH])
class PlateView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(PlateQuery, location="query")
    @blueprint.response(200, {}, **_PNG, description="White is no ink, black (or the ink's own colour) its full tint.")
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str, page: str, ink: str) -> Response:
        """One ink's plate of a page."""
        row, measured = measured_page(check_id, page, _NOT_MADE)
        brief = _brief(measured, query)
        return _picture(row, brief.of(_named(ink, brief.inks), query["look"]), 100)


# --- What is wished ------------------------------------------------------------------------------------------------------


def _named(step: str, inks: tuple[str, ...]) -> str:
    """The ink that the last step of the address means. Raises `Problem`."""
    found = plate_steps(inks).get(step) or (step if step in inks else None)
    if found is None:
        raise Problem("ink-not-found", _no_such_ink(step, inks))
    return found


def _no_such_ink(step: str, inks: tuple[str, ...]) -> str:
    ink = step[:60]
    if not inks:
        return say("The page has no ink '{ink}'. It has no ink at all.", ink=ink)
    names = [one[:60] for one in inks]
    there = first_few(names, _MOST_NAMED) if len(names) > _MOST_NAMED else ", ".join(names)
    if near := nearest(step, inks):
        return say("The page has no ink '{ink}'. Its inks are {inks}; do you mean '{near}'?", ink=ink, inks=there, near=near)
    return say("The page has no ink '{ink}'. Its inks are {inks}.", ink=ink, inks=there)


def _brief(page: Page, query: dict[str, Any]) -> PlatesBrief:
    brief = plates_brief(page, PlatesWishes(query["area"], query["ppi"]))
    if isinstance(brief, Unmeasured):
        raise Problem(_NOT_MADE, reason(brief))
    return brief


# --- What is answered ---------------------------------------------------------------------------------------------------


def _picture(row: CheckRow, brief: PlatesBrief, black_percent: int) -> Response:
    tag = tag_of(row, PLATE, brief)
    if known := unchanged(tag):
        return known
    answer = Response(_drawn(row, brief, PLATE, lambda data: read_plate(data, brief)), mimetype="image/png")
    if brief.look == "grey":
        answer.headers["Plate-Black-Percent"] = str(black_percent)
    return kept(answer, tag)


def _drawn(row: CheckRow, brief: PlatesBrief, what: str, read: Callable[[bytes], T]) -> T:
    return drawn(DrawingTask(pdf=file_of(row), brief=brief, draw=what), brief.page, read, _NOT_MADE)
