"""Who may read an answer from another origin: the page that an upload token was made for, and nobody else.

* An upload that carries a token is answered readably, its problems too, where the token is right and the page is the token's.
* A check that came in this way can be asked for from there.
* A browser asks first (OPTIONS) whether a page may upload and watch the progress. It asks without the token, so each page is told
  yes; the upload itself decides.

None allows credentials: the cookie of whoever is signed in (`service.api.http.callers.signed_in`) is no other origin's to send.
"""

from __future__ import annotations

from flask import Flask, Response, g, request

from service.api.http.blueprint import parts
from service.api.http.callers.access import act_for, key_missing, owner
from service.api.http.problems import Problem
from service.api.tokens.grants import Grant, read_grant
from service.api.tokens.origins import LONGEST_ORIGIN, origin_mistake
from service.api.uploads import tus
from service.jobs.checking import now
from service.language.spoken import say

_CHECKS = "/v1/checks"
_HEADERS_OF_A_CHECK = "Idempotency-Key, Prefer"
_HEADERS_OF_AN_ANSWER = f"Location, Retry-After, {tus.TOLD_HEADERS}"
_METHODS_OF_AN_UPLOAD = ("HEAD", "PATCH", "DELETE", "POST")
_ASK_AGAIN_SECONDS = 600
_UNAUTHORIZED = {"WWW-Authenticate": "Upload-Token"}
"""RFC 9110, 15.5.2: an answer 401 names a way to be let in. The name is ours; browsers ask nobody for it."""


def register(app: Flask) -> None:
    app.after_request(_after)


def let_read(origin: str | None) -> None:
    """The answer to this request may be read by pages of that origin."""
    if origin:
        g.depends_on_origin = True
        g.readable_from = origin if request.headers.get("Origin") == origin else None


def note_token(token: object) -> None:
    """Before anything of a form is refused: the page whose token is right may read what is refused. Raises `Problem`."""
    grant = read_grant(token, parts().token_secrets) if isinstance(token, str) else None
    if grant:
        let_read(grant.origin)
    elif owner() is None and token is None:
        raise key_missing()


def grant_of(token: str) -> Grant:
    """What the token allows to the page that sends it. Raises `Problem`."""
    grant = read_grant(token, parts().token_secrets)
    if grant is None:
        detail = say("This is no upload token of this service, or it was changed on its way. Ask the shop's page for a new one.")
        raise Problem("token-invalid", detail, errors=[("/token", detail)], headers=_UNAUTHORIZED)
    sender = request.headers.get("Origin")
    if sender != grant.origin:
        detail = _elsewhere(sender, grant.origin)
        raise Problem("token-origin", detail, errors=[("/token", detail)])
    if grant.expires_at <= now():
        detail = say("The upload token has expired. Load the shop's page again and choose the file once more.")
        raise Problem("token-expired", detail, errors=[("/token", detail)], headers=_UNAUTHORIZED)
    act_for(grant.owner, f"upload token {grant.id}")
    return grant


def token_spent() -> Problem:
    detail = say("The upload token was used up or taken back. Load the shop's page again and choose the file once more.")
    return Problem("token-spent", detail, errors=[("/token", detail)], headers=_UNAUTHORIZED)


def _elsewhere(sender: str | None, origin: str) -> str:
    if sender is None:
        return say(
            "The upload token is for pages of {origin}, and the request does not say which page sent it: it needs the header "
            "Origin, which browsers send by themselves. A program needs no token.",
            origin=origin,
        )
    if sender == "null":
        return say(
            "The upload token is for pages of {origin}, and the browser withholds which page sent the request, as in a "
            "sandboxed frame, or for a form on a page with 'Referrer-Policy: no-referrer'.",
            origin=origin,
        )
    return say("The upload token is for pages of {origin}, and {sender} sent it.", origin=origin, sender=sender[:LONGEST_ORIGIN])


def _after(answer: Response) -> Response:
    origin = g.get("readable_from")
    if origin:
        answer.headers["Access-Control-Expose-Headers"] = _HEADERS_OF_AN_ANSWER
    elif asked := _asks_to_upload():
        origin = request.headers["Origin"]
        answer.headers["Access-Control-Allow-Methods"], answer.headers["Access-Control-Allow-Headers"] = asked
        answer.headers["Access-Control-Max-Age"] = str(_ASK_AGAIN_SECONDS)
    if origin:
        answer.headers["Access-Control-Allow-Origin"] = origin
    if origin or g.get("depends_on_origin"):
        answer.vary.add("Origin")
    return answer


def _asks_to_upload() -> tuple[str, str] | None:
    """(methods, headers) where a browser asks before a page's upload (CORS preflight, WHATWG Fetch 3.3.2)."""
    if request.method != "OPTIONS" or origin_mistake(request.headers.get("Origin", "")) is not None:
        return None
    wished = request.headers.get("Access-Control-Request-Method")
    if request.path == _CHECKS and wished == "POST":
        return "POST", _HEADERS_OF_A_CHECK
    if request.path == tus.ADDRESS and wished == "POST":
        return "POST", tus.ASKED_HEADERS
    if request.path.startswith(f"{tus.ADDRESS}/") and wished in _METHODS_OF_AN_UPLOAD:
        return ", ".join(_METHODS_OF_AN_UPLOAD), tus.ASKED_HEADERS
    return None
