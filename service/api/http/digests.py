"""The digest of what is sent, both ways (RFC 9530, Content-Digest): a file that was changed on its way is noticed.

* A request that carries it is held to it before anything is read. Of what is not known here nothing is asked (RFC 9530, 2).
* PDFs carry it; other answers where `Want-Content-Digest` asks for it.

The digest is of the content as it is sent: of a form, all of the form.
"""

from __future__ import annotations

import hashlib
import io
import re
from base64 import b64decode, b64encode
from typing import Any

from flask import Flask, Response, request
from werkzeug.wsgi import get_input_stream

from service.api.http.problems import Problem
from service.door.bodies import NotTaken
from service.language.spoken import say

ALGORITHMS = {"sha-256": hashlib.sha256, "sha-512": hashlib.sha512}
"""Those that RFC 9530 (5) calls active."""
CONTENT_DIGEST = {
    "in": "header", "name": "Content-Digest", "schema": {"type": "string"},
    "description": "`sha-256=:…:` of the whole body, in base64 (RFC 9530). A body of another digest is refused (400).",
}
_PIECE_BYTES = 2**20
_MEMBER = re.compile(r"\s*([a-z*][a-z0-9_.*-]*)\s*=\s*:([A-Za-z0-9+/]*={0,2}):(?:;[^,]*)?\s*")
_WISH = re.compile(r"\s*([a-z*][a-z0-9_.*-]*)\s*(?:=\s*(\d{1,2}))?\s*")


def register(app: Flask) -> None:
    app.before_request(_before)
    app.after_request(_after)


def _before() -> None:
    sent = ",".join(request.headers.getlist("Content-Digest"))
    body: Any = request.environ["wsgi.input"]
    too_large = (request.content_length or 0) > (request.max_content_length or 0)
    if not sent or too_large or isinstance(body, NotTaken):  # what did not come whole is told by whoever reads it
        return
    if not hasattr(body, "seek"):  # of another server than ours
        body = io.BytesIO(get_input_stream(request.environ, max_content_length=request.max_content_length).read())
        request.environ["wsgi.input"] = body
    expected = _expected(sent)
    found = {name: ALGORITHMS[name]() for name in expected}
    while found and (piece := body.read(_PIECE_BYTES)):
        for one in found.values():
            one.update(piece)
    body.seek(0)
    wrong = [name for name, one in found.items() if one.digest() != expected[name]]
    if wrong:
        detail = say("The body that arrived does not have the {name} that Content-Digest names.", name=wrong[0])
        raise Problem("digest-mismatch", detail)


def _expected(sent: str) -> dict[str, bytes]:
    """By algorithm; those that are not known here are left out."""
    expected = {}
    for member in sent.split(","):
        found = _MEMBER.fullmatch(member)
        if found is None or len(found[2]) % 4:
            detail = say("Content-Digest cannot be read: write it as {example}.", example="sha-256=:base64:")
            raise Problem("bad-request", detail)
        if found[1] in ALGORITHMS:
            expected[found[1]] = b64decode(found[2])
    return expected


def _after(answer: Response) -> Response:
    name = _wished() or ("sha-256" if answer.mimetype == "application/pdf" else None)
    if name and answer.is_sequence and not answer.direct_passthrough and answer.status_code != 304:
        digest = ALGORITHMS[name](answer.get_data()).digest()
        answer.headers["Content-Digest"] = f"{name}=:{b64encode(digest).decode()}:"
    return answer


def _wished() -> str | None:
    """The known algorithm that the caller likes best; 0 is none that he wants (RFC 9530, 4)."""
    wishes: dict[str, int] = {}
    for member in ",".join(request.headers.getlist("Want-Content-Digest")).split(","):
        found = _WISH.fullmatch(member)
        if found and found[1] in ALGORITHMS and found[2]:
            wishes[found[1]] = int(found[2])
    best = max(wishes, key=lambda name: wishes[name], default=None)
    return best if best and wishes[best] else None
