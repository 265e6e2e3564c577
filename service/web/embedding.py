"""The upload for pages of other origins: `/static/check-upload.js`, as a module (`.mjs`), and its types (`.d.ts`)."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, send_from_directory

_STATIC = Path(__file__).parent / "static"
_KEEP_SECONDS = 24 * 3600
"""A shop's page is loaded often, and this file changes with a version of the service only; after a day it is asked for anew."""
_KINDS = {"js": "text/javascript", "mjs": "text/javascript", "d.ts": "text/plain"}

blueprint = Blueprint("embedding", __name__)


@blueprint.route("/static/check-upload.js", defaults={"kind": "js"})
@blueprint.route("/static/check-upload.mjs", defaults={"kind": "mjs"})
@blueprint.route("/static/check-upload.d.ts", defaults={"kind": "d.ts"})
def check_upload(kind: str) -> Response:
    """Everybody may load it, as a module and with a digest (`integrity`) too: it is the same for all and holds no secret."""
    answer = send_from_directory(_STATIC, f"check-upload.{kind}", mimetype=_KINDS[kind], max_age=_KEEP_SECONDS)
    answer.headers["Cross-Origin-Resource-Policy"] = "cross-origin"
    answer.headers["Access-Control-Allow-Origin"] = "*"
    return answer
