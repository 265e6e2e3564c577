"""A problem for whoever sent a plain form from a browser, or opened a report: one page with the sentence and what to do."""

from __future__ import annotations

from flask import Response, g, render_template, request

from service.answers.problems import PROBLEMS
from service.api.http.languages import in_spoken_language
from service.api.http.problems import Problem, response
from service.language.spoken import say, spoken

_UPLOADS = "/v1/checks"
OR_PAGE = "_OR_PAGE"
"""Ends the name of a described problem that may come as such a page."""


def note_wish(answer: object) -> None:
    """What the form says that it wants to be answered with."""
    g.wished_answer = answer


def answered(problem: Problem) -> Response:
    """As JSON, or as a page where a person waits for one."""
    return _page(problem) if _is_for_a_person(problem) else response(problem)


def _is_for_a_person(problem: Problem) -> bool:
    """Where the form itself cannot be read, nobody knows what it says; a browser's own header tells."""
    if not (request.method == "POST" and request.path == _UPLOADS) and not _is_no_report(problem):
        return False
    if "wished_answer" in g:
        return bool(g.wished_answer == "report")
    accepted = request.accept_mimetypes.best_match(("application/json", "text/html"), default="application/json")
    return accepted == "text/html"


def _is_no_report(problem: Problem) -> bool:
    """A report that somebody opened from a message, and that is not there."""
    is_report = request.path.startswith(f"{_UPLOADS}/") and request.path.endswith("/report")
    return is_report and request.method == "GET" and problem.code == "check-not-found"


def _page(problem: Problem) -> Response:
    kind = PROBLEMS[problem.code]
    details = [sentence for _, sentence in problem.errors] if len(problem.errors) > 1 else []
    said = {"title": say(kind.title), "detail": problem.detail, "details": details, "what_to_do": say(kind.what_to_do)}
    text = render_template("refused.html", **said, form=request.method == "POST", language=spoken(), say=say)
    answer = Response(text, kind.status, problem.headers, mimetype="text/html")
    answer.headers["Cache-Control"] = "no-store"
    return in_spoken_language(answer)
