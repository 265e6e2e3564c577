"""`/v1/uploads`: announce a file, send it piece by piece, ask how much has come, take it back. `POST /v1/checks` names it."""

from __future__ import annotations

import hashlib
from typing import Any

from flask import Response, jsonify, request
from flask.views import MethodView
from marshmallow import fields
from werkzeug.http import http_date

from service.answers.times import time_answer
from service.api.http.blueprint import Blueprint, parts
from service.api.http.callers.access import owner, owner_and_hand
from service.api.http.callers.quotas import spend_request, spend_upload
from service.api.http.callers.senders import sender
from service.api.http.digests import CONTENT_DIGEST
from service.api.http.problems import Problem
from service.api.http.shapes import Answer, or_null, says
from service.api.http.uploads import NO_ROOM, too_large
from service.api.http.words import file_name
from service.api.tokens import cross_origin
from service.api.uploads.tus import VERSION, hold_to_version, metadata, without_token
from service.door.portions import PIECES_OF_AN_UPLOAD
from service.jobs.checking import now
from service.language.spoken import say
from service.store.accounts.upload_tokens import is_spent
from service.store.files.blobs import NoRoom, TooLarge
from service.store.files.uploads import Busy, Facts, OtherOffset, TooMany, Upload

blueprint = Blueprint(
    "uploads", __name__, url_prefix="/v1/uploads", description="Large files piece by piece; a broken line costs little (tus 1.0)."
)

_TUS = {
    "in": "header", "name": "Tus-Resumable", "schema": {"type": "string", "enum": [VERSION]},
    "description": "The version of the protocol; clients of tus send it.",
}
_TEXT = {"schema": {"type": "string"}}
_OFFSET = {"Upload-Offset": {"schema": {"type": "integer"}, "description": "How many bytes have come."}}
_EXPIRES = {"Upload-Expires": {**_TEXT, "description": "When it is forgotten unless more comes, or a check takes it."}}
_PIECE = {"content": {PIECES_OF_AN_UPLOAD: {"schema": {"type": "string", "format": "binary"}}}}
_ANNOUNCED = {
    "parameters": [
        _TUS,
        {"in": "header", "name": "Upload-Length", "required": True, "schema": {"type": "integer", "minimum": 0},
         "description": "Size of the file in bytes."},
        {"in": "header", "name": "Upload-Metadata", "schema": {"type": "string"},
         "description": "`filename` and its value in base64, a comma, more of the kind. A page of another origin sends a `token` "
         "of POST /v1/upload-tokens so."},
        CONTENT_DIGEST,
    ],
    "requestBody": {"description": "The first bytes, if you like.", "required": False, **_PIECE},
}  # fmt: skip
_ADDED = {
    "parameters": [
        _TUS,
        {"in": "header", "name": "Upload-Offset", "required": True, "schema": {"type": "integer", "minimum": 0},
         "description": "Where the piece begins: as many bytes as have come."},
        CONTENT_DIGEST,
    ],
    "requestBody": {"description": "The next bytes: all that are missing, or some.", "required": True, **_PIECE},
}  # fmt: skip


class UploadAnswer(Answer):
    id = fields.String(**says("For the field `upload` of POST /v1/checks; who knows it may add to it and take it back."))
    name = fields.String(**or_null("As the sender called it; text, never a path."))
    size_bytes = fields.Integer(**says("As it was announced."))
    received_bytes = fields.Integer(**says("How much has come."))
    expires_at = fields.DateTime(**says("When it is forgotten unless more comes, or a check takes it."))
    check = fields.String(**or_null("The check that has taken it."))


@blueprint.route("")
class UploadsView(MethodView):
    @blueprint.needs("check", unless="link")
    @blueprint.doc(**_ANNOUNCED)
    @blueprint.response(
        201, UploadAnswer, description="Send the file to Location.",
        headers={"Location": {**_TEXT, "description": "Address of the upload."}, **_OFFSET, **_EXPIRES},
    )
    @blueprint.alt_response(400, "BAD_REQUEST")
    @blueprint.alt_response(401, "UNAUTHORIZED")
    @blueprint.alt_response(403, "FORBIDDEN")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    @blueprint.alt_response(413, "TOO_LARGE")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    @blueprint.alt_response(507, "INSUFFICIENT_STORAGE")
    def post(self) -> Response:
        """Announce a file that will come piece by piece. OPTIONS says what is spoken, and how large a file may be."""
        hold_to_version()
        facts = _facts()
        try:
            upload = parts().uploads.announce(facts, now())
        except TooMany as error:
            detail = say("Too many uploads are on their way. Finish one, take one back with DELETE, or try again later.")
            raise Problem("too-many-uploads", detail, headers={"Retry-After": "60"}) from error
        except NoRoom as error:
            raise _no_room() from error
        offset = _add(upload, 0) if request.mimetype == PIECES_OF_AN_UPLOAD else 0
        answer = jsonify(_answer(upload, offset))
        answer.status_code = 201
        answer.headers["Location"] = f"/v1/uploads/{upload.id}"
        return _with_state(answer, upload, offset)


@blueprint.route("/<upload_id>")
class UploadView(MethodView):
    @blueprint.needs("check", unless="link")
    @blueprint.doc(parameters=[_TUS])
    @blueprint.response(
        200, UploadAnswer, description="How much has come.",
        headers={**_OFFSET, **_EXPIRES, "Upload-Length": {"schema": {"type": "integer"}, "description": "As it was announced."}},
    )
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    def get(self, upload_id: str) -> Response:
        """Ask how much of a file has come. HEAD gives the headers alone, as clients of tus ask."""
        upload = _found(upload_id)
        answer = _with_state(jsonify(_answer(upload, upload.offset)), upload, upload.offset)
        answer.headers["Upload-Length"] = str(upload.facts.length)
        if upload.facts.metadata:
            answer.headers["Upload-Metadata"] = upload.facts.metadata
        return answer

    @blueprint.needs("check", unless="link")
    @blueprint.doc(**_ADDED)
    @blueprint.response(204, description="The bytes are here.", headers={**_OFFSET, **_EXPIRES})
    @blueprint.alt_response(400, "BAD_REQUEST")
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    @blueprint.alt_response(413, "TOO_LARGE")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(507, "INSUFFICIENT_STORAGE")
    def patch(self, upload_id: str) -> Response:
        """Send the next bytes of a file. What came before the line broke stays: ask how much, and go on from there."""
        upload = _found(upload_id)
        if request.mimetype != PIECES_OF_AN_UPLOAD:
            detail = say("This address takes a body of the type {kind}.", kind=PIECES_OF_AN_UPLOAD)
            raise Problem("unsupported-media-type", detail)
        offset = _add(upload, _number("Upload-Offset"))
        return _with_state(Response(status=204), upload, offset)

    @blueprint.needs("check", unless="link")
    @blueprint.doc(parameters=[_TUS])
    @blueprint.response(204, description="Forgotten, with all that had come.")
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    def delete(self, upload_id: str) -> Response:
        """Take an upload back. A check that has taken it already is not touched."""
        parts().uploads.forget(_found(upload_id).id)
        return Response(status=204)


def _facts() -> Facts:
    said = metadata()
    token = said.get("token")
    cross_origin.note_token(token)
    grant = cross_origin.grant_of(token) if token else None
    if grant:
        spend_request()
        row = parts().upload_tokens.get(grant.id, now())
        if row is None or is_spent(row):
            raise cross_origin.token_spent()
    length, most = _number("Upload-Length"), parts().settings.maximum_upload_bytes
    most = min(most, grant.maximum_size_bytes) if grant else most
    if length > most:
        raise too_large(most, "/upload")
    spend_upload(length)
    return Facts(
        length=length,
        owner=owner_and_hand().owner,
        sender=hashlib.sha256(sender().encode()).hexdigest(),
        name=file_name(said.get("filename")),
        origin=grant.origin if grant else None,
        metadata=without_token(),
    )


def _number(header: str) -> int:
    text = request.headers.get(header, "")
    if not (text.isascii() and text.isdigit() and len(text) < 16):
        raise Problem("bad-request", say("The header {name} is missing, or no number of bytes.", name=header))
    return int(text)


def _found(upload_id: str) -> Upload:
    hold_to_version()
    upload = parts().uploads.get(upload_id, now())
    if upload is None or not _may_see(upload.facts):
        raise Problem("upload-not-found", say("There is no upload of this id, or it was forgotten meanwhile. Begin a new one."))
    cross_origin.let_read(upload.facts.origin)
    return upload


def _may_see(facts: Facts) -> bool:
    """A page that uploads with a token has no key: to it the id is enough, as it is for reading the check."""
    return owner() == facts.owner or (owner() is None and facts.origin is not None)


def _add(upload: Upload, offset: int) -> int:
    try:
        return parts().uploads.add(upload, offset, request.stream, now())
    except OtherOffset as error:
        detail = say("So far {count} bytes have come: go on from there.", count=error.offset)
        raise Problem("upload-offset", detail, headers={"Upload-Offset": str(error.offset)}) from error
    except Busy as error:
        detail = say("Another piece of this upload is just being written. Ask how much has come, and go on from there.")
        raise Problem("upload-offset", detail, headers={"Retry-After": "1"}) from error
    except TooLarge as error:
        raise Problem("too-large", say("More came than was announced in Upload-Length.")) from error
    except NoRoom as error:
        raise _no_room() from error
    except FileNotFoundError as error:  # taken or forgotten just now
        raise Problem("upload-offset", say("The file has come whole, and a check has taken it.")) from error


def _no_room() -> Problem:
    return Problem("no-room", say(NO_ROOM), headers={"Retry-After": "60"})


def _answer(upload: Upload, offset: int) -> dict[str, Any]:
    return {
        "id": upload.id,
        "name": upload.facts.name,
        "size_bytes": upload.facts.length,
        "received_bytes": offset,
        "expires_at": time_answer(upload.expires_at),
        "check": upload.facts.check,
    }


def _with_state(answer: Response, upload: Upload, offset: int) -> Response:
    answer.headers["Upload-Offset"] = str(offset)
    answer.headers["Upload-Expires"] = http_date(upload.expires_at)
    answer.headers["Cache-Control"] = "no-store"
    return answer
