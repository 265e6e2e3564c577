"""`/docs`: where to begin, and the reference in a viewer that comes with the service (`service/web/docs/viewer/README.md`)."""

from __future__ import annotations

import gzip
from functools import cache
from pathlib import Path

from flask import Blueprint, Response, request

from service.api.description.document import METHODS
from service.api.http.problems import Problem
from service.api.reference.openapi import called_address, description_here, service_version
from service.language.spoken import say
from service.web.docs.guides import GUIDES, REFERENCES
from service.web.pages import page_answer

_VIEWER = Path(__file__).parent / "viewer"
_FILES = {"swagger-ui-bundle.js": "text/javascript", "swagger-ui.css": "text/css", "LICENSE": "text/plain"}
_KEEP_SECONDS = 24 * 3600

blueprint = Blueprint("reference", __name__)


@blueprint.route("/docs")
def docs() -> Response:
    description = description_here()
    calls = [
        (group["name"], [(method.upper(), path, operation["summary"]) for method, path, operation in _calls(group["name"])])
        for group in description["tags"]
    ]
    return page_answer(
        "docs/reference.html",
        guides=GUIDES,
        references=REFERENCES,
        calls=calls,
        version=service_version(),
        address=called_address(),
    )


def _calls(group: str) -> list[tuple[str, str, dict[str, str]]]:
    paths = description_here()["paths"]
    return [
        (method, path, item[method]) for path, item in paths.items() for method in METHODS
        if method in item and group in item[method]["tags"]
    ]  # fmt: skip


@blueprint.route("/docs/viewer/<name>")
def viewer(name: str) -> Response:
    """Packed where the browser takes it: a quarter of what goes over a phone's line."""
    if name not in _FILES:
        raise Problem("not-found", say("There is nothing at {path}.", path=f"/docs/viewer/{name[:60]}"))
    packed = request.accept_encodings["gzip"] > 0
    answer = Response(_packed(name) if packed else (_VIEWER / name).read_bytes(), mimetype=_FILES[name])
    if packed:
        answer.headers["Content-Encoding"] = "gzip"
    answer.vary.add("Accept-Encoding")
    answer.headers["Cache-Control"] = f"public, max-age={_KEEP_SECONDS}"
    answer.add_etag()
    answer.make_conditional(request)
    return answer


@cache
def _packed(name: str) -> bytes:
    return gzip.compress((_VIEWER / name).read_bytes(), mtime=0)
