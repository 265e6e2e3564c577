"""Answers that wait for something, or go on: by the door, without a thread for each (`service.door.holding`), or by this thread.

Another server than ours has no such door; there, and in tests, the thread waits.
"""

from __future__ import annotations

import time
from collections.abc import Iterator

from flask import Response, request

from service.door.holding import DOOR, LOOK_EVERY_SECONDS, Steps, Wishes

_WAS_HELD = "print_spec.was_held"
"""In the environment of a request that is asked anew: what it was before."""


def asked_anew() -> str | None:
    """Whether the caller has waited already: the method of what was asked."""
    method: str | None = request.environ.get(_WAS_HELD)
    return method


def waits(steps: Steps, path: str) -> bool:
    """Whether the door waits until the steps end, and then gets `path` for the caller; else it is over when this returns.

    Where too many wait it is over at once.
    """
    door = _door()
    if door is not None:
        again = {"REQUEST_METHOD": "HEAD" if request.method == "HEAD" else "GET", "PATH_INFO": path, _WAS_HELD: request.method}
        return door.wait(steps, {**again, "CONTENT_LENGTH": "0", "CONTENT_TYPE": ""})
    for _ in _timed(steps):
        pass
    return False


def going_on(begin: bytes, steps: Steps, mimetype: str) -> Response | None:
    """An answer that goes on as the steps do; None where too many do already."""
    door = _door()
    if door is None:
        return Response(_all(begin, steps), mimetype=mimetype)
    return Response(iter([begin]), mimetype=mimetype) if door.follow(steps) else None


def _door() -> Wishes | None:
    found = request.environ.get(DOOR)
    return found if isinstance(found, Wishes) else None


def _timed(steps: Steps) -> Iterator[bytes]:
    for piece in steps:
        yield piece
        time.sleep(LOOK_EVERY_SECONDS)


def _all(begin: bytes, steps: Steps) -> Iterator[bytes]:
    yield begin
    yield from (piece for piece in _timed(steps) if piece)
