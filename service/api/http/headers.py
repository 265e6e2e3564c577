"""What every answer carries and every request leaves in the log."""

from __future__ import annotations

import logging
import re
import secrets
import time

from flask import Flask, Response, g, request
from werkzeug.http import parse_date

from service.api.http.timing import server_timing
from service.log_lines import REQUEST

log = logging.getLogger("service.access")

_PAGES = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
_ID = re.compile(r"[A-Za-z0-9._-]{1,64}")


def register(app: Flask) -> None:
    app.before_request(_before)
    app.after_request(_after)


_DATES = ("HTTP_IF_MODIFIED_SINCE", "HTTP_IF_UNMODIFIED_SINCE", "HTTP_IF_RANGE")


def _before() -> None:
    for header in _DATES:
        _without_absurd_date(header)
    sent = request.headers.get("X-Request-Id", "")
    g.request_id = sent if _ID.fullmatch(sent) else secrets.token_hex(8)
    g.started = time.monotonic()
    REQUEST.set(g.request_id)


def _without_absurd_date(header: str) -> None:
    """A date that is none is to be ignored (RFC 9110, 13.1.3); the library stumbles over a year of many digits."""
    try:
        parse_date(request.environ.get(header))
    except OverflowError:
        request.environ[header] = "no date"


def _after(answer: Response) -> Response:
    request_id = g.get("request_id", "-")
    answer.headers["X-Request-Id"] = request_id
    answer.headers.setdefault("X-Content-Type-Options", "nosniff")
    answer.headers.setdefault("Content-Security-Policy", _PAGES)
    answer.headers.setdefault("Referrer-Policy", "no-referrer")
    answer.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
    g.seconds = time.monotonic() - g.get("started", time.monotonic())
    if answer.status_code < 400:  # whoever is refused learns nothing of the work
        answer.headers["Server-Timing"] = server_timing(g.seconds)
    # The address as it is described, such as /v1/checks/<check_id>: an id is all that is needed to read a check.
    address = request.url_rule.rule if request.url_rule else "(no such address)"
    method = request.method[:10]
    facts = {"method": method, "route": address, "status": answer.status_code, "milliseconds": round(1000 * g.seconds)}
    log.info("%s %r %s %s %.0f ms", request_id, method, address, answer.status_code, 1000 * g.seconds, extra=facts)
    REQUEST.set("")
    return answer
