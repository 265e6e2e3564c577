"""`/v1/checks/{id}/events`: how far a check is, told as it goes (Server-Sent Events), instead of being asked again and again."""

from __future__ import annotations

from flask import Response, request
from flask.views import MethodView

from service.api.checks.kept_checks import found_check
from service.api.checks.telling import event, event_id, events
from service.api.http.blueprint import Blueprint, parts
from service.api.http.problems import Problem
from service.api.http.waiting import going_on
from service.api.tokens import cross_origin
from service.language.spoken import say
from service.store.checks import Stage

EVENTS = "text/event-stream"
_BEGIN = b"retry: 2000\n\n"
"""Milliseconds after which a browser comes back where the connection broke."""

blueprint = Blueprint("events", __name__, url_prefix="/v1/checks", description="How far a check is, told as it goes.")

_DOC = {
    "parameters": [
        {"in": "header", "name": "Last-Event-ID", "schema": {"type": "string"},
         "description": "What was heard last; browsers send it when they come back. It is not told again."},
    ],
}
_EXAMPLE = (
    "event: progress\nid: 5f0c1c1d3a0e8a44\n"
    'data: {"state":"running","verdict":null,"progress":{"stage":"pages","page":3,"pages":12}}\n\n'
    "event: finished\nid: 90b8c2a4d5f6e711\n"
    'data: {"state":"finished","verdict":"conforming","progress":null}\n\n'
)


@blueprint.route("/<check_id>/events")
class EventsView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.doc(**_DOC)
    @blueprint.response(
        200, {"type": "string"}, content_type=EVENTS, example=_EXAMPLE,
        description="Events `progress`, and at the end `finished` or `failed`, each with state, verdict and progress as in the "
        "check. Ask for the check then. Lines that begin with a colon keep the connection open. It ends after five minutes.",
    )
    @blueprint.alt_response(204, description="The caller has heard the end already, and need not come back.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(503, "SERVICE_UNAVAILABLE")
    def get(self, check_id: str) -> Response:
        """Hear how far a check is until it is finished (Server-Sent Events)."""
        row = found_check(check_id)
        cross_origin.let_read(row.origin)
        stage = Stage(row.state, row.stage, row.page, row.pages, row.verdict)
        heard = request.headers.get("Last-Event-ID") == event_id(stage)
        if heard and stage.is_last:
            return Response(status=204)
        begin = _BEGIN if heard else _BEGIN + event(stage)
        if stage.is_last or request.method == "HEAD":
            answer: Response | None = Response(begin, mimetype=EVENTS)
        else:
            answer = going_on(begin, events(parts().watching, row.id, stage), EVENTS)
        if answer is None:
            detail = say("Too many callers listen just now. Ask for the check instead.")
            raise Problem("crowded", detail, headers={"Retry-After": "10"})
        answer.headers["Cache-Control"] = "no-store"
        answer.headers["X-Accel-Buffering"] = "no"  # a proxy in front passes on what comes
        return answer
