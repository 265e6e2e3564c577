"""What the door answers by itself, where a request does not come as far as the application: problems as everywhere else."""

from __future__ import annotations

import json
from http import HTTPStatus

from gunicorn.http.errors import LimitRequestHeaders, LimitRequestLine, ParseException

from service.answers.problems import PROBLEMS, problem_answer
from service.language.spoken import say

_HEADERS = (
    "Content-Type: application/problem+json",
    "Cache-Control: no-store",
    "Content-Language: en",
    "Content-Security-Policy: default-src 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options: nosniff",
    "Connection: close",
)


def refusal(code: str, detail: str, retry_after_seconds: int | None = None) -> bytes:
    """The whole answer, after which the connection is closed."""
    status = HTTPStatus(PROBLEMS[code].status)
    body = json.dumps(problem_answer(code, detail), ensure_ascii=False).encode()
    retry = () if retry_after_seconds is None else (f"Retry-After: {retry_after_seconds}",)
    lines = (f"HTTP/1.1 {status.value} {status.phrase}", *_HEADERS, *retry, f"Content-Length: {len(body)}")
    return "\r\n".join((*lines, "", "")).encode() + body


def head_refused(error: ParseException) -> bytes:
    """What cannot be read as a request. What was sent is not said again."""
    if isinstance(error, LimitRequestLine):
        return refusal("address-too-long", say("The address of the request is longer than this service takes."))
    if isinstance(error, LimitRequestHeaders):
        return head_too_large()
    return refusal("bad-request", say("The request line or a header is not in the form that HTTP asks for."))


def head_too_large() -> bytes:
    return refusal("headers-too-large", say("The headers of the request are larger than this service takes."))


def head_too_slow() -> bytes:
    return refusal("too-slow", say("The request arrived too slowly and was given up. Send it again over a better connection."))


def stopping() -> bytes:
    return refusal("stopping", say("The service is being stopped. Send the request again in a moment."), 5)


def crowded() -> bytes:
    return refusal("crowded", say("Too many connections are open. Close some, or try again in a moment."), 10)
