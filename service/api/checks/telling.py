"""How a check is told over HTTP: now or once it is finished, whole or that nothing has changed; and how far it is, as events.

What a caller asks again and again costs little: an unchanged check is told by its tag alone, and whoever waits holds no thread.
"""

from __future__ import annotations

import hashlib
import json
import re
import time
from dataclasses import asdict

from flask import Response, jsonify, request

from service.api.checks.answer import check_answer
from service.api.http.blueprint import parts
from service.api.http.languages import in_spoken_language
from service.api.http.timing import note_time, timed
from service.api.http.waiting import asked_anew, waits
from service.api.reference.openapi import service_version
from service.door.holding import Steps
from service.jobs.watching import Watching
from service.language.spoken import spoken
from service.store.checks import OPEN, Stage
from service.store.database import DatabaseAway
from service.store.models import CheckRow

ASK_AGAIN_SECONDS = 1
_FIRST_MOMENT_SECONDS = 0.5
"""That the thread which took a file waits by itself: most checks are finished then."""
_EVENTS_SECONDS = 300.0
"""After which an event stream ends; whoever wants more comes back, as browsers do by themselves."""
_HEARTBEAT_SECONDS = 15.0

PREFER = {
    "in": "header", "name": "Prefer", "schema": {"type": "string"},
    "description": "`wait=10`: answer when the check is finished, or after so many seconds (RFC 7240).",
}
TAG = {"ETag": {"schema": {"type": "string"}, "description": "Stays the same as long as the check does."}}
NOT_YET = {
    "Retry-After": {"schema": {"type": "integer"}, "description": "Seconds until it is worth asking again."},
    "Preference-Applied": {"schema": {"type": "string"}, "description": "What was heeded of `Prefer`."},
}
LINKS = {
    "Link": {"schema": {"type": "string"},
             "description": "The report (`alternate`); while the check is not finished its events (`monitor`, RFC 5989)."},
}


def told(row: CheckRow) -> Response:
    """The check as it is; 304 where the caller has that."""
    done = row.state not in OPEN
    posted = asked_anew() == "POST" or request.method == "POST"
    tag = _tag(row)
    known = not posted and request.if_none_match.contains_weak(tag)
    answer = Response(status=304) if known else jsonify(check_answer(row))
    if posted:
        answer.status_code = 201 if done else 202
        answer.headers["Location"] = f"/v1/checks/{row.id}"
    answer.set_etag(tag, weak=True)
    answer.headers["Cache-Control"] = "no-store"
    answer.headers["Link"] = _links(row.id, done)
    applied = _applied(posted, done)
    if applied:
        answer.headers["Preference-Applied"] = applied
        answer.vary.add("Prefer")
    if not done:
        answer.headers["Retry-After"] = str(ASK_AGAIN_SECONDS)
    elif row.finished_at:
        note_time("check", (row.finished_at - row.created_at).total_seconds())
    return in_spoken_language(answer)


def _tag(row: CheckRow) -> str:
    """Of all that an answer hangs on."""
    facts = (service_version(), spoken(), row.id, row.state, row.stage, row.page, row.pages, row.verdict, row.problem,
             row.finished_at, row.expires_at, row.stored_as)  # fmt: skip
    return hashlib.sha256(repr(facts).encode()).hexdigest()[:32]


def _links(check_id: str, done: bool) -> str:
    report = f'</v1/checks/{check_id}/report>; rel="alternate"; type="text/html"'
    return report if done else f'{report}, </v1/checks/{check_id}/events>; rel="monitor"; type="text/event-stream"'


# --- Waiting ---------------------------------------------------------------------------------------------------------


def wait_after_sending(row: CheckRow) -> None:
    """As long as the caller and the service want to. Most checks are finished after a moment; the door waits for the others."""
    at_once, wished = _preference()
    most = parts().settings.wait_seconds if wished is None else wished
    if row.state not in OPEN or at_once:
        return
    began = time.monotonic()
    with timed("wait"):
        done = parts().queue.wait(row.id, min(most, _FIRST_MOMENT_SECONDS))
        left = most - (time.monotonic() - began)
        if left > 0 and not done:
            waits(_until_finished(parts().watching, row.id, left), f"/v1/checks/{row.id}")


def wait_while_asking(row: CheckRow) -> bool:
    """Where the caller wishes it. Whether the check may be another by now."""
    _, wished = _preference()
    if not wished or row.state not in OPEN or asked_anew():
        return False
    with timed("wait"):
        waits(_until_finished(parts().watching, row.id, wished), f"/v1/checks/{row.id}")
    return True


def _preference() -> tuple[bool, float | None]:
    """(answer at once, seconds to wait otherwise) from the header Prefer (RFC 7240); None: it says nothing of that."""
    wishes = [one.split(";")[0].strip().lower() for line in request.headers.getlist("Prefer") for one in line.split(",")]
    seconds = next((float(one[5:]) for one in wishes if re.fullmatch(r"wait=\d{1,6}", one)), None)
    # 'respond-async, wait=10': asynchronous only after ten seconds (RFC 7240, 4.3)
    at_once = "respond-async" in wishes and not any(one.startswith("wait=") for one in wishes)
    return at_once, None if seconds is None else min(seconds, parts().settings.wait_seconds)


def _applied(posted: bool, done: bool) -> str:
    at_once, wished = _preference()
    if wished is not None:
        return f"wait={wished:.0f}"
    return "respond-async" if posted and at_once and not done else ""


def _until_finished(watching: Watching, check_id: str, seconds: float) -> Steps:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        try:
            stage = watching.stage(check_id)
        except DatabaseAway:
            return
        if stage is None or stage.is_last:
            return
        yield b""


# --- Events ----------------------------------------------------------------------------------------------------------


def event(stage: Stage) -> bytes:
    """As a browser's EventSource reads it (WHATWG HTML, 9.2.6). The id says all that it says, so that nobody hears it twice."""
    kind = stage.state if stage.is_last else "progress"
    progress = None if stage.stage is None else {"stage": stage.stage, "page": stage.page, "pages": stage.pages}
    data = json.dumps({"state": stage.state, "verdict": stage.verdict, "progress": progress}, separators=(",", ":"))
    return f"event: {kind}\nid: {event_id(stage)}\ndata: {data}\n\n".encode()


def event_id(stage: Stage) -> str:
    return hashlib.sha256(repr(asdict(stage)).encode()).hexdigest()[:16]


def events(watching: Watching, check_id: str, first: Stage) -> Steps:
    """What changes after the first; a line of no meaning where nothing does, so that nobody in between cuts the connection."""
    said, until, said_at = first, time.monotonic() + _EVENTS_SECONDS, time.monotonic()
    while time.monotonic() < until and not said.is_last:
        try:
            stage = watching.stage(check_id)
        except DatabaseAway:
            return
        if stage is None:
            return
        if stage != said:
            said, said_at = stage, time.monotonic()
            yield event(stage)
        elif time.monotonic() - said_at > _HEARTBEAT_SECONDS:
            said_at = time.monotonic()
            yield b":\n\n"
        else:
            yield b""
