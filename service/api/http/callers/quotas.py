"""How much an account may still ask and send, and the headers that say so (draft-ietf-httpapi-ratelimit-headers-09).

Only callers with a key, or a token from one, are counted; in open mode nobody is.
"""

from __future__ import annotations

import logging

from flask import Flask, Response, g, request

from service.accounts.limits import Counted, Limits, Standing, policies
from service.api.http.blueprint import parts
from service.api.http.callers.access import caller
from service.api.http.problems import Problem
from service.door.holding import GOES_ON
from service.jobs.checking import now
from service.language.spoken import say
from service.language.wording import stored_size
from service.store.database import DatabaseAway

log = logging.getLogger(__name__)


def register(app: Flask) -> None:
    app.before_request(spend_request)
    app.after_request(_after)


def spend_request() -> None:
    """Raises `Problem` where it is one too many."""
    limits = caller().limits
    if limits is None or GOES_ON in request.environ:
        return
    try:
        standing = _spend(limits, "requests", 1, soon=True)
    except DatabaseAway:  # somebody writes for long: who only reads is not kept waiting for being counted
        log.warning("a request was not counted: the database is busy")
        return
    if standing.left < 0:
        wait = str(standing.seconds_left)
        detail = say(
            "{count} requests in a minute are what your account may send. Try again in {seconds} s.",
            count=limits.requests_per_minute, seconds=wait,
        )
        raise Problem("too-many-requests", detail, headers={"Retry-After": wait})


def spend_upload(size: int | None = None) -> None:
    """For a PDF, before it is kept. Raises `Problem` where it is more than the account may send or keep.

    `size`: of one that comes later, piece by piece; None: of this request's body.
    """
    size = (request.content_length or 0) if size is None else size
    hold_to_disk(size)
    limits = caller().limits
    if limits is None:
        return
    standing = _spend(limits, "bytes", size)
    if standing.left < 0:
        wait = str(standing.seconds_left)
        detail = say(
            "Your account may send {most} in a day, and this file would be more. Try again in {seconds} s.",
            most=stored_size(limits.bytes_per_day), seconds=wait,
        )
        raise Problem("bytes-spent", detail, headers={"Retry-After": wait})


def hold_to_disk(size: int) -> None:
    """Raises `Problem` where so many bytes more are more than the account may keep."""
    found = caller()
    limits, owner = found.limits, found.owner
    if limits is None or owner is None:
        return
    kept = parts().checks.kept_bytes(owner, now())
    if kept + size > limits.disk_bytes:
        detail = say(
            "Your account's checks hold {kept} of {most}. Delete checks that nobody needs, or wait until they expire.",
            kept=stored_size(kept), most=stored_size(limits.disk_bytes),
        )
        raise Problem("account-full", detail)


def _spend(limits: Limits, counted: Counted, amount: int, *, soon: bool = False) -> Standing:
    """What is left afterwards; less than nothing where nothing was spent."""
    policy, owner, time_now = policies(limits)[counted], caller().owner or "", now().timestamp()
    spent = parts().usage.spend(owner, policy, amount, time_now, soon=soon)
    left = spent or parts().usage.standing(owner, policy, time_now)
    g.setdefault("standings", {})[counted] = left
    return left if spent else Standing(policy, -1, left.seconds_left)


def _after(answer: Response) -> Response:
    found = g.get("caller")
    if found is None or found.limits is None:
        return answer
    own = policies(found.limits).values()
    answer.headers["RateLimit-Policy"] = ", ".join(
        f'"{one.counted}";q={one.quota};w={one.window_seconds}{_UNIT[one.counted]}' for one in own
    )
    standings: dict[Counted, Standing] = g.get("standings", {})
    if standings:
        answer.headers["RateLimit"] = ", ".join(
            f'"{name}";r={one.left};t={one.seconds_left}' for name, one in standings.items()
        )
    return answer


_UNIT: dict[Counted, str] = {"requests": "", "bytes": ';qu="content-bytes"'}
"""The draft's words; requests are what is meant where nothing is said."""
