"""Whether the service is well, and the problems that it answers with, as JSON and as plain HTML."""

from __future__ import annotations

import logging
import os
from pathlib import Path
from typing import Any

from flask import Blueprint as PlainBlueprint
from flask import Response, jsonify, render_template, request, send_from_directory
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import OneOf

from service.answers.problems import PROBLEMS
from service.api.http.blueprint import Blueprint, parts
from service.api.http.languages import in_spoken_language
from service.api.http.problems import Problem
from service.api.http.shapes import Answer, says
from service.jobs.children.confinement.walls import WALLS, offered
from service.jobs.queue import SILENT_AFTER
from service.language.spoken import say, spoken, to_say
from service.store.database import DatabaseError

log = logging.getLogger(__name__)

_TEMPLATES = Path(__file__).parent / "templates"

blueprint = Blueprint("service", __name__, description="The service itself.")
pages = PlainBlueprint("pages", __name__, template_folder="templates")
"""Pages for people, which the description leaves out."""


class HealthAnswer(Answer):
    status = fields.String(validate=OneOf(["ok"]), **says("'ok'."))


_NO_ROOM = to_say("The disk of the data folder is nearly full: no files are taken until there is room (PRINT_SPEC_FREE_SPACE).")


class ReadyAnswer(HealthAnswer):
    sandbox_lacks = fields.List(
        fields.String(validate=OneOf(WALLS)),
        **says("Walls around measuring processes that this kernel does not offer; empty where it offers all."),
    )


    places = fields.Integer(**says("Checks that all living workers may run at once; 0: none lives, and checks wait for one."))
    waiting = fields.Integer(**says("Checks that wait."))


class ProblemPage(Answer):
    type = fields.String(**says("Address of this page."))
    title = fields.String(**says("What kind of problem it is."))
    status = fields.Integer(**says("The HTTP status that it comes with."))
    what_to_do = fields.String(**says("What to do about it."))


class ProblemsPage(Answer):
    problems = fields.List(fields.Nested(ProblemPage), **says("Every problem that this service answers with."))


@blueprint.route("/healthz")
class HealthView(MethodView):
    @blueprint.needs(None)
    @blueprint.response(200, HealthAnswer)
    def get(self) -> Response:
        """Whether the process answers."""
        return jsonify(status="ok")


@blueprint.route("/readyz")
class ReadyView(MethodView):
    @blueprint.needs(None)
    @blueprint.response(200, ReadyAnswer)
    @blueprint.alt_response(503, "SERVICE_UNAVAILABLE")
    def get(self) -> Response:
        """Whether checks can be taken: the database answers and the data folder can be written."""
        try:
            ready = parts().checks.answers() and os.access(parts().settings.data, os.W_OK) and parts().blobs.answers()
            has_room = ready and parts().blobs.has_room()
            pace, waiting = parts().line.pace(SILENT_AFTER), parts().line.waiting()
        except (DatabaseError, OSError):
            log.exception("the database or the data folder does not answer")
            ready = has_room = False
        if not ready:
            detail = say("The database or the data folder cannot be used just now.")
            raise Problem("not-ready", detail, headers={"Retry-After": "5"})
        if not has_room:
            raise Problem("not-ready", say(_NO_ROOM), headers={"Retry-After": "60"})
        return jsonify(status="ok", sandbox_lacks=offered().lacks, places=pace.places if pace else 0, waiting=waiting)


@blueprint.route("/problems")
class ProblemsView(MethodView):
    @blueprint.needs(None)
    @blueprint.response(200, ProblemsPage)
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="text/html", success=True)
    def get(self) -> Response:
        """List every problem that this service answers with."""
        pages = [_problem_page(code) for code in PROBLEMS]
        return in_spoken_language(_html(pages) if _wants_html() else jsonify(problems=pages))


@blueprint.route("/problems/<slug>")
class ProblemView(MethodView):
    @blueprint.needs(None)
    @blueprint.response(200, ProblemPage)
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="text/html", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    def get(self, slug: str) -> Response:
        """Explain one problem."""
        if slug not in PROBLEMS:
            raise Problem("problem-not-found", say("This service has no problem of that name."))
        page = _problem_page(slug)
        return in_spoken_language(_html([page]) if _wants_html() else jsonify(page))


def _problem_page(code: str) -> dict[str, Any]:
    kind = PROBLEMS[code]
    return {"type": f"/problems/{code}", "title": say(kind.title), "status": kind.status, "what_to_do": say(kind.what_to_do)}


def _html(pages: list[dict[str, Any]]) -> Response:
    return Response(render_template("problems.html", problems=pages, language=spoken(), say=say), mimetype="text/html")


def _wants_html() -> bool:
    return request.accept_mimetypes.best_match(("application/json", "text/html"), default="application/json") == "text/html"


@pages.route("/docs/style.css")
def style() -> Response:
    return send_from_directory(_TEMPLATES, "style.css", mimetype="text/css")
