"""A problem for whoever sent a plain form from a browser, or opened a report: one page with the sentence and what to do."""

from __future__ import annotations

from typing import Any

from flask import Response, g, render_template, request

from service.answers.problems import PROBLEMS
from service.api.http.languages import in_spoken_language
from service.api.http.problems import OnPage, Problem, response
from service.language.spoken import say, spoken, to_say

_UPLOADS = "/v1/checks"
OR_PAGE = "_OR_PAGE"
"""Ends the name of a described problem that may come as such a page."""

_ON_PAGES = {
    "bad-request": OnPage(title=to_say("The form did not arrive whole"), what_to_do=""),
    "check-not-found": OnPage(
        what_to_do=to_say("The address is wrong, or the check was deleted, or its time is over. Send the PDF again.")
    ),
    "invalid-request": OnPage(title=to_say("Something in the form is missing or wrong"), what_to_do=""),
    "invalid-sheet": OnPage(what_to_do=""),
    "no-room": OnPage(what_to_do=""),
    "queue-full": OnPage(what_to_do=""),
    "stopping": OnPage(what_to_do=""),
    "too-large": OnPage(
        what_to_do=to_say("Send a smaller PDF: without embedded originals, hidden layers or pages that are not printed.")
    ),
    "too-many-requests": OnPage(what_to_do=""),
    "unknown-spec": OnPage(
        title=to_say("The form names a product that is not known here"),
        what_to_do=to_say("Choose the product again. If the form is on a shop's page, tell the shop which product you chose."),
    ),
}
"""What is said to programs elsewhere ('errors', headers, addresses) means nothing to a person at a form."""


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
    details = [sentence for _, sentence in problem.errors] if len(problem.errors) > 1 else []
    said = words_on_page(problem) | {"details": details, "form": request.method == "POST"}
    text = render_template("refused.html", **said, language=spoken(), say=say)
    answer = Response(text, PROBLEMS[problem.code].status, problem.headers, mimetype="text/html")
    answer.headers["Cache-Control"] = "no-store"
    return in_spoken_language(answer)


def words_on_page(problem: Problem) -> dict[str, Any]:
    """`title`, `detail` and `what_to_do` for a person: the problem's own words, else those of its kind. The last may be empty."""
    kind, own, usual = PROBLEMS[problem.code], problem.on_page, _ON_PAGES.get(problem.code, OnPage())
    title = own.title or say(usual.title or kind.title)
    what_to_do = own.what_to_do
    if what_to_do is None:
        to_do = kind.what_to_do if usual.what_to_do is None else usual.what_to_do
        what_to_do = say(to_do) if to_do else ""
    return {"title": title, "detail": own.detail or problem.detail, "what_to_do": what_to_do}
