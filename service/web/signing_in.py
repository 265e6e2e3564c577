"""`/sign-in`: a key shown once, for pages that a browser asks for without one; `/sign-out`."""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Blueprint, Response, g, request

from service.accounts.keys import LONGEST_SENT, digest_of
from service.api.http.blueprint import parts
from service.api.http.callers.signed_in import SIGNED_IN_HOURS, is_from_here, sign_in, sign_out
from service.jobs.checking import now
from service.language.spoken import say
from service.setting_values import KEYS
from service.web.pages import page_answer

blueprint = Blueprint("signing_in", __name__, template_folder="templates")
_START = "/"


@blueprint.app_template_global()
def asks_for_keys() -> bool:
    return parts().settings.access == KEYS


@blueprint.app_template_global()
def signed_in_as() -> str | None:
    """The account, for the head of every page."""
    found = g.get("caller")
    return found.owner if found and asks_for_keys() else None


@blueprint.route("/sign-in", methods=["GET", "POST"])
def enter() -> Response:
    """Shown a right key, on to the page that somebody came from."""
    if not asks_for_keys():
        return _to(_START)
    if request.method == "GET":
        return _form("")
    key = request.form.get("key", "").strip()[:LONGEST_SENT]
    found = parts().accounts.by_digest(digest_of(key), now()) if is_from_here() else None
    if found is None:
        return _form(say("This is no key of this service, or it was turned off."), 422)
    answer = _to(_next())
    sign_in(answer, found.prefix)
    return answer


@blueprint.route("/sign-out", methods=["POST"])
def leave() -> Response:
    answer = _to(_START)
    if is_from_here():
        sign_out(answer)
    return answer


def _form(problem: str, status: int = 200) -> Response:
    answer = page_answer("web/sign_in.html", problem=problem, hours=SIGNED_IN_HOURS, next=_next())
    answer.status_code = status
    answer.headers["Cache-Control"] = "no-store"
    return answer


def _next() -> str:
    """Where somebody wanted to go: a page of this service, and nothing that a browser takes for another's address."""
    wished = request.values.get("next", _START)[:500]
    parts_of = urlsplit(wished)
    is_ours = wished.startswith("/") and not wished.startswith(("//", "/\\")) and not (parts_of.scheme or parts_of.netloc)
    return wished if is_ours and wished.isprintable() else _START


def _to(address: str) -> Response:
    return Response(status=303, headers={"Location": address, "Cache-Control": "no-store"})
