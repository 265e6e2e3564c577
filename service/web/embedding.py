"""`/static/check-upload.js`: the upload for pages of other origins, such as a shop's ordering page. One file, and all of it."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, send_from_directory

_STATIC = Path(__file__).parent / "static"
_KEEP_SECONDS = 24 * 3600
"""A shop's page is loaded often, and this file changes with a version of the service only; after a day it is asked for anew."""

blueprint = Blueprint("embedding", __name__)


@blueprint.route("/static/check-upload.js")
def check_upload() -> Response:
    """Everybody may load it, as a module and with a digest (`integrity`) too: it is the same for all and holds no secret."""
    answer = send_from_directory(_STATIC, "check-upload.js", mimetype="text/javascript", max_age=_KEEP_SECONDS)
    answer.headers["Cross-Origin-Resource-Policy"] = "cross-origin"
    answer.headers["Access-Control-Allow-Origin"] = "*"
    return answer
