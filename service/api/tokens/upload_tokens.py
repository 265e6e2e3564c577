"""`/v1/upload-tokens`: the shop's own backend asks for a token, and its page uploads with it straight to the service."""

from __future__ import annotations

import json
import secrets
from datetime import timedelta
from typing import Any

import marshmallow as ma
from flask import Response, jsonify
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Length, Range

from service.answers.times import time_answer
from service.api.checks.check_shapes import SpecFacts
from service.api.checks.requests import LONGEST_SHEET, inline_sheet, order_text, stored_sheet
from service.api.http.blueprint import Blueprint, parts
from service.api.http.callers.access import caller, owner_and_hand
from service.api.http.problems import Problem
from service.api.http.shapes import Answer, or_null, says
from service.api.tokens.grants import LONGEST_TOKEN, Grant, signed
from service.api.tokens.origins import origin_mistake
from service.jobs.checking import now
from service.language.spoken import say
from service.sheets.format.lengths import NotAQuantity, bytes_text, parse_bytes
from service.sheets.format.writing import digest, sheet_to_document
from service.sheets.model import SpecSheet
from service.store.accounts.rows import UploadTokenRow

blueprint = Blueprint(
    "upload-tokens", __name__, url_prefix="/v1/upload-tokens", description="Uploads straight from a shop's page."
)

DEFAULT_SECONDS = 900
MOST_SECONDS = 3600
MOST_USES = 1000
"""Ours, no source."""


def _printable(text: str) -> None:
    """JSON can name half a character and a zero, which no database takes."""
    if not text.isprintable():
        raise ma.ValidationError(say("This holds characters that no id has."))


class _Size(fields.Field[int]):
    """Bytes, or a size with its unit."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> int:  # noqa: ARG002
        try:
            return parse_bytes(value)
        except NotAQuantity as error:
            raise ma.ValidationError(say("Write a size of one byte or more, such as '20 MB' or 20000000.")) from error


class _Origin(fields.String):
    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        text = super()._deserialize(value, attr, data, **kwargs)
        if mistake := origin_mistake(text):
            raise ma.ValidationError(mistake)
        return text


class _Sheet(fields.Field[str]):
    """As an object, or as text in YAML or JSON; handed on as text."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> str:  # noqa: ARG002
        text = value if isinstance(value, str) else json.dumps(value)
        if len(text) > LONGEST_SHEET:
            raise ma.ValidationError(say("This is longer than {kib} KiB.", kib=LONGEST_SHEET // 1024))
        return text


class UploadTokenForm(ma.Schema):
    spec = fields.String(
        validate=[Length(1, 200), _printable],
        metadata={"description": "Id of a stored sheet or of one's own; id@3 is its revision 3. The token keeps the revision."},
    )
    spec_sheet = _Sheet(
        metadata={
            "description": "Instead of `spec`: a whole sheet, as an object or as text. It travels in the token: keep a long one "
            "with POST /v1/specs and name it.",
            "type": ["object", "string"],
        }
    )
    order = fields.Dict(metadata={"description": "What only this order knows, as in a check."})
    maximum_size = _Size(
        metadata={
            "description": "The largest file, in bytes or such as '20 MB'. Left out: the most that the service takes.",
            "type": ["integer", "string"],
        }
    )
    origin = _Origin(
        required=True,
        metadata={"description": "Of the page that will upload, as browsers write it: https://shop.example or http://localhost:3000."},
    )
    valid_seconds = fields.Integer(
        strict=True,
        load_default=DEFAULT_SECONDS,
        validate=Range(1, MOST_SECONDS),
        metadata={"description": "How long an upload may begin."},
    )
    uses = fields.Integer(
        strict=True,
        load_default=None,
        allow_none=True,
        validate=Range(1, MOST_USES),
        metadata={
            "description": "How many files may be uploaded with it; what is repeated under its Idempotency-Key counts once. Left "
            "out: any number, until it expires."
        },
    )

    class Meta:
        unknown = ma.RAISE

    @ma.validates_schema
    def _one_sheet(self, data: dict[str, Any], **_: Any) -> None:
        if "spec" not in data and "spec_sheet" not in data:
            raise ma.ValidationError({"spec": [say("Name the sheet that is to judge the file, or send one as 'spec_sheet'.")]})
        if "spec" in data and "spec_sheet" in data:
            raise ma.ValidationError({"spec_sheet": [say("Send either 'spec' or 'spec_sheet'.")]})


class UploadTokenAnswer(Answer):
    id = fields.String(**says("For DELETE /v1/upload-tokens/{id}; it opens nothing."))
    token = fields.String(**says("For the form field `token` of an upload."))
    expires_at = fields.DateTime(**says("Until when an upload with it may begin."))
    spec = fields.Nested(SpecFacts, **says("The sheet that judges what is uploaded with it."))
    origin = fields.String(**says("The only origin whose pages may use it."))
    maximum_size_bytes = fields.Integer(**says("The largest file that it lets in."))
    uses = fields.Integer(**or_null("How many files may be uploaded with it; null: any number."))


@blueprint.route("")
class UploadTokensView(MethodView):
    @blueprint.needs("check")
    @blueprint.arguments(UploadTokenForm, location="json")
    @blueprint.response(201, UploadTokenAnswer, description="The token. It is shown once.")
    @blueprint.alt_response(413, "TOO_LARGE")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    def post(self, form: dict[str, Any]) -> Response:
        """Let a page of another origin upload. Only for the shop's own backend: keep this address from browsers."""
        sheet = stored_sheet(form["spec"]) if "spec" in form else inline_sheet(form["spec_sheet"])
        hand = owner_and_hand()
        grant = Grant(
            id=secrets.token_urlsafe(15),
            owner=hand.owner,
            spec=f"{sheet.id}@{sheet.revision}" if "spec" in form else None,
            sheet=None if "spec" in form else json.dumps(sheet_to_document(sheet), separators=(",", ":")),
            order=order_text(json.dumps(form["order"]), sheet) if "order" in form else None,
            origin=form["origin"],
            maximum_size_bytes=_maximum(form.get("maximum_size")),
            expires_at=(now() + timedelta(seconds=form["valid_seconds"])).replace(microsecond=0),
        )
        token = _token(grant)
        parts().upload_tokens.add(
            UploadTokenRow(
                id=grant.id, owner=grant.owner, key_prefix=caller().key_prefix, uses=form["uses"], used=0,
                expires_at=grant.expires_at,
            ),
            hand,
            now(),
        )
        answer = jsonify(_answer(token, grant, sheet, form["uses"]))
        answer.status_code = 201
        answer.headers["Cache-Control"] = "no-store"
        return answer


@blueprint.route("/<token_id>")
class UploadTokenView(MethodView):
    @blueprint.needs("check")
    @blueprint.response(204, description="Taken back: nothing more can be uploaded with it. What was stays.")
    @blueprint.alt_response(404, "NOT_FOUND")
    def delete(self, token_id: str) -> Response:
        """Take an upload token back."""
        if not parts().upload_tokens.revoke(token_id, owner_and_hand(), now()):
            raise Problem("token-not-found", say("There is no upload token of this id, or it has expired or was taken back."))
        return Response(status=204)


def _maximum(wished: int | None) -> int:
    most = parts().settings.maximum_upload_bytes
    if wished is not None and wished > most:
        detail = say("This service takes files of {most} at most.", most=bytes_text(most))
        raise Problem("invalid-request", detail, errors=[("/maximum_size", detail)])
    return most if wished is None else wished


def _token(grant: Grant) -> str:
    token = signed(grant, parts().token_secrets)
    if len(token) > LONGEST_TOKEN:
        detail = say("The sheet is too long to travel in a token. Keep it with POST /v1/specs and name it in 'spec'.")
        raise Problem("invalid-request", detail, errors=[("/spec_sheet", detail)])
    return token


def _answer(token: str, grant: Grant, sheet: SpecSheet, uses: int | None) -> dict[str, Any]:
    return {
        "id": grant.id,
        "token": token,
        "expires_at": time_answer(grant.expires_at),
        "spec": {"id": sheet.id, "revision": sheet.revision, "title": sheet.title, "digest": digest(sheet)},
        "origin": grant.origin,
        "maximum_size_bytes": grant.maximum_size_bytes,
        "uses": uses,
    }
