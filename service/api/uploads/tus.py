"""The words of tus 1.0.0 (tus.io/protocols/resumable-upload), a published protocol for uploads that go on where they broke off.

Of its extensions: creation, creation-with-upload, expiration, termination. Pieces are held to `Content-Digest` (RFC 9530) instead
of its own checksums. The IETF's draft on resumable uploads says the same in other headers, which change from draft to draft, and
few clients speak it; it may come beside this once it is a standard.
"""

from __future__ import annotations

import re
from base64 import b64decode
from collections.abc import Callable, Iterable
from typing import Any

from flask import Flask, Response, request

from service.api.http.blueprint import parts
from service.api.http.problems import Problem
from service.language.spoken import say

ADDRESS = "/v1/uploads"
VERSION = "1.0.0"
EXTENSIONS = "creation,creation-with-upload,expiration,termination"
ASKED_HEADERS = (
    "Tus-Resumable, Upload-Length, Upload-Offset, Upload-Metadata, Content-Type, Content-Digest, X-HTTP-Method-Override"
)
TOLD_HEADERS = "Upload-Offset, Upload-Length, Upload-Expires, Tus-Resumable, Tus-Version, Tus-Extension, Tus-Max-Size"
_KEY = re.compile(r"[\x21-\x2b\x2d-\x7e]{1,100}")
_OVERRIDDEN = ("PATCH", "DELETE")


def register(app: Flask) -> None:
    app.after_request(_after)
    app.wsgi_app = _overridden(app.wsgi_app)  # type: ignore[method-assign]


def hold_to_version() -> None:
    """A version that is not spoken here is refused; who names none is taken to speak this one."""
    named = request.headers.get("Tus-Resumable", VERSION)
    if named != VERSION:
        raise Problem("tus-version", say("This address speaks tus {version}.", version=VERSION), headers={"Tus-Version": VERSION})


def metadata() -> dict[str, str]:
    """What the client says of the file: names, and values in base64. Raises `Problem`."""
    found = {}
    for pair in filter(str.strip, request.headers.get("Upload-Metadata", "").split(",")):
        key, _, value = pair.strip().partition(" ")
        try:
            found[key] = b64decode(value.strip(), validate=True).decode("utf-8")
        except ValueError as error:
            raise _bad_metadata() from error
        if not _KEY.fullmatch(key):
            raise _bad_metadata()
    return found


def without_token() -> str | None:
    """The metadata as they were sent."""
    pairs = [one.strip() for one in request.headers.get("Upload-Metadata", "").split(",")]
    return ",".join(one for one in pairs if one and one.partition(" ")[0] != "token") or None


def _bad_metadata() -> Problem:
    return Problem("bad-request", say("Upload-Metadata holds pairs of a name and a value in base64, with commas between them."))


def _after(answer: Response) -> Response:
    if request.path == ADDRESS or request.path.startswith(f"{ADDRESS}/"):
        answer.headers["Tus-Resumable"] = VERSION
        if request.method == "OPTIONS":
            answer.headers["Tus-Version"] = VERSION
            answer.headers["Tus-Extension"] = EXTENSIONS
            answer.headers["Tus-Max-Size"] = str(parts().settings.maximum_upload_bytes)
    return answer


def _overridden(app: Callable[..., Iterable[bytes]]) -> Callable[..., Iterable[bytes]]:
    """`X-HTTP-Method-Override`, which the protocol asks for: some proxies let only GET and POST pass."""

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        wished = environ.get("HTTP_X_HTTP_METHOD_OVERRIDE", "")
        if wished in _OVERRIDDEN and environ["REQUEST_METHOD"] == "POST" and environ["PATH_INFO"].startswith(f"{ADDRESS}/"):
            environ["REQUEST_METHOD"] = wished
        return app(environ, start_response)

    return answer
