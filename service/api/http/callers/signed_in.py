"""Who is signed in: a browser sends no key with a page, so it may have a cookie instead, for a while (RFC 6265).

* The cookie names the key's prefix and is signed; the key itself is in no cookie. It ends with its key, at once.
* No script can read it, no other site has it sent (SameSite=Strict); and where something is changed it is heard only from pages
  of this service, as the browser itself says, so that not even a neighbour below the same domain writes in somebody's name.
* A key in the header Authorization is heard instead of it.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Flask, Response, g, request
from itsdangerous import BadData, URLSafeTimedSerializer

from service.api.http.blueprint import parts
from service.setting_values import KEYS

COOKIE = "print-spec-signed-in"
SIGNED_IN_HOURS = 12
"""A working day. Ours, no source."""
_PURPOSE = "print-spec signed in 1"
_READING = ("GET", "HEAD", "OPTIONS")


def register(app: Flask) -> None:
    app.after_request(_after)


def sign_in(answer: Response, prefix: str) -> None:
    """With the key of this prefix, which the caller has just shown."""
    answer.set_cookie(
        COOKIE, _serializer().dumps(prefix), max_age=SIGNED_IN_HOURS * 3600, httponly=True, samesite="Strict",
        secure=request.is_secure,
    )  # fmt: skip


def sign_out(answer: Response) -> None:
    answer.delete_cookie(COOKIE, httponly=True, samesite="Strict", secure=request.is_secure)


def prefix_signed_in() -> str | None:
    """Of the key that the caller has signed in with; None where he has not, or must not be heard."""
    sent = request.cookies.get(COOKIE)
    if sent is None or not (request.method in _READING or is_from_here()):
        return None
    try:
        found = _serializer().loads(sent, max_age=SIGNED_IN_HOURS * 3600)
    except BadData:
        return None
    return found if isinstance(found, str) else None


def is_from_here() -> bool:
    """Whether a page of this service sent it, as the browser says and no page can (W3C Fetch Metadata; RFC 6454)."""
    site, origin = request.headers.get("Sec-Fetch-Site"), request.headers.get("Origin")
    if site is not None:
        return site in ("same-origin", "none")
    return origin is not None and urlsplit(origin).netloc == request.host


def _serializer() -> URLSafeTimedSerializer:
    return URLSafeTimedSerializer(list(reversed(parts().token_secrets)), _PURPOSE)  # there the last one signs


def _after(answer: Response) -> Response:
    """What somebody sees because he is signed in is kept by nothing on the way."""
    if parts().settings.access == KEYS and answer.mimetype == "text/html":
        answer.vary.add("Cookie")
    if g.get("is_signed_in"):
        answer.vary.add("Cookie")
        if not answer.cache_control.no_store:
            answer.headers["Cache-Control"] = "private, no-cache"
    return answer
